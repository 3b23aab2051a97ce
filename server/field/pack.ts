import { createHash } from 'node:crypto'
import { addDays } from '../../trade/dates.ts'
import { isOffice } from '../../trade/permissions.ts'
import { theUser } from '../accounts/service.ts'
import type { Ctx } from '../ctx.ts'
import { invalid } from '../errors.ts'
import { type HomeRecord, listHomes } from '../inspections/home-store.ts'
import { listUnclosed, listWritten, type Written } from '../inspections/record-store.ts'
import type { FindingView } from '../inspections/record-schema.ts'
import { CHECKLIST_VERSION, recordView, shownHome } from '../inspections/service.ts'
import { type Inspection, listInspectionsById } from '../inspections/store.ts'
import { getCompany } from '../settings/store.ts'
import { dayBounds } from '../time.ts'
import type { PackQuery, PackView, PackVisit } from './pack-schema.ts'
import * as store from './pack-store.ts'

/** How many earlier inspections of a home go along. */
const HISTORY_EACH = 5

/** Everything for some days of one technician, in a handful of statements however many visits there are. */
export async function readPack(ctx: Ctx, query: PackQuery): Promise<PackView> {
  const company = await getCompany(ctx.db)
  const technician = await whose(ctx, query)
  const day = query.day ?? ctx.today(company.timeZone)
  const { from } = dayBounds(day, company.timeZone)
  const { to } = dayBounds(addDays(day, query.days - 1), company.timeZone)
  const visits = await store.listVisits(ctx.db, technician.id, from, to)
  return {
    serverTime: ctx.now().toISOString(),
    day,
    days: query.days,
    checklistVersion: CHECKLIST_VERSION,
    company: { name: company.name, phone: company.phone, timeZone: company.timeZone },
    technician,
    visits: await packVisits(ctx, visits),
  }
}

/** A technician takes their own days along; the office may look at anyone's. */
async function whose(ctx: Ctx, query: PackQuery): Promise<{ id: string; name: string }> {
  const user = theUser(ctx)
  if (!isOffice(user) || !query.technicianId) return { id: user.id, name: user.name }
  const technician = await store.findTechnician(ctx.db, query.technicianId)
  if (!technician) throw invalid({ pointer: '?technicianId', detail: 'there is no such person' })
  return technician
}

async function packVisits(ctx: Ctx, visits: readonly store.PackedVisit[]): Promise<PackVisit[]> {
  const propertyIds = [...new Set(visits.map((visit) => visit.propertyId))]
  const inspectionIds = visits.flatMap((visit) => visit.inspections.map(({ id }) => id))
  const [homes, unclosed, history, inspections, written] = [
    await listHomes(ctx.db, propertyIds),
    await listUnclosed(ctx.db, propertyIds),
    await store.listHistory(ctx.db, propertyIds, HISTORY_EACH),
    await listInspectionsById(ctx.db, inspectionIds),
    await listWritten(ctx.db, inspectionIds),
  ]
  return visits.map((visit) => {
    const inspection = inspections.find((each) => each.visitId === visit.id) ?? null
    const packed = packOne(visit, homes.get(visit.propertyId)!, {
      inspection,
      written: inspection && written.get(inspection.id)!,
      carried: unclosed.filter(
        (finding) => finding.propertyId === visit.propertyId && finding.inspectionId !== inspection?.id,
      ),
      history: history.flatMap(({ propertyId, ...each }) =>
        propertyId === visit.propertyId && each.inspectionId !== inspection?.id ? [each] : [],
      ),
    })
    return { etag: etagOf(packed), ...packed }
  })
}

function packOne(
  visit: store.PackedVisit,
  home: HomeRecord,
  more: {
    inspection: Inspection | null
    written: Written | null
    carried: FindingView[]
    history: PackVisit['history']
  },
): Omit<PackVisit, 'etag'> {
  const { inspection, written, carried, history } = more
  return {
    id: visit.id,
    version: visit.version,
    kind: visit.kind,
    state: visit.state,
    windowStartsAt: visit.windowStartsAt.toISOString(),
    windowEndsAt: visit.windowEndsAt.toISOString(),
    startsAt: visit.startsAt.toISOString(),
    endsAt: visit.endsAt.toISOString(),
    note: visit.note,
    travelStartedAt: visit.travelStartedAt?.toISOString() ?? null,
    arrivedAt: visit.arrivedAt?.toISOString() ?? null,
    finishedAt: visit.finishedAt?.toISOString() ?? null,
    customer: visit.customer,
    ...shownHome(home),
    carried,
    history,
    inspection: inspection && written && recordView(inspection, written),
  }
}

const etagOf = (packed: Omit<PackVisit, 'etag'>) =>
  createHash('sha256').update(JSON.stringify(packed)).digest('base64url').slice(0, 22)
