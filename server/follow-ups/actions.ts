import { addDays, type Day } from '../../trade/dates.ts'
import { dayInWords } from '../../trade/day-in-words.ts'
import type { FollowUpKindId } from '../../trade/follow-ups/kind.ts'
import { FOLLOW_UP_KINDS } from '../../trade/follow-ups/kinds.ts'
import { cadenceOf } from '../../trade/follow-ups/policy.ts'
import { nextNotice } from '../../trade/follow-ups/steps.ts'
import { theUser } from '../accounts/service.ts'
import { audit } from '../audit/store.ts'
import type { Ctx } from '../ctx.ts'
import { type Db, refusedBy } from '../db.ts'
import { invalid, Problem } from '../errors.ts'
import { HELD_BACK, type HeldBack } from './held-back.ts'
import { notifyByHand, previewByHand } from './notify.ts'
import { getPolicy } from './policy.ts'
import type { BulkBody, BulkResult, CallBody, FollowUpView, MessagesPreview } from './schema.ts'
import * as store from './store.ts'
import { readFollowUp } from './worklist.ts'

/** A follow-up may rest for so long; what is to be forgotten for good is dismissed. */
const LONGEST_REST_DAYS = 730
const LONGEST_REST_OF_DANGER_DAYS = 30

export async function endFollowUp(
  ctx: Ctx,
  id: string,
  state: 'done' | 'dismissed',
  reason: string,
): Promise<FollowUpView> {
  await ctx.db.$transaction(async (tx) => {
    const before = await store.getFollowUp(tx, id)
    const ended = await end(ctx, tx, [before], state, reason)
    if (ended.size === 0) throw isOver()
  })
  return readFollowUp(ctx, id)
}

const isOver = () => new Problem('wrong-state', 'It has ended already; reopen it first.')

async function end(
  ctx: Ctx,
  tx: Db,
  records: readonly store.FollowUpRecord[],
  state: 'done' | 'dismissed',
  reason: string,
): Promise<Set<string>> {
  const byId = ctx.actor.kind === 'user' ? ctx.actor.id : null
  const how = { state, reason, byId, now: ctx.now() }
  const ended = await store.closeFollowUps(
    tx,
    records.map(({ id }) => id),
    how,
  )
  for (const record of records.filter(({ id }) => ended.has(id))) {
    await audit(ctx, tx, {
      action: `follow-up.${state === 'done' ? 'done' : 'dismiss'}`,
      subjectKind: 'follow-up',
      subjectId: record.id,
      before: { state: record.state },
      after: { state, reason },
    })
  }
  return ended
}

export async function snoozeFollowUp(ctx: Ctx, id: string, until: Day): Promise<FollowUpView> {
  await ctx.db.$transaction(async (tx) => {
    const record = await store.getFollowUp(tx, id)
    const today = ctx.today(record.zone)
    const isDanger = record.severity === 'unsafe'
    const latest = addDays(today, isDanger ? LONGEST_REST_OF_DANGER_DAYS : LONGEST_REST_DAYS)
    if (until <= today || until > latest) {
      throw invalid({
        pointer: '#/until',
        detail: isDanger
          ? `somebody could get hurt: expected a day after ${dayInWords(today, 'en')}, up to ${dayInWords(latest, 'en')}`
          : `expected a day after ${dayInWords(today, 'en')}, at most two years on; what should never come back is dismissed`,
      })
    }
    if (!(await store.restUntil(tx, id, until, ctx.now()))) throw isOver()
    await audit(ctx, tx, {
      action: 'follow-up.snooze',
      subjectKind: 'follow-up',
      subjectId: id,
      after: { until },
    })
  })
  return readFollowUp(ctx, id)
}

/** Undoes an ending. */
export async function reopenFollowUp(ctx: Ctx, id: string): Promise<FollowUpView> {
  try {
    await ctx.db.$transaction((tx) => reopenIn(ctx, tx, id))
  } catch (error) {
    if (refusedBy(error, 'follow_up_one_open')) {
      throw new Problem('wrong-state', 'The same thing has come due again meanwhile; see to that one.')
    }
    throw error
  }
  return readFollowUp(ctx, id)
}

/** The same in the caller's transaction, which the index follow_up_one_open may refuse. */
export async function reopenIn(ctx: Ctx, tx: Db, id: string): Promise<void> {
  const record = await store.getFollowUp(tx, id)
  const cadence = cadenceOf(await getPolicy(tx), record.kind, record.severity)
  const next = nextNotice(record.dueOn, cadence, ctx.today(record.zone), record.lastStep)
  if (!(await store.reopen(tx, record, next?.on ?? null, ctx.now()))) {
    throw new Problem('wrong-state', 'It is open already.')
  }
  await audit(ctx, tx, { action: 'follow-up.reopen', subjectKind: 'follow-up', subjectId: id })
}

export async function logCall(ctx: Ctx, id: string, call: CallBody): Promise<FollowUpView> {
  await ctx.db.$transaction(async (tx) => noteCall(ctx, tx, await store.getFollowUp(tx, id), call))
  return readFollowUp(ctx, id)
}

/** A call that settles the matter ends it; a hazard that they will not have seen to is asked about again. */
async function noteCall(
  ctx: Ctx,
  tx: Db,
  record: store.FollowUpRecord,
  { outcome, note, again }: CallBody,
): Promise<void> {
  if (record.closedAt) throw isOver()
  const callOn = outcome === 'call-later' ? dayToCall(ctx, record, again) : null
  const byId = theUser(ctx).id
  await store.insertCall(tx, { followUpId: record.id, outcome, note, byId, at: ctx.now() })
  await audit(ctx, tx, {
    action: 'follow-up.call',
    subjectKind: 'follow-up',
    subjectId: record.id,
    after: { outcome, note, ...(callOn && { again: callOn }) },
  })
  if (callOn) {
    await store.hideUntil(tx, record.id, callOn, ctx.now())
  } else if (outcome === 'reached' && record.kind === 'make-safe-check') {
    await end(ctx, tx, [record], 'done', 'Told on the phone, and acknowledged')
  } else if (outcome === 'declined' && record.severity === 'unsafe') {
    const { refusedRecheckDays } = (await getPolicy(tx)).finding
    await store.restUntil(tx, record.id, addDays(ctx.today(record.zone), refusedRecheckDays), ctx.now())
  } else if (outcome === 'declined') {
    await end(
      ctx,
      tx,
      [record],
      'dismissed',
      note ? `Declined on the phone: ${note}` : 'Declined on the phone',
    )
  }
}

/** A hazard is not left for long because the moment was bad. */
const LATEST_CALL_DAYS = { danger: 3, other: 60 }

/** When to call again: as said, else on the next working day. */
function dayToCall(ctx: Ctx, record: store.FollowUpRecord, again: Day | undefined): Day {
  const today = ctx.today(record.zone)
  if (again === undefined) return nextWorkingDay(today)
  const latest = addDays(today, LATEST_CALL_DAYS[record.severity === 'unsafe' ? 'danger' : 'other'])
  if (again > today && again <= latest) return again
  throw invalid({
    pointer: '#/again',
    detail: `expected a day after ${dayInWords(today, 'en')}, up to ${dayInWords(latest, 'en')}`,
  })
}

/** Monday to Friday: common practice, no source. */
function nextWorkingDay(today: Day): Day {
  let day = addDays(today, 1)
  while ([0, 6].includes(new Date(`${day}T00:00:00Z`).getUTCDay())) day = addDays(day, 1)
  return day
}

/** The same for many. What cannot be done is left alone and said. */
export async function actOnMany(ctx: Ctx, body: BulkBody): Promise<BulkResult> {
  const ids = [...new Set(body.ids)]
  const records = await store.findFollowUps(ctx.db, ids)
  const known = new Map(records.map((record) => [record.id, record]))
  const left: BulkResult['left'] = []
  const open = ids.flatMap((id) => {
    const record = known.get(id)
    if (record && !record.closedAt) return [record]
    left.push({ id, why: record ? 'It has ended already.' : 'There is no such follow-up.' })
    return []
  })
  switch (body.action) {
    case 'message':
      return { ...(await messageNow(ctx, open, left, body.all)), left }
    case 'dismiss': {
      const { reason } = body
      if (!reason) throw invalid({ pointer: '#/reason', detail: 'say why, in a few words' })
      const ended = await ctx.db.$transaction((tx) => end(ctx, tx, open, 'dismissed', reason))
      return { done: ended.size, messages: 0, left }
    }
    case 'call': {
      const { outcome, note } = body
      if (!outcome) throw invalid({ pointer: '#/outcome', detail: 'say what came of the call' })
      await ctx.db.$transaction(async (tx) => {
        for (const record of open) await noteCall(ctx, tx, record, { outcome, note })
      })
      return { done: open.length, messages: 0, left }
    }
  }
}

const goesByMail = (kind: FollowUpKindId) =>
  FOLLOW_UP_KINDS[kind].cadence.steps.some(({ by }) => by.includes('mail'))

/** Before many are written to by hand: how many letters, and who would rather have none now. */
export async function previewMessages(ctx: Ctx, ids: readonly string[]): Promise<MessagesPreview> {
  const records = await store.findFollowUps(ctx.db, ids)
  const tellable = records.filter(({ closedAt, kind }) => !closedAt && goesByMail(kind)).map(({ id }) => id)
  const { held, ...counts } = await previewByHand(ctx, tellable)
  const reasons = (Object.keys(HELD_BACK) as HeldBack[]).map((why) => ({
    why: HELD_BACK[why],
    followUps: held.filter((each) => each === why).length,
  }))
  return { ...counts, held: reasons.filter(({ followUps }) => followUps > 0) }
}

async function messageNow(
  ctx: Ctx,
  open: readonly store.FollowUpRecord[],
  left: BulkResult['left'],
  all: boolean,
) {
  const tellable = open.filter(({ id, kind }) => {
    if (goesByMail(kind)) return true
    left.push({ id, why: 'This is asked on the phone, not by mail.' })
    return false
  })
  const { messageIds, written, dismissed, held } = await notifyByHand(
    ctx,
    tellable.map(({ id }) => id),
    all,
  )
  for (const messageId of messageIds) await ctx.enqueue('send-message', { messageId })
  const told = new Set(written.filter(({ refusal }) => !refusal).flatMap(({ followUpIds }) => followUpIds))
  for (const { id } of tellable.filter((each) => !told.has(each.id))) {
    const refusal = written.find(({ followUpIds }) => followUpIds.includes(id))?.refusal
    const why = refusal ?? dismissed.get(id) ?? held.get(id) ?? 'There is nobody to write to at that home.'
    left.push({ id, why })
  }
  return { done: told.size, messages: messageIds.length }
}
