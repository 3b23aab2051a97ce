import { z } from 'zod'
import { addDays, addMonths, type Day, parseDay } from '../../trade/dates.ts'
import { dayInWords } from '../../trade/follow-ups/words.ts'
import { audit } from '../audit/store.ts'
import type { Db } from '../db.ts'
import { Problem } from '../errors.ts'
import { closeFollowUps, restUntil } from '../follow-ups/store.ts'
import { planFollowUps } from '../follow-ups/service.ts'
import { getPolicy } from '../follow-ups/policy.ts'
import { idSchema } from '../ids.ts'
import { changeEquipment, putInPlaceOf } from '../properties/equipment-service.ts'
import { getEquipment } from '../properties/equipment-store.ts'
import { acted, atHome, FormFault, formId, type Visitor } from './entry.ts'
import * as store from './store.ts'
import { fill, type ThanksFor } from './words.ts'

const short = (length: number) => z.string().trim().max(length).default('')

/** What a form about one thing may carry; which of it counts follows from `act`. */
export const answerBody = z.object({
  form: z.string().max(100).optional(),
  act: z.enum(['replaced', 'battery', 'checked', 'corrected', 'snooze', 'decline']),
  id: idSchema.optional(),
  manufacturedOn: short(20),
  replacedOn: short(20),
  same: short(10),
  on: short(20),
  indicator: short(10),
  by: short(200),
  months: short(4),
  reason: short(300),
  name: short(120),
  understood: short(10),
})
export type AnswerBody = z.output<typeof answerBody>

type FollowUp = NonNullable<Awaited<ReturnType<typeof store.findFollowUp>>>

/** The homeowner's word on one thing that is due. What has ended already stays as it is: a form sent twice is one answer. */
export async function answer(visitor: Visitor, followUpId: string, body: AnswerBody): Promise<ThanksFor> {
  const homes = visitor.homes.map(({ id }) => id)
  const followUp = await store.findFollowUp(visitor.ctx.db, followUpId, homes)
  if (!followUp) throw new Problem('not-found', 'There is no such thing here.')
  const at = atHome(visitor, followUp.propertyId)
  const thanks = await ANSWERS[body.act](at, followUp, body)
  await acted(at)
  return thanks
}

type AtHome = ReturnType<typeof atHome>
const ANSWERS: Record<
  AnswerBody['act'],
  (at: AtHome, followUp: FollowUp, body: AnswerBody) => Promise<ThanksFor>
> = { replaced, battery, checked, corrected, snooze, decline }

function dayFrom({ words, ctx, home }: AtHome, text: string): Day {
  const day = parseDay(text)
  if (!day) throw new FormFault(words.errors.noDay)
  if (day > ctx.today(home.timeZone)) throw new FormFault(words.errors.future)
  return day
}

/** A new device with a new date takes the old one's place; the office sees who said so. */
async function replaced(at: AtHome, followUp: FollowUp, body: AnswerBody): Promise<ThanksFor> {
  const { ctx, words, link } = at
  const manufacturedOn = dayFrom(at, body.manufacturedOn)
  const replacedOn = dayFrom(at, body.replacedOn)
  if (replacedOn < manufacturedOn) throw new FormFault(words.errors.beforeMade)
  const old = await getEquipment(ctx.db, followUp.equipmentId ?? followUp.subjectId)
  if (old.retiredOn) return 'replaced'
  const oldest = [old.manufacturedOn, old.installedOn].filter((each) => each !== null).sort()
  if (old.manufacturedOn !== null && manufacturedOn <= old.manufacturedOn) {
    throw new FormFault(
      fill(words.errors.tooOld, { date: dayInWords(old.manufacturedOn as Day, link.language) }),
    )
  }
  if (oldest[0] && replacedOn < oldest[0]) throw new FormFault(words.errors.beforeMade)
  await ctx.db.$transaction(async (tx) => {
    await putInPlaceOf(ctx, tx, old, old.version, {
      id: body.id ?? formId(),
      replacedOn,
      manufacturedOn,
      details: body.same === 'yes' ? sameKind(old.details) : {},
      reason: 'Replaced by the homeowner, as they say',
    })
    await planFollowUps(ctx, tx, old.propertyId)
  })
  return 'replaced'
}

/** What a like device has in common with the old one; everything read off it is unknown. */
function sameKind(details: Record<string, unknown>): Record<string, unknown> {
  const kept = ['senses', 'power', 'interconnected', 'type', 'at'] as const
  return Object.fromEntries(kept.flatMap((name) => (name in details ? [[name, details[name]]] : [])))
}

async function battery(at: AtHome, followUp: FollowUp, body: AnswerBody): Promise<ThanksFor> {
  const on = dayFrom(at, body.on)
  const old = await getEquipment(at.ctx.db, followUp.subjectId)
  if (old.retiredOn || old.details['batteryChangedOn'] === on) return 'battery'
  await changeEquipment(at.ctx, old.id, old.version, {
    kind: old.kind,
    details: { ...old.details, batteryChangedOn: on },
  })
  return 'battery'
}

/** They looked at the indicator. Lit counts as a look; dark means that it protects no more. */
async function checked(at: AtHome, followUp: FollowUp, body: AnswerBody): Promise<ThanksFor> {
  const { indicator } = body
  if (indicator !== 'good' && indicator !== 'dark') throw new FormFault(at.words.errors.choose)
  const old = await getEquipment(at.ctx.db, followUp.subjectId)
  const today = at.ctx.today(at.home.timeZone)
  if (!old.retiredOn && !followUp.closedAt) {
    await changeEquipment(at.ctx, old.id, old.version, {
      kind: old.kind,
      details: { ...old.details, indicator },
      lastCheckedOn: today,
    })
  }
  return indicator === 'good' ? 'checked' : 'failed'
}

/** Said to be put right: not carried as open any more, and looked at with our own eyes next time. */
async function corrected(at: AtHome, followUp: FollowUp, body: AnswerBody): Promise<ThanksFor> {
  const { ctx } = at
  await ctx.db.$transaction(async (tx) => {
    const from = ['open', 'on-estimate', 'accepted', 'declined', 'booked']
    if (!followUp.findingId || !(await store.setFindingCorrected(tx, followUp.findingId, from, ctx.now())))
      return
    await audit(ctx, tx, {
      action: 'finding.reported-corrected',
      subjectKind: 'finding',
      subjectId: followUp.findingId,
      before: { state: followUp.finding?.state },
      after: { state: 'corrected', by: body.by },
    })
    await planFollowUps(ctx, tx, followUp.propertyId)
  })
  return 'corrected'
}

async function snooze(at: AtHome, followUp: FollowUp, body: AnswerBody): Promise<ThanksFor> {
  const months = Number(body.months)
  if (![1, 3, 6].includes(months)) throw new FormFault(at.words.errors.choose)
  await rest(at, followUp, addMonths(at.ctx.today(at.home.timeZone), months))
  return 'snoozed'
}

function rest(
  { ctx }: AtHome,
  followUp: FollowUp,
  until: Day,
  more: Record<string, unknown> = {},
): Promise<void> {
  return ctx.db.$transaction(async (tx) => {
    if (!(await restUntil(tx, followUp.id, until, ctx.now()))) return
    const after = { until, ...more }
    await audit(ctx, tx, {
      action: 'follow-up.snooze',
      subjectKind: 'follow-up',
      subjectId: followUp.id,
      after,
    })
  })
}

/** With a name and the box ticked. A hazard is asked about again after the recheck time, whoever declines. */
async function decline(at: AtHome, followUp: FollowUp, body: AnswerBody): Promise<ThanksFor> {
  const { ctx, words } = at
  if (body.name === '') throw new FormFault(words.errors.name)
  if (body.understood !== 'yes') throw new FormFault(words.errors.acknowledge)
  const said = { name: body.name, reason: body.reason, understood: true }
  if (followUp.finding?.severity === 'unsafe') {
    const { refusedRecheckDays } = (await getPolicy(ctx.db)).finding
    await rest(at, followUp, addDays(ctx.today(at.home.timeZone), refusedRecheckDays), { declined: said })
    return 'declined-danger'
  }
  await ctx.db.$transaction((tx) =>
    dismiss(
      at,
      tx,
      [followUp.id],
      `Declined on their page by ${body.name}${body.reason && `: ${body.reason}`}`,
      said,
    ),
  )
  return 'declined'
}

async function dismiss(
  { ctx }: Pick<Visitor, 'ctx'>,
  tx: Db,
  ids: readonly string[],
  reason: string,
  said: Record<string, unknown>,
): Promise<void> {
  const ended = await closeFollowUps(tx, ids, { state: 'dismissed', reason, byId: null, now: ctx.now() })
  for (const id of ended) {
    await audit(ctx, tx, {
      action: 'follow-up.dismiss',
      subjectKind: 'follow-up',
      subjectId: id,
      after: { reason, ...said },
    })
  }
}

/** They sold or left the home: nothing more is written to them about it. What is due there stays for the office, who asks
 *  whoever lives there now. */
export async function notMine(visitor: Visitor, propertyId: string): Promise<ThanksFor> {
  const at = atHome(visitor, propertyId)
  const { ctx, link, home } = at
  await ctx.db.$transaction(async (tx) => {
    await store.endParties(tx, home.id, link.customerId, ctx.today(home.timeZone))
    await store.cancelOffers(tx, home.id, link.customerId, ctx.now())
    await audit(ctx, tx, {
      action: 'property.not-mine',
      subjectKind: 'property',
      subjectId: home.id,
      after: { customerId: link.customerId },
    })
    await planFollowUps(ctx, tx, home.id)
  })
  await acted(at)
  return 'not-mine'
}
