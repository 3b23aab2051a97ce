import { afterAll, beforeEach, expect, test } from 'vitest'
import { type Mischief, type Stage, startSink } from '../../scripts/mail-sink/sink.ts'
import { smtpMailer } from '../../server/gateways/mail-smtp.ts'
import { sendMessage } from '../../server/messages/sending.ts'
import { buildTestApp } from '../build/app.ts'
import { buildConfirmation } from '../build/message.ts'

// A mail server that drops the connection, never answers, answers letter by letter or puts us off, at every stage of the
// conversation (RFC 5321 §4.2, §4.5.3.2): the letter arrives at the next attempt, and twice only where the server had
// taken it and its answer was lost. The second copy is known by its Message-ID.

const { ctx, clock } = await buildTestApp()
const sink = await startSink()
/** Shorter than a letter may take in earnest. */
const LETTER_MS = 1000
const mailer = smtpMailer({ ...ctx.env, smtpUrl: sink.url }, 1, LETTER_MS)
afterAll(async () => {
  mailer.close()
  await sink.stop()
})
beforeEach(() => {
  clock.set('2026-06-01T15:00:00Z')
  sink.taken = []
})

const STAGES: readonly Stage[] = ['greeting', 'hello', 'from', 'to', 'data', 'body', 'answer']
const MISCHIEF: readonly Mischief[] = ['drop', 'hang', 'drip', 'later']
/** The mail library itself tries once more: another connection, or HELO where EHLO was put off. */
const TRIED_ANEW = ['drop greeting', 'later hello']
const cases = STAGES.flatMap((stage) => MISCHIEF.map((what) => [what, stage] as const))
  // Once it has taken a letter it cannot say that it did not.
  .filter(([what, stage]) => !(what === 'later' && stage === 'answer'))

test.each(cases)('%s at “%s”: it arrives, and nobody waits for ever', async (what, stage) => {
  const { messageId } = await buildConfirmation(ctx)
  let isDone = false
  sink.mischief = (at) => (at === stage && !isDone ? ((isDone = true), what) : null)
  // A connection of its own, so that it begins with the greeting.
  const fresh = smtpMailer({ ...ctx.env, smtpUrl: sink.url }, 1, LETTER_MS)
  const first = await sendMessage(ctx, fresh, messageId)
  fresh.close()
  expect(isDone).toBe(true)
  const isThrough = what === 'drip' || TRIED_ANEW.includes(`${what} ${stage}`)
  expect(first).toBe(isThrough ? 'sent' : 'later')
  if (first === 'later') {
    const { state, lastError, sendAfter } = await ctx.db.message.findUniqueOrThrow({
      where: { id: messageId },
    })
    expect({ state, isSaid: lastError !== null, pause: sendAfter.getTime() - clock.now.getTime() }).toEqual({
      state: 'planned',
      isSaid: true,
      pause: 60_000,
    })
    clock.set('2026-06-01T15:01:00Z')
    expect(await sendMessage(ctx, mailer, messageId)).toBe('sent')
  }
  const isTakenTwice = stage === 'answer' && first === 'later'
  expect(sink.taken).toHaveLength(isTakenTwice ? 2 : 1)
  expect(new Set(sink.taken.map((taken) => taken.messageId)).size).toBe(1)
})
