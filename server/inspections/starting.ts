import { CHECKLIST } from '../../trade/checklist/checklist.ts'
import { maySeeVisit } from '../../trade/permissions.ts'
import { theUser } from '../accounts/service.ts'
import { audit } from '../audit/store.ts'
import type { Ctx } from '../ctx.ts'
import type { Db } from '../db.ts'
import { Problem } from '../errors.ts'
import * as store from './store.ts'
import { believable } from './writing.ts'

const MS_PER_DAY = 86_400_000

/**
 * Begins the inspection of a visit. A visit has one: begun again, from another device or with another id, the one there
 * is is given. A visit that was called off is inspected all the same when its technician stands in the home; the office
 * sees both.
 * @param at when the device says that it was; a day before the visit or earlier, its clock is taken to be wrong
 */
export async function beginInspection(
  ctx: Ctx,
  tx: Db,
  { id, visitId, at }: { id: string; visitId: string; at: Date },
): Promise<store.Inspection> {
  const visit = await store.getVisitToInspect(tx, visitId)
  if (!maySeeVisit(theUser(ctx), visit)) {
    throw new Problem('not-allowed', 'This visit is someone else’s; ask the office to give it to you.')
  }
  const isNew = await store.insertInspection(tx, {
    id,
    visitId,
    propertyId: visit.propertyId,
    technicianId: visit.technicianId,
    checklistVersion: CHECKLIST.version,
    startedAt: believable(at, ctx.now(), new Date(visit.startsAt.getTime() - MS_PER_DAY)),
  })
  const inspection = await store.findInspectionOfVisit(tx, visitId)
  if (!inspection)
    throw new Problem('already-exists', 'An inspection of another visit has that id; make a new one.')
  if (isNew) {
    await audit(ctx, tx, {
      action: 'inspection.start',
      subjectKind: 'inspection',
      subjectId: inspection.id,
      after: { visitId, propertyId: visit.propertyId },
    })
  }
  return inspection
}
