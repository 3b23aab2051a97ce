import type { Day } from '../../../trade/dates.ts'
import type { FollowUpKindId } from '../../../trade/follow-ups/kind.ts'
import { surgeHasFailed } from '../../../trade/follow-ups/equipment-dates.ts'
import { FOLLOW_UP_KINDS } from '../../../trade/follow-ups/kinds.ts'
import type { Calendar } from './calendar.ts'
import type { Device, MadeUpHome } from './company.ts'

/** One due date of one device, and what became of it. */
export interface Watched {
  home: MadeUpHome
  kind: FollowUpKindId
  subjectId: string
  dueOn: Day
  /** From when on it was on record as due on that day, at the latest: a visit that rests it starts the count anew. */
  from: Date
  /** A message or a recorded reason. */
  metAt: Date | null
  isResting: boolean
}

/**
 * Walks the devices themselves, never the follow-ups, and says which due dates there are: a planner that forgot one
 * cannot hide it.
 */
export function datesOfHome(home: MadeUpHome): Pick<Watched, 'kind' | 'subjectId' | 'dueOn'>[] {
  if (home.archived) return []
  const wantsTips = home.contact !== null && home.contact.tipsSince !== null
  return home.devices.flatMap(({ equipment, dates: { replaceBy, nextCheckOn, assumed } }) => {
    const about = (kind: FollowUpKindId, dueOn: Day | null) =>
      dueOn ? [{ kind, subjectId: equipment.id, dueOn }] : []
    if (equipment.retiredOn) return []
    if (equipment.kind === 'alarm') {
      const isUndated = assumed && !equipment.manufacturedOn
      return [
        ...about(isUndated ? 'alarm-undated' : 'alarm-end-of-life', replaceBy),
        ...(wantsTips ? about('alarm-battery', nextCheckOn) : []),
      ]
    }
    if (equipment.kind !== 'surge-protector') return []
    return surgeHasFailed(equipment) ? about('surge-failed', replaceBy) : about('surge-check', nextCheckOn)
  })
}

/** Whether a smoke alarm's end, as kept, is what the calendar that watches makes of NFPA 72-2013 §14.4.7.1: ten years from
 *  manufacture, or the maker's shorter life. True for everything that this does not speak of. */
export function isRightEnd({ equipment, dates }: Device, { addYears }: Calendar): boolean {
  if (equipment.kind !== 'alarm' || equipment.retiredOn || !equipment.manufacturedOn) return true
  const { senses, buttonTest, makerLifeYears } = equipment.details
  if (senses !== 'smoke' || buttonTest === 'silent') return true
  const years = Math.min(10, makerLifeYears ?? 10)
  return addYears(equipment.manufacturedOn, years) === dates.replaceBy
}

/** A due date of "now" keeps the day on which the cause was first noticed, so one follow-up speaks for all of them. */
export const keepsFirst = (kind: FollowUpKindId) => FOLLOW_UP_KINDS[kind].keepsFirstDueOn
