import { suppress } from '../bounces/store.ts'
import type { Ctx } from '../ctx.ts'
import { newId } from '../ids.ts'
import { type Letter, type Mailer, MailRefused } from '../gateways/mail.ts'
import { remembered } from '../remembered.ts'
import { getCompany } from '../settings/store.ts'
import { storableText } from '../storable-text.ts'
import { policyOf } from '../follow-ups/policy.ts'
import { nextSendingTimeOfAll } from '../follow-ups/sending-time.ts'
import { isSentNow } from './again-words.ts'
import { keepsHours } from './categories.ts'
import { type Hand, openHand, type Outcome } from './hand.ts'
import { refusalOf } from './refusal.ts'
import * as store from './sending-store.ts'
import { takeTurns } from './turns.ts'
import { writeLetters } from './writing.ts'

export type { Outcome } from './hand.ts'

/** Minutes between attempts. Added up they are just under 48 hours. */
export const PAUSES = [1, 5, 15, 30, 60, 120, 240, 480, 480, 480, 480, 480]
const GIVE_UP_MS = 48 * 3_600_000

/** A letter is not begun with less of the lease left than it may take. */
const LETTER_MS = 150_000

/** Sends one message. Called twice, it is sent once. */
export async function sendMessage(ctx: Ctx, mailer: Mailer, id: string): Promise<Outcome> {
  const outcomes = await sendMessages(ctx, mailer, { ids: [id] })
  return outcomes.get(id) ?? 'not-mine'
}

/**
 * Sends messages that wait: claim, write, hand over, mark. Any number of workers may do so at once. Between the mail
 * server's yes and the mark lies the only moment at which a crash leads to a second copy, with the same Message-ID.
 * @returns by id what became of each message that was in hand
 */
export async function sendMessages(
  ctx: Ctx,
  mailer: Mailer,
  which: store.Which,
): Promise<Map<string, Outcome>> {
  // Names this one attempt: the same process may come to the same message again after the lease ran out.
  const hand = openHand(ctx, newId())
  const endsAt = ctx.now().getTime() + store.LEASE_MS - LETTER_MS
  const messages = await store.claim(ctx.db, which, hand.by, ctx.now())
  if (messages.length > 0) await sendAll(ctx, mailer, hand, messages, endsAt)
  return hand.outcomes
}

async function sendAll(
  ctx: Ctx,
  mailer: Mailer,
  hand: Hand,
  messages: readonly store.StoredMessage[],
  endsAt: number,
): Promise<void> {
  const company = await getCompany(ctx.db)
  const hours = policyOf(company).sendingHours
  // Late, because the mail server was away say, a letter must not arrive at night.
  const nextHour = remembered((zones) => nextSendingTimeOfAll(ctx.now(), zones.split(' '), hours))
  const laying: Promise<unknown>[] = []
  const going = messages.filter((message) => {
    const refusal = refusalNow(message)
    if (refusal) {
      laying.push(hand.lay(message, { state: 'suppressed', lastError: refusal }, 'suppressed'))
      return false
    }
    const isByDay = keepsHours(message.kind, message.category) && !isSentNow(message.context, ctx.now())
    const hour = isByDay ? nextHour(message.zones.join(' ')) : null
    if (!hour || hour <= ctx.now()) return true
    laying.push(hand.lay(message, { state: 'planned', sendAfter: hour, untried: true }, 'later'))
    return false
  })
  const turns = await takeTurns(
    ctx,
    going.filter(({ hasTurn }) => !hasTurn),
  )
  const waiting = going.map((message) => {
    const sendAfter = turns.get(message.id)
    if (!sendAfter) return null
    return hand.lay(message, { state: 'planned', sendAfter, untried: true, hasTurn: true }, 'later')
  })
  const letters = await writeLetters(
    ctx,
    hand,
    going.filter(({ id }) => !turns.has(id)),
    company,
  )
  const sending = letters.map(({ message, letter }) =>
    mailer.onConnection(async (send) => {
      // It waited so long for a connection that somebody else may begin before it is through.
      if (ctx.now().getTime() > endsAt) return hand.lay(message, { state: 'planned', untried: true }, 'later')
      return handOver(ctx, hand, send, message, letter)
    }),
  )
  await Promise.all([...laying, ...waiting, ...sending])
}

/** Addresses go bad, and people change their minds, between the plan and the sending. */
function refusalNow(message: store.StoredMessage): string | null {
  if (!message.customerId) return null
  if (!message.receiver) return 'The customer is not there any more.'
  return refusalOf(message.receiver, message.category)
}

async function handOver(
  ctx: Ctx,
  hand: Hand,
  send: (letter: Letter) => Promise<void>,
  message: store.StoredMessage,
  letter: Letter,
): Promise<Outcome> {
  try {
    await send(letter)
  } catch (error) {
    return refused(ctx, hand, message, error)
  }
  return hand.lay(message, { state: 'sent' }, 'sent')
}

async function refused(ctx: Ctx, hand: Hand, message: store.StoredMessage, error: unknown): Promise<Outcome> {
  const lastError = storableText((error as Error).message.slice(0, 1000))
  const kind = error instanceof MailRefused ? error.kind : 'soft'
  if (kind === 'hard') {
    if (message.customerId) await suppress(ctx.db, message.toAddress, 'bounced', lastError, ctx.now())
    ctx.log.warn({ messageId: message.id }, 'an address does not exist; it is put aside')
    return hand.lay(message, { state: 'bounced', lastError }, 'bounced')
  }
  if (kind === 'letter') return hand.lay(message, { state: 'failed', lastError }, 'failed')
  const pause = PAUSES[Math.min(message.attempts, PAUSES.length) - 1]!
  const sendAfter = new Date(ctx.now().getTime() + pause * 60_000)
  // By the clock and not by the count: a worker that dies with a message in hand makes an attempt of it, too.
  if (sendAfter.getTime() > message.firstTriedAt.getTime() + GIVE_UP_MS) {
    const given = `Given up after 48 hours. ${lastError}`
    return hand.lay(message, { state: 'failed', lastError: given }, 'failed')
  }
  return hand.lay(message, { state: 'planned', sendAfter, lastError }, 'later')
}
