import { ESTIMATE_STEPS, type EstimateStep } from '../../trade/estimates/states.ts'
import { audit } from '../audit/store.ts'
import type { Ctx } from '../ctx.ts'
import type { Db } from '../db.ts'
import { Problem } from '../errors.ts'
import { planFollowUps } from '../follow-ups/service.ts'
import { refusalOf } from '../messages/refusal.ts'
import { planMessage } from '../messages/service.ts'
import { findReceiver } from '../messages/store.ts'
import { fromDay } from '../time.ts'
import { changedMeanwhile } from '../versions.ts'
import { checkCustomer, checkLines, checkOffer, seenEstimate } from './checks.ts'
import { moveFindings, releaseFindings } from './findings-store.ts'
import type { ChangeEstimateBody, EstimateView, LineBody } from './schema.ts'
import * as store from './store.ts'

/** What the office writes into a draft, or puts right in one that was sent: its page shows it so from then on. */
export function changeEstimate(
  ctx: Ctx,
  id: string,
  seen: number,
  { lines, expiresOn, ...change }: ChangeEstimateBody,
): Promise<EstimateView> {
  return ctx.db.$transaction(async (tx) => {
    const before = await seenEstimate(tx, id, seen, 'change')
    if (change.customerId && change.customerId !== before.customerId) {
      if (before.state !== 'draft') {
        throw new Problem(
          'wrong-state',
          `It was sent to ${before.customerName}; copy it to offer it to somebody else.`,
        )
      }
      await checkCustomer(tx, before.propertyId, change.customerId)
    }
    if (lines) await checkLines(tx, before, lines)
    const columns = { ...change, ...(expiresOn !== undefined && { expiresOn: fromDay(expiresOn) }) }
    const after = await write(ctx, tx, before, 'change', columns, lines)
    if (after.state === 'sent') {
      checkOffer(after, ctx.today(after.timeZone), findingsOf(before))
      await offer(ctx, tx, before, after)
    }
    return store.getEstimate(tx, id)
  })
}

/** To the customer, by a letter whose page is theirs alone. Its findings are on an estimate from now on. */
export async function sendEstimate(ctx: Ctx, id: string, seen: number): Promise<EstimateView> {
  const { after, messageId } = await ctx.db.$transaction(async (tx) => {
    const before = await seenEstimate(tx, id, seen, 'send')
    checkOffer(before, ctx.today(before.timeZone))
    await checkReceiver(tx, before)
    await write(ctx, tx, before, 'send', { state: 'sent', sentAt: ctx.now() })
    await offer(ctx, tx, null, before)
    const messageId = await planMessage(ctx, tx, {
      kind: 'estimate-sent',
      category: 'report',
      customerId: before.customerId,
      propertyId: before.propertyId,
      dedupeKey: `estimate-sent-${id}`,
      context: { estimateId: id },
      reason: `Estimate ${before.number} was sent.`,
    })
    return { after: await store.getEstimate(tx, id), messageId }
  })
  if (messageId) await ctx.enqueue('send-message', { messageId })
  return after
}

/** No longer offered; its page says so, and what it offered is open again. */
export function withdrawEstimate(ctx: Ctx, id: string, seen: number): Promise<EstimateView> {
  return ctx.db.$transaction(async (tx) => {
    const before = await seenEstimate(tx, id, seen, 'withdraw')
    await write(ctx, tx, before, 'withdraw', { state: 'withdrawn' })
    await releaseFindings(tx, findingsOf(before), ctx.now())
    await planFollowUps(ctx, tx, before.propertyId)
    return store.getEstimate(tx, id)
  })
}

export const findingsOf = ({ lines }: EstimateView) => [
  ...new Set(lines.flatMap(({ finding }) => finding?.id ?? [])),
]

/** Findings that came onto it are on an estimate; those that were taken out are open again. */
async function offer(ctx: Ctx, tx: Db, before: EstimateView | null, after: EstimateView): Promise<void> {
  const [then, now] = [before ? findingsOf(before) : [], findingsOf(after)]
  const added = now.filter((id) => !then.includes(id))
  const left = then.filter((id) => !now.includes(id))
  if (added.length > 0) await moveFindings(tx, added, ['open', 'declined'], 'on-estimate', ctx.now())
  if (left.length > 0) await releaseFindings(tx, left, ctx.now())
  await planFollowUps(ctx, tx, after.propertyId)
}

async function write(
  ctx: Ctx,
  tx: Db,
  before: EstimateView,
  step: EstimateStep,
  change: Parameters<typeof store.updateEstimate>[3],
  lines?: readonly LineBody[],
): Promise<EstimateView> {
  const guard = { version: before.version, states: ESTIMATE_STEPS[step].from }
  if (!(await store.updateEstimate(tx, before.id, guard, { ...change, updatedAt: ctx.now() })))
    throw changedMeanwhile(before.version, await store.getEstimate(tx, before.id))
  if (lines) await store.replaceLines(tx, before.id, lines)
  const after = await store.getEstimate(tx, before.id)
  const subject = { subjectKind: 'estimate', subjectId: before.id }
  await audit(ctx, tx, { action: `estimate.${step}`, ...subject, before, after })
  return after
}

async function checkReceiver(tx: Db, { customerId, customerName }: EstimateView): Promise<void> {
  const receiver = await findReceiver(tx, customerId, 'report')
  const refusal = receiver && refusalOf(receiver, 'report')
  if (!receiver || refusal) {
    throw new Problem('wrong-state', `It cannot be sent to ${customerName}. ${refusal ?? ''}`.trim())
  }
}
