import { createHash } from 'node:crypto'
import type { Prisma } from '../../prisma/generated/client.ts'
import { isTaken } from '../../trade/estimates/options.ts'
import { audit } from '../audit/store.ts'
import type { Ctx } from '../ctx.ts'
import type { Db } from '../db.ts'
import { planFollowUps } from '../follow-ups/service.ts'
import { createRequest } from '../requests/service.ts'
import { changedMeanwhile } from '../versions.ts'
import { declineFindings, moveFindings, setRefusal } from './findings-store.ts'
import type { EstimateView, LineView, SignatureView } from './schema.ts'
import * as store from './store.ts'

/** What the customer decided, and the words that they put their name under. */
export interface Decision {
  state: 'accepted' | 'declined'
  /** Options that are taken; of one that is declined, none. */
  chosen: readonly string[]
  name: string
  reason?: string
  statement: string
}

/** Lines that the customer takes by that decision, and those that stay undone. */
export function split(lines: readonly LineView[], { state, chosen }: Pick<Decision, 'state' | 'chosen'>) {
  const taken = state === 'accepted' ? lines.filter((line) => isTaken(line, chosen)) : []
  return { taken, left: lines.filter((line) => !taken.includes(line)) }
}

/** Findings among lines that the customer decides about, each once: those that are settled elsewhere are not. */
export function findingsAmong(lines: readonly LineView[]): NonNullable<LineView['finding']>[] {
  const open = lines.flatMap(({ finding }) =>
    finding && ['open', 'on-estimate', 'declined'].includes(finding.state) ? [finding] : [],
  )
  return [...new Map(open.map((finding) => [finding.id, finding])).values()]
}

/** What would stay unsafe by that decision: nothing that another line puts right. */
export function staysUnsafe(estimate: EstimateView, decision: Pick<Decision, 'state' | 'chosen'>) {
  const { taken, left } = split(estimate.lines, decision)
  const corrected = findingsAmong(taken).map(({ id }) => id)
  return findingsAmong(left).filter(({ id, severity }) => severity === 'unsafe' && !corrected.includes(id))
}

/**
 * An answer to the version that the customer saw, in the caller's transaction. Findings go with their lines; what is
 * unsafe and stays so is kept as refused; for what was accepted a repair waits for a day.
 * @throws Problem changed-meanwhile when it is another version by now, or was answered
 */
export async function decideEstimate(
  ctx: Ctx,
  tx: Db,
  estimate: EstimateView,
  decision: Decision,
): Promise<void> {
  const { id, number, version } = estimate
  const { state, chosen } = decision
  const now = ctx.now()
  const signature = signatureOf(ctx, decision)
  const change = {
    state,
    decidedAt: now,
    updatedAt: now,
    signature: signature as unknown as Prisma.InputJsonObject,
  }
  if (!(await store.updateEstimate(tx, id, { version, states: ['sent'] }, change)))
    throw changedMeanwhile(version, await store.getEstimate(tx, id))
  await store.decideLines(tx, id, state === 'accepted' ? ['', ...chosen] : [])
  const { taken, left } = split(estimate.lines, decision)
  const accepted = findingsAmong(taken).map((finding) => finding.id)
  const others = findingsAmong(left).filter((finding) => !accepted.includes(finding.id))
  await moveFindings(tx, accepted, ['open', 'on-estimate', 'declined'], 'accepted', now)
  const declined = await declineFindings(
    tx,
    others.map((finding) => finding.id),
    now,
  )
  const { name, statement, statementHash } = signature
  for (const finding of staysUnsafe(estimate, decision)) {
    if (!declined.includes(finding.id)) continue
    await setRefusal(tx, finding.id, { name, at: now.toISOString(), statement, statementHash }, now)
  }
  const action = `estimate.${state === 'accepted' ? 'accept' : 'decline'}`
  await audit(ctx, tx, {
    action,
    subjectKind: 'estimate',
    subjectId: id,
    before: { state: estimate.state, version },
    after: { state, chosen, name, statement, address: signature.address, accepted, declined },
  })
  if (state === 'accepted') {
    await createRequest(ctx, tx, {
      id,
      customerId: estimate.customerId,
      propertyId: estimate.propertyId,
      kind: 'repair',
      reason: `Estimate ${number} was accepted`,
      preferredDays: [],
      preferredTime: '',
      note: taken
        .map(({ description }) => description)
        .join('; ')
        .slice(0, 2000),
      source: 'private-link',
    })
  }
  await planFollowUps(ctx, tx, estimate.propertyId)
}

const signatureOf = (ctx: Ctx, { name, reason, statement }: Decision): SignatureView => ({
  name,
  address: ctx.ip,
  statement,
  statementHash: createHash('sha256').update(statement).digest('hex'),
  ...(reason && { reason }),
})
