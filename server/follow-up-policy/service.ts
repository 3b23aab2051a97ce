import { addDays, addMonths, type Day } from '../../trade/dates.ts'
import { FOLLOW_UP_KIND_IDS, type FollowUpKindId } from '../../trade/follow-ups/kind.ts'
import { FOLLOW_UP_KINDS } from '../../trade/follow-ups/kinds.ts'
import {
  cadenceOf,
  DEFAULT_POLICY,
  type Policy,
  type PolicyChanges,
  policyWith,
} from '../../trade/follow-ups/policy.ts'
import { SEVERITIES } from '../../trade/verdict.ts'
import { audit } from '../audit/store.ts'
import type { Ctx } from '../ctx.ts'
import { Problem } from '../errors.ts'
import { isConfirmed, numberToConfirm } from '../follow-ups/many-messages.ts'
import { intervalsOf } from '../follow-ups/redate.ts'
import { getCompany, updateCompany } from '../settings/store.ts'
import { changedMeanwhile } from '../versions.ts'
import { forecast } from './forecast-store.ts'
import type { PolicyChangesBody, PolicyView, PreviewView } from './schema.ts'
import { simulateBoth } from './simulated.ts'
import { countHomes, listPolicyChanges, lookAgain } from './store.ts'

export async function readPolicy(ctx: Ctx): Promise<PolicyView> {
  const company = await getCompany(ctx.db)
  const policy = policyWith(company.policy as PolicyChanges)
  return {
    version: company.version,
    policy: { ...policy },
    changes: company.policy as Record<string, unknown>,
    defaults: { ...DEFAULT_POLICY },
    kinds: FOLLOW_UP_KIND_IDS.map((id) => ({
      id,
      title: FOLLOW_UP_KINDS[id].office,
      concerns: FOLLOW_UP_KINDS[id].concerns,
      isCommercial: FOLLOW_UP_KINDS[id].category === 'commercial',
      cadence: { ...cadenceOf(policy, id) },
    })),
    history: await listPolicyChanges(ctx.db),
  }
}

/** What a change would move and send, by the planner's own statements and a simulation of the coming years. */
export async function previewPolicy(ctx: Ctx, changes: PolicyChangesBody): Promise<PreviewView> {
  const company = await getCompany(ctx.db)
  const before = policyWith(company.policy as PolicyChanges)
  const after = policyWith(changes as PolicyChanges)
  const effect = await compare(ctx, company.timeZone, before, after)
  const homes = await countHomes(ctx.db)
  return { ...effect, simulated: await simulateBoth(ctx.today(company.timeZone), homes, { before, after }) }
}

async function compare(ctx: Ctx, zone: string, before: Policy, after: Policy) {
  const today = ctx.today(zone)
  const until = addDays(addMonths(`${today.slice(0, 8)}01` as Day, 1), -1)
  const when = { now: ctx.now(), today, until }
  const was = await forecast(ctx.db, before, when)
  // The dates beside devices are worked out anew after the change: follow-ups/redate.ts.
  const hasOtherIntervals = JSON.stringify(intervalsOf(before)) !== JSON.stringify(intervalsOf(after))
  const would = await forecast(ctx.db, after, when, hasOtherIntervals)
  const atOnce = { before: was.atOnce, after: would.atOnce }
  return {
    moved: would.moved,
    opened: would.opened,
    ended: would.ended,
    atOnce,
    thisMonth: { before: was.thisMonth, after: would.thisMonth },
    atOnceByKind: would.byKind.map(({ kind, followUps }) => ({
      kind,
      title: FOLLOW_UP_KINDS[kind as keyof typeof FOLLOW_UP_KINDS].office,
      followUps,
    })),
    confirm: numberToConfirm(atOnce),
  }
}

/**
 * Saves the company's own choices. A change that would write to many at once is refused until their number is said back:
 * whoever moves a decimal point finds out before the households do.
 */
export async function changePolicy(
  ctx: Ctx,
  seen: number,
  changes: PolicyChangesBody,
  confirmMessages: number | undefined,
): Promise<PolicyView> {
  const company = await getCompany(ctx.db)
  const before = policyWith(company.policy as PolicyChanges)
  const after = policyWith(changes as PolicyChanges)
  const effect = await compare(ctx, company.timeZone, before, after)
  if (!isConfirmed(effect.confirm, confirmMessages)) {
    const [most] = effect.atOnceByKind
    throw new Problem(
      'confirm-messages',
      `Saved like this, about ${effect.confirm} messages go out with the next round instead of ${effect.atOnce.before}, ` +
        `most of them because of “${most?.title}” (${most?.followUps}). Say the number back to go on.`,
      { confirm: effect.confirm, atOnceByKind: effect.atOnceByKind },
    )
  }
  await ctx.db.$transaction(async (tx) => {
    const stored = await updateCompany(tx, seen, { policy: changes as object })
    if (!stored) throw changedMeanwhile(seen, await readPolicy(ctx))
    await lookAgain(tx, kindsOfOtherNotices(before, after), ctx.now())
    await audit(ctx, tx, {
      action: 'policy.change',
      subjectKind: 'company',
      subjectId: null,
      before: company.policy,
      after: changes,
    })
  })
  await ctx.enqueue('plan-follow-ups', {})
  return readPolicy(ctx)
}

/** Kinds whose notices, at any severity, may come on other days than before; a cap puts off all kinds. */
function kindsOfOtherNotices(before: Policy, after: Policy): FollowUpKindId[] {
  const all = (policy: Policy, kind: FollowUpKindId) =>
    JSON.stringify([null, ...SEVERITIES].map((severity) => cadenceOf(policy, kind, severity)))
  const isCapSame = before.cap.messages === after.cap.messages && before.cap.days === after.cap.days
  return FOLLOW_UP_KIND_IDS.filter((kind) => !isCapSame || all(before, kind) !== all(after, kind))
}
