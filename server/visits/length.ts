import type { Day } from '../../trade/dates.ts'
import { inspectionMinutes } from '../../trade/planning/time-on-site.ts'
import { USUAL_MINUTES, type VisitKind } from '../../trade/visits.ts'
import type { Db } from '../db.ts'
import { findSiteFacts } from './store.ts'

const LONGEST_MINUTES = 1440

/** Minutes to plan for a visit when nobody said: by the size and age of the home for an inspection. */
export async function usualLength(db: Db, today: Day, propertyId: string, kind: VisitKind): Promise<number> {
  if (kind !== 'inspection') return USUAL_MINUTES[kind]
  const { spaces, bedrooms, panels, yearBuilt } = await findSiteFacts(db, propertyId)
  const { minutes } = inspectionMinutes({
    // No spaces at all: nobody has counted the bedrooms, which is another thing than a home without any.
    bedrooms: spaces > 0 ? bedrooms : null,
    panels: panels > 0 ? panels : null,
    ageYears: yearBuilt === null ? null : Number(today.slice(0, 4)) - yearBuilt,
  })
  return Math.min(minutes, LONGEST_MINUTES)
}
