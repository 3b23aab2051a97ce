import { createHash } from 'node:crypto'
import type { Prisma } from '../../prisma/generated/client.ts'
import type { Language } from '../../trade/day-in-words.ts'
import { type Choice, findingsAmong, split, staysUnsafe } from '../../trade/estimates/decision.ts'
import {
  acceptanceStatement,
  refusedStatement,
  type Signed,
  type ToldWay,
} from '../../trade/estimates/statement.ts'
import { ESTIMATE_STEPS } from '../../trade/estimates/states.ts'
import { audit } from '../audit/store.ts'
import type { Ctx } from '../ctx.ts'
import type { Db } from '../db.ts'
import { planFollowUps } from '../follow-ups/service.ts'
import { addressOf } from '../properties/address.ts'
import { createRequest } from '../requests/service.ts'
import { changedMeanwhile } from '../versions.ts'
import { declineFindings, moveFindings, setRefusal } from './findings-store.ts'
import type { EstimateView, SignatureView } from './schema.ts'
import * as store from './store.ts'

/** What the customer decided, and the words that they put their name under. */
export interface Decision extends Choice {
  name: string
  reason?: string
  statement: string
  /** Where nobody signed: how they said it, and to whom at the office. */
  told?: { how: ToldWay; to: string }
}

/** The words that stand for a decision: they are shown before it, and kept with it. */
export function statementOf(
  estimate: EstimateView,
  decision: Choice,
  company: string,
  language: Language,
): string {
  const signed: Signed = {
    number: estimate.number,
    version: estimate.version,
    company,
    address: addressOf(estimate),
    lines: estimate.lines,
    unsafe: staysUnsafe(estimate.lines, decision).map(({ text }) => text),
  }
  return decision.state === 'accepted'
    ? acceptanceStatement(signed, decision.chosen, language)
    : refusedStatement(signed, language)
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
  const step = decision.told ? 'record' : state === 'accepted' ? 'accept' : 'decline'
  if (!(await store.updateEstimate(tx, id, { version, states: ESTIMATE_STEPS[step].from }, change)))
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
  for (const finding of staysUnsafe(estimate.lines, decision)) {
    if (!declined.includes(finding.id)) continue
    await setRefusal(tx, finding.id, { name, at: now.toISOString(), statement, statementHash }, now)
  }
  const action = `estimate.${state === 'accepted' ? 'accept' : 'decline'}`
  await audit(ctx, tx, {
    action,
    subjectKind: 'estimate',
    subjectId: id,
    before: { state: estimate.state, version },
    after: {
      state,
      chosen,
      name,
      statement,
      address: signature.address,
      told: decision.told,
      accepted,
      declined,
    },
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
      source: decision.told ? 'phone' : 'private-link',
    })
  }
  await planFollowUps(ctx, tx, estimate.propertyId)
}

const signatureOf = (ctx: Ctx, { name, reason, statement, told }: Decision): SignatureView => ({
  name,
  address: told ? null : ctx.ip,
  statement,
  statementHash: createHash('sha256').update(statement).digest('hex'),
  ...(reason && { reason }),
  ...(told && { told }),
})
