import type { Company } from '../../prisma/generated/client.ts'
import type { Ctx } from '../ctx.ts'
import type { Letter } from '../gateways/mail.ts'
import { currentWordings, usableOf, write, type Wordings } from '../wording/current.ts'
import { noteFallbacks } from '../wording/store.ts'
import { isTest, shownFacts, type TestContext } from '../wording/shown.ts'
import { invitationTo } from '../visits/calendar.ts'
import type { MessageCategory } from './categories.ts'
import { commonFacts, gatherFacts, NothingToSay } from './facts.ts'
import type { Hand, Outcome } from './hand.ts'
import type { LetterFacts } from './render/facts.ts'
import type { Rendered } from './render/render.ts'
import { keepTexts, type StoredMessage, type Text } from './sending-store.ts'

export interface Written {
  message: StoredMessage
  letter: Letter
}

/**
 * Letters of messages in hand, their texts kept before the first of them leaves. Whether there is still something to say
 * is asked at each attempt: a visit may have been moved or called off while the mail server was away. What cannot be
 * written is laid down.
 */
export async function writeLetters(
  ctx: Ctx,
  hand: Hand,
  messages: readonly StoredMessage[],
  company: Company,
): Promise<Written[]> {
  const fresh = messages.filter((message) => !keptText(message))
  const [facts, wordings] = await Promise.all([factsOf(ctx, messages, company), wordingsFor(ctx, fresh)])
  const texts: Text[] = []
  const fallbacks: { messageId: string; detail: string }[] = []
  const laying: Promise<unknown>[] = []
  const written = messages.flatMap((message): Written[] => {
    try {
      const known = facts.get(message.id)!
      if (known instanceof Error) throw known
      const { fallback, ...text } = keptText(message) ?? writeOne(message, known, wordings)
      if (fallback) fallbacks.push({ messageId: message.id, detail: fallback })
      const shown = message.category === 'account' ? withoutLink(text) : text
      texts.push({ id: message.id, ...shown, calendar: calendarOf(message)?.text ?? null })
      return [{ message, letter: letterOf(ctx, message, text, company) }]
    } catch (error) {
      laying.push(layUnwritten(ctx, hand, message, error as Error))
      return []
    }
  })
  const [ours] = await Promise.all([
    keepTexts(ctx.db, hand.by, ctx.now(), texts),
    noteFallbacks(ctx.db, ctx.now(), fallbacks),
    ...laying,
  ])
  return written.filter(({ message }) => ours.has(message.id))
}

const wordingsFor = (ctx: Ctx, fresh: readonly StoredMessage[]): Promise<Wordings> | Wordings =>
  fresh.length > 0 ? currentWordings(ctx) : () => null

async function factsOf(
  ctx: Ctx,
  messages: readonly StoredMessage[],
  company: Company,
): Promise<Map<string, LetterFacts | Error>> {
  const tests = messages.filter(({ context }) => isTest(context))
  const facts = await gatherFacts(
    ctx,
    messages.filter((message) => !tests.includes(message)),
    company,
  )
  for (const { id, kind, language, context } of tests) {
    const { like } = (context as unknown as TestContext).test
    facts.set(id, await shownFacts(ctx, kind, language, company, like).catch((error: Error) => error))
  }
  return facts
}

/** In the words that hold; a test in those that are to be tested, and marked as one. */
function writeOne({ kind, language, context }: StoredMessage, facts: LetterFacts, wordings: Wordings) {
  if (!isTest(context)) return write(wordings(kind, language), kind, language, facts)
  const { by, source } = context.test
  const words = source === null ? wordings(kind, language) : usableOf(kind, source)
  const notice = `This is a test, asked for by ${by}. Nobody else gets it, nothing is attached, and its links lead nowhere.`
  const letter = write(words, kind, language, facts, notice)
  return { ...letter, subject: `[Test] ${letter.subject}` }
}

function layUnwritten(ctx: Ctx, hand: Hand, message: StoredMessage, error: Error): Promise<Outcome> {
  if (error instanceof NothingToSay)
    return hand.lay(message, { state: 'cancelled', lastError: error.message }, 'cancelled')
  ctx.log.error({ err: error, messageId: message.id }, 'a message could not be written')
  const lastError = `It could not be written: ${error.message}`
  return hand.lay(message, { state: 'failed', lastError }, 'failed')
}

function letterOf(ctx: Ctx, message: StoredMessage, text: Rendered, company: Company): Letter {
  const { unsubscribeUrl } = commonFacts(ctx, message, company)
  const calendar = calendarOf(message)
  return {
    from: ctx.env.mailFrom,
    replyTo: company.email,
    returnTo: ctx.env.bounceAddress,
    to: { name: message.toName, address: message.toAddress },
    ...text,
    ...(calendar && { calendar }),
    messageId: message.messageIdHeader,
    date: ctx.now(),
    ...(unsubscribeUrl && { unsubscribeUrl }),
  }
}

function calendarOf({ context, toAddress }: StoredMessage): Letter['calendar'] | null {
  const { calendar, calendarMethod } = context as { calendar?: string; calendarMethod?: 'REQUEST' | 'CANCEL' }
  return calendar && calendarMethod
    ? { method: calendarMethod, text: invitationTo(calendar, toAddress) }
    : null
}

const OF_THE_DAY: readonly MessageCategory[] = ['account', 'safety', 'reminder', 'tips']

/** What an earlier attempt wrote. What is due and when a visit is may have changed since, and a way in is not kept: those
 *  are written anew. */
function keptText(message: StoredMessage): (Rendered & { fallback?: undefined }) | null {
  const { kind, category, attempts, subject, textBody, htmlBody } = message
  const isOfTheDay = OF_THE_DAY.includes(category) || kind === 'visit-reminder'
  if (attempts === 1 || isOfTheDay || subject === null || textBody === null || htmlBody === null) return null
  return { subject, text: textBody, html: htmlBody }
}

/** The office can read what was sent, but not another person's way in. */
function withoutLink({ subject, text, html }: Rendered): Rendered {
  const hide = (body: string) => body.replace(/token=[\w-]{20,}/g, 'token=…')
  return { subject, text: hide(text), html: hide(html) }
}
