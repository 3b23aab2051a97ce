import { audit } from '../audit/store.ts'
import type { Ctx } from '../ctx.ts'
import type { Db } from '../db.ts'
import type { PayloadOf } from '../field/operation-schema.ts'
import * as findings from './finding-store.ts'
import { checkReachable } from './findings.ts'
import { checkSignature } from './signature-hash.ts'
import { updateInspection } from './store.ts'
import { type Effect, type Writing, writtenElsewhere } from './writing.ts'

const SUBJECT = 'work-declined'

/**
 * The customer does not want the offered work now. Signed once for the inspection: signed again, the later one stands
 * and the earlier one stays in the audit. The findings themselves stay open.
 */
export async function declineWork(
  ctx: Ctx,
  tx: Db,
  writing: Writing,
  { findingIds, signature }: PayloadOf<'decline-work'>,
): Promise<Effect> {
  const { inspection } = writing
  for (const id of findingIds) checkReachable(inspection, await findings.getFinding(tx, id))
  checkSignature(signature)
  const before = inspection.workDeclined
  const elsewhere =
    before && (await writtenElsewhere(ctx, tx, { ...writing, base: null }, SUBJECT, { version: 1 }))
  await updateInspection(tx, inspection.id, ctx.now(), { workDeclined: { findingIds, ...signature } })
  const { drawing: _, ...words } = signature
  await audit(ctx, tx, {
    action: 'inspection.decline-work',
    subjectKind: 'inspection',
    subjectId: inspection.id,
    before: before && { name: before['name'], at: before['at'], statement: before['statement'] },
    after: { findingIds, ...words },
  })
  return {
    subject: SUBJECT,
    version: null,
    superseded: elsewhere && before ? { kind: SUBJECT, record: before, by: elsewhere.by } : null,
  }
}
