import type { Day } from '../../trade/dates.ts'
import { allEnded } from '../all-ended.ts'
import type { Ctx } from '../ctx.ts'
import { newId } from '../ids.ts'
import { insertNotices } from '../messages/service.ts'
import { dayInZone, fromDay } from '../time.ts'
import { decide } from './decide.ts'
import { groupBy } from './group.ts'
import { type HeldBack, heldBack, heldBackInWords } from './held-back.ts'
import type { Change, Decision, Household, OpenFollowUp } from './household.ts'
import { applyChanges, listDue, listReceivers, lockHouseholds } from './household-store.ts'
import { measure } from './measure-store.ts'
import { getPolicy } from './policy.ts'
import type { Policy } from '../../trade/follow-ups/policy.ts'

export interface Notified {
  /** Ids of messages that are to go out, to be rung for. */
  messageIds: string[]
  households: number
  /** Every message, also those held back, with what it tells of. */
  written: { id: string; refusal: string | null; followUpIds: string[] }[]
  /** Ended because the person wants no such mail: id → why. */
  dismissed: Map<string, string>
  /** Chosen by hand and left out: id → why. */
  held: Map<string, string>
}

/** What the office chose; `all` also where something holds mail back: held-back.ts. */
export interface ByHand {
  ids: ReadonlySet<string>
  all: boolean
}

/** Households that are decided about in one transaction, and transactions in hand: one writes while the next decides. */
const AT_ONCE = 500
const IN_HAND = 3
/** After so many batches the tables are measured anew. */
const MEASURED_AFTER = 3
/** No zone is further ahead than this. */
const AHEAD_MS = 14 * 3_600_000
const MS_PER_DAY = 86_400_000

/**
 * Tells every household what has come due for it, in one message, by the rules of decide.ts. What was decided and what
 * is to be sent are written in one transaction: stopped anywhere, a run leaves whole households only, and the next one
 * goes on.
 */
export async function notify(ctx: Ctx, scope: { propertyId?: string | undefined } = {}): Promise<Notified> {
  const until = fromDay(dayInZone(new Date(ctx.now().getTime() + AHEAD_MS), 'UTC'))
  return tellAll(ctx, await listDue(ctx.db, until, scope.propertyId))
}

/** The same for follow-ups that the office chose by hand, today. */
export async function notifyByHand(
  ctx: Ctx,
  followUpIds: readonly string[],
  all: boolean,
): Promise<Notified> {
  const due = await listReceivers(ctx.db, followUpIds)
  return tellAll(ctx, due, { ids: new Set(followUpIds), all })
}

/** What notifyByHand would decide, for whoever is about to press: writes nothing. */
export async function previewByHand(ctx: Ctx, followUpIds: readonly string[]) {
  const due = await listReceivers(ctx.db, followUpIds)
  const receiverIds = [...new Set(due.flatMap(({ receiverId }) => receiverId ?? []))]
  const ids = new Set(followUpIds)
  const policy = await getPolicy(ctx.db)
  const given = { policy, now: ctx.now(), today: dayByZone(ctx.now()) }
  return ctx.db.$transaction(async (tx) => {
    const { households, orphans } = await lockHouseholds(tx, receiverIds, followUpIds, sinceOf(ctx, policy))
    const held = households.map((household) => heldOf(household, ids, given))
    const decided = (without: readonly ReadonlyMap<string, HeldBack>[]) =>
      households.map((household, n) => {
        const byHand = new Set([...ids].filter((id) => !without[n]?.has(id)))
        return decide(household, { ...given, byHand })
      })
    const [toSome, toAll] = [decided(held), decided([])]
    const letters = (decisions: readonly Decision[]) =>
      decisions.flatMap(({ messages }) => messages.filter(({ refusal }) => refusal === null)).length
    return {
      letters: letters(toSome),
      lettersToAll: letters(toAll),
      held: held.flatMap((each) => [...each.values()]),
      refused: toAll.flatMap(({ changes }) => changes.filter(({ state }) => state === 'dismissed')).length,
      unreachable:
        orphans.length +
        toAll.flatMap(({ messages }) => messages.flatMap((each) => (each.refusal ? each.notices : [])))
          .length,
    }
  })
}

function heldOf(household: Household, ids: ReadonlySet<string>, given: Parameters<typeof heldBack>[2]) {
  const chosen = household.followUps.filter(({ id }) => ids.has(id))
  return new Map(
    chosen.flatMap((each) => {
      const why = heldBack(each, household, given)
      return why ? [[each.id, why] as const] : []
    }),
  )
}

async function tellAll(
  ctx: Ctx,
  due: readonly { id: string; receiverId: string | null }[],
  byHand?: ByHand,
): Promise<Notified> {
  const policy = await getPolicy(ctx.db)
  const result: Notified = {
    messageIds: [],
    households: 0,
    written: [],
    dismissed: new Map(),
    held: new Map(),
  }
  const groups = [...groupBy(due, (each) => each.receiverId)]
  const batches = Array.from({ length: Math.ceil(groups.length / AT_ONCE) }, (_, n) =>
    groups.slice(n * AT_ONCE, (n + 1) * AT_ONCE),
  ).values()
  let told = 0
  const work = async () => {
    for (const batch of batches) {
      await tellBatch(ctx, batch, policy, byHand, result)
      if (++told === MEASURED_AFTER) await measure(ctx.db)
    }
  }
  await allEnded(Array.from({ length: IN_HAND }, work))
  return result
}

async function tellBatch(
  ctx: Ctx,
  batch: readonly [string | null, { id: string }[]][],
  policy: Policy,
  byHand: ByHand | undefined,
  result: Notified,
): Promise<void> {
  const receiverIds = batch.flatMap(([id]) => id ?? [])
  const followUpIds = batch.flatMap(([, each]) => each.map(({ id }) => id))
  await ctx.db.$transaction(async (tx) => {
    const now = ctx.now()
    const today = dayByZone(now)
    const { households, orphans } = await lockHouseholds(tx, receiverIds, followUpIds, sinceOf(ctx, policy))
    const changes: Change[] = orphans.flatMap((each) => passedOver(each, { policy, now, today }))
    const messages = []
    for (const household of households) {
      const held = byHand && !byHand.all ? heldOf(household, byHand.ids, { policy, now, today }) : new Map()
      for (const each of household.followUps.filter(({ id }) => held.has(id))) {
        result.held.set(each.id, heldBackInWords(held.get(each.id)!, each))
      }
      const chosen = byHand && new Set([...byHand.ids].filter((id) => !held.has(id)))
      const decision = decide(household, { policy, now, today, ...(chosen && { byHand: chosen }) })
      changes.push(...decision.changes)
      const to = household.receiver
      messages.push(...decision.messages.map((message) => ({ ...message, id: newId(), receiver: to })))
    }
    const written = await insertNotices(ctx, tx, messages)
    await applyChanges(tx, changes, now)
    result.households += households.length
    result.messageIds.push(...written.filter((each) => !each.refusal).map(({ id }) => id))
    for (const { id, refusal, notices } of written) {
      result.written.push({ id, refusal, followUpIds: notices.map(({ followUpId }) => followUpId) })
    }
    for (const { id, state, closedReason } of changes) {
      if (state === 'dismissed') result.dismissed.set(id, closedReason ?? '')
    }
  })
}

/** Letters of so long ago may still count under the cap. */
const sinceOf = (ctx: Ctx, { cap }: Policy) => new Date(ctx.now().getTime() - (cap.days + 14) * MS_PER_DAY)

/** The same few zones are asked for thousands of times in a run. */
function dayByZone(now: Date): (zone: string) => Day {
  const days = new Map<string, Day>()
  return (zone) => {
    const day = days.get(zone) ?? dayInZone(now, zone)
    days.set(zone, day)
    return day
  }
}

/** A home with nobody to write to: its step is passed over, and it stays on the worklist. */
function passedOver(followUp: OpenFollowUp, given: Parameters<typeof decide>[1]): Decision['changes'] {
  const nobody = {
    id: '',
    name: '',
    email: null,
    phone: null,
    language: 'en',
    archived: false,
    suppressedFor: null,
    allowed: null,
    wants: {},
  } as const
  return decide({ receiver: nobody, followUps: [followUp], commercialAt: [] }, given).changes
}
