import { theUser } from '../accounts/service.ts'
import { audit } from '../audit/store.ts'
import type { Ctx } from '../ctx.ts'
import { Problem } from '../errors.ts'
import { policyOf } from '../follow-ups/policy.ts'
import { nextSendingTimeOfAll } from '../follow-ups/sending-time.ts'
import { withdrawIn } from '../links/office.ts'
import { getCompany } from '../settings/store.ts'
import { dayInZone, timeInZone } from '../time.ts'
import { type Again, againKey, againOf } from './again-words.ts'
import * as store from './again-store.ts'
import type { MessageCategory, MessageKind } from './categories.ts'
import { type CompanyOfLetter, gatherFacts, OF_VISITS_TO_COME } from './facts.ts'
import { refusalOf } from './refusal.ts'
import type { AgainBody, AgainView } from './schema.ts'
import { planMessage } from './service.ts'
import { findReceiver } from './store.ts'

/** Said to be for now, a letter may go out at night for so long; after that it waits for the morning. */
const NOW_MS = 60 * 60_000

/** Whether a letter can go out once more with a new link, and when it would. */
export async function readAgain(ctx: Ctx, id: string): Promise<AgainView> {
  const message = await store.findWhole(ctx.db, id)
  if (!message) throw new Problem('not-found', 'There is no such message.')
  const company = await getCompany(ctx.db)
  const zones = zonesOf(message, company.timeZone)
  const { sendingHours } = policyOf(company)
  const sendAfter = nextSendingTimeOfAll(ctx.now(), zones, sendingHours)
  const [zone] = zones
  return {
    refusal: await refusalToSend(ctx, message, company),
    sendAfter: sendAfter.toISOString(),
    isQuiet: sendAfter > ctx.now(),
    zone: zone!,
    there: { day: dayInZone(ctx.now(), zone!), time: timeInZone(ctx.now(), zone!) },
  }
}

function zonesOf({ property, followUps }: store.WholeMessage, companyZone: string): string[] {
  if (property) return [property.timeZone]
  const zones = [...new Set(followUps.map(({ followUp }) => followUp.property.timeZone))]
  return zones.length > 0 ? zones : [companyZone]
}

async function refusalToSend(
  ctx: Ctx,
  message: store.WholeMessage,
  company: CompanyOfLetter,
): Promise<string | null> {
  if (message.state === 'planned' || message.state === 'sending')
    return 'It has not gone out yet; its link is known to nobody.'
  if (!message.customerId) return 'It carries no private link.'
  const receiver = await findReceiver(ctx.db, message.customerId, message.category as MessageCategory)
  if (!receiver) return 'The customer is not there any more.'
  const refusal = refusalOf(receiver, message.category as MessageCategory)
  if (refusal) return refusal
  if (OF_VISITS_TO_COME.includes(message.kind) && message.visit?.state !== 'booked')
    return 'The visit is over or was called off.'
  const asked = {
    ...message,
    kind: message.kind as MessageKind,
    category: message.category as MessageCategory,
  }
  const language = receiver.language
  const context = message.context as Record<string, unknown>
  const facts = await gatherFacts(ctx, [{ ...asked, language, context }], company)
  const known = facts.get(message.id)
  return known instanceof Error ? known.message : null
}

/**
 * Writes the letter anew, with a Message-ID and a link of its own, and withdraws the link of the first in the same
 * transaction. A letter is sent again once: what takes its place can be sent again in its turn.
 * @returns the id of the new one
 */
export async function sendAgain(ctx: Ctx, id: string, { id: newId, when }: AgainBody): Promise<string> {
  const { name } = theUser(ctx)
  const message = await store.findWhole(ctx.db, id)
  if (!message) throw new Problem('not-found', 'There is no such message.')
  const there = await store.findByKey(ctx.db, againKey(id))
  if (there?.id === newId) return newId
  if (there) throw sentAlready(there)
  if ((await store.findWhole(ctx.db, newId)) !== null)
    throw new Problem('already-exists', 'Another message has that id; make a new one.')
  const { refusal, sendAfter, isQuiet } = await readAgain(ctx, id)
  if (refusal) throw new Problem('wrong-state', `It cannot be sent again. ${refusal}`)
  const isNow = when === 'now'
  const again: Again = {
    of: id,
    by: name,
    nowUntil: isNow ? new Date(ctx.now().getTime() + NOW_MS).toISOString() : null,
  }
  await ctx.db.$transaction(async (tx) => {
    const written = await planMessage(ctx, tx, {
      id: newId,
      kind: message.kind as MessageKind,
      category: message.category as MessageCategory,
      customerId: message.customerId!,
      propertyId: message.propertyId,
      visitId: message.visitId,
      dedupeKey: againKey(id),
      context: { ...(message.context as object), again },
      reason: message.reason,
      sendAfter: isNow ? ctx.now() : new Date(sendAfter),
    })
    const first = written === newId ? null : await store.findByKey(tx, againKey(id))
    if (first) throw sentAlready(first)
    await store.copyNotices(tx, id, newId)
    await withdrawIn(ctx, tx, message.customerId!, { id })
    await audit(ctx, tx, {
      action: 'message.send-again',
      subjectKind: 'message',
      subjectId: id,
      after: { messageId: newId, when: isQuiet ? when : 'now' },
    })
  })
  if (isNow || !isQuiet) await ctx.enqueue('send-message', { messageId: newId })
  return newId
}

function sentAlready({ id, context }: { id: string; context: unknown }): Problem {
  const by = againOf(context)?.by ?? 'Somebody'
  const detail = `${by} has sent it again already. If that one is lost too, send that one again.`
  return new Problem('already-exists', detail, { messageId: id })
}
