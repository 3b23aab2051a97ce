import { createTransport } from 'nodemailer'
import { afterAll, beforeEach, expect, test } from 'vitest'
import { type Mischief, type Stage, startSink } from '../../scripts/mail-sink/sink.ts'

// The mail server of the fault runs misbehaves in ways that a mail server may (RFC 5321 §4.2, §4.5.3.2): what it says
// that it took it has taken whole, and nothing else.

const sink = await startSink({ keepSources: true })
afterAll(() => sink.stop())
beforeEach(() => void (sink.taken = []))

const LETTER = {
  from: 'office@example.com',
  to: 'robin@example.com',
  subject: 'Due',
  text: `Hello\n${'a long line of words '.repeat(4000)}\nEnd`,
  messageId: '<one@example.com>',
}

/** One letter while one thing goes wrong. @returns whether the sender was told that it was taken */
async function send(stage: Stage, what: Mischief): Promise<boolean> {
  let isDone = false
  sink.mischief = (at) => (at === stage && !isDone ? ((isDone = true), what) : null)
  const transport = createTransport({ url: sink.url, socketTimeout: 1500, greetingTimeout: 1500 })
  try {
    await transport.sendMail(LETTER)
    return true
  } catch {
    return false
  } finally {
    transport.close()
  }
}

const STAGES: readonly Stage[] = ['greeting', 'hello', 'from', 'to', 'data', 'body', 'answer']

test.each(STAGES)('read or answered slowly at “%s”, a letter is taken whole', async (stage) => {
  expect(await send(stage, 'drip')).toBe(true)
  expect(sink.taken.map(({ messageId }) => messageId)).toEqual(['<one@example.com>'])
  const source = sink.taken[0]!.source.toString()
  expect([source.includes('Subject: Due'), source.endsWith('End\r\n.\r\n')]).toEqual([true, true])
})

test.each(STAGES)('a connection that ends at “%s” tells the sender nothing', async (stage) => {
  expect(await send(stage, 'drop')).toBe(false)
  expect(sink.taken).toHaveLength(stage === 'answer' ? 1 : 0)
})

test.each(['from', 'to', 'data', 'body'] as const)('put off at “%s”, it is not taken', async (stage) => {
  expect(await send(stage, 'later')).toBe(false)
  expect(sink.taken).toEqual([])
})

test.each(['data', 'body'] as const)('no answer at “%s”: not taken', async (stage) => {
  expect(await send(stage, 'hang')).toBe(false)
  expect(sink.taken).toEqual([])
})
