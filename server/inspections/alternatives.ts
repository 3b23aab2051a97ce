import { theUser } from '../accounts/service.ts'
import type { Ctx } from '../ctx.ts'
import type { Db } from '../db.ts'
import { insertAlternative } from './alternative-store.ts'
import type { Effect } from './writing.ts'

/**
 * Keeps what an operation replaced unseen, under the operation's own id: nothing that somebody recorded is dropped in
 * silence. Another device's start of the same inspection is no choice for anybody.
 */
export async function offerOther(
  ctx: Ctx,
  tx: Db,
  inspectionId: string,
  operationId: string,
  { subject, superseded }: Pick<Effect, 'subject' | 'superseded'>,
): Promise<void> {
  if (!superseded || superseded.kind === 'inspection') return
  const { kind, record, by } = superseded
  const now = ctx.now()
  const answeredAt = record['answeredAt'] as string | undefined
  await insertAlternative(tx, {
    id: operationId,
    inspectionId,
    subject,
    kind,
    record,
    recordedById: (record['answeredById'] as string | undefined) ?? by?.userId ?? null,
    recordedAt: answeredAt ? new Date(answeredAt) : (by?.at ?? now),
    replacedById: theUser(ctx).id,
    replacedAt: now,
  })
}
