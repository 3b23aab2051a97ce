import { describe, expect, test } from 'vitest'
import type { Ctx } from '../../server/ctx.ts'
import { memoryMailer } from '../../server/gateways/mail-memory.ts'
import { newId } from '../../server/ids.ts'
import { sendMessage } from '../../server/messages/sending.ts'
import { readBouncesJob } from '../../worker/jobs/read-bounces.ts'
import { buildTestApp } from '../build/app.ts'
import { startScriptedImap } from '../build/imap-server.ts'
import { lines, original, report } from '../build/mail-report.ts'
import { buildConfirmation } from '../build/message.ts'

// The mailbox for what comes back, read by IMAP.

const { ctx, clock } = await buildTestApp()
const { db } = ctx
const mailer = memoryMailer()

async function sent(email = `r_${newId()}@example.com`) {
  const home = await buildConfirmation(ctx, { email })
  await sendMessage(ctx, mailer, home.messageId)
  const { messageIdHeader, toAddress } = await db.message.findUniqueOrThrow({ where: { id: home.messageId } })
  return { ...home, messageIdHeader, toAddress }
}
const stateOf = async (id: string) => (await db.message.findUniqueOrThrow({ where: { id } })).state
const isAside = async (email: string) => (await db.suppressedAddress.count({ where: { email } })) === 1

const failed = (recipient: string, status = '5.1.1', answer = '550 no such user') => [
  'Reporting-MTA: dns; x',
  '',
  `Final-Recipient: rfc822;${recipient}`,
  'Action: failed',
  `Status: ${status}`,
  `Diagnostic-Code: smtp; ${answer}`,
]
const about = (
  { toAddress, messageIdHeader }: { toAddress: string; messageIdHeader: string },
  answer?: string,
) => String(report(failed(toAddress, '5.1.1', answer), original(messageIdHeader)))

const toolsFor = (bounceImapUrl: string, more: Partial<Ctx> = {}) => ({
  ctx: { ...ctx, ...more, env: { ...ctx.env, bounceImapUrl } },
  mailer,
  queue: { enqueueMany: async () => 0 },
})

/** A database that fails in that way when it is asked for the letter of a Message-ID. */
function failing(messageIdHeader: string, fault: Error): typeof db {
  const findUnique = (asked: { where: { messageIdHeader?: string } }) => {
    if (asked.where.messageIdHeader === messageIdHeader) throw fault
    return db.message.findUnique(asked as never)
  }
  const message = new Proxy(db.message, {
    get: (inner, name) => (name === 'findUnique' ? findUnique : (Reflect.get(inner, name) as unknown)),
  })
  return new Proxy(db, {
    get: (inner, name) => (name === 'message' ? message : (Reflect.get(inner, name) as unknown)),
  })
}
const sqlError = (code: string) => Object.assign(new Error('refused by the database'), { code })

test('each unread mail is read once, marked when it is done', async () => {
  const letter = await sent()
  const imap = await startScriptedImap([about(letter), String(lines('Subject: hello', '', 'x'))])
  await readBouncesJob(toolsFor(imap.url))
  expect(await stateOf(letter.messageId)).toBe('bounced')
  expect(imap.mails).toMatchObject([
    { seen: true, flagged: false },
    { seen: true, flagged: false },
  ])
  await readBouncesJob(toolsFor(imap.url))
  await expect(readBouncesJob(toolsFor(imap.url.replace('secret', 'wrong')))).rejects.toThrow()
})

test('an answer with a zero byte in it is kept like any other', async () => {
  const letter = await sent()
  const imap = await startScriptedImap([about(letter, '550 no\0such user')])
  await readBouncesJob(toolsFor(imap.url))
  const { lastError } = await db.message.findUniqueOrThrow({ where: { id: letter.messageId } })
  expect(lastError).toBe('5.1.1 550 no\uFFFDsuch user')
  expect(imap.mails[0]).toMatchObject({ seen: true, flagged: false })
})

describe('a mail that cannot be written down', () => {
  test.each([
    ['because of what it says: flagged, and the others are read', sqlError('22P05'), true, true],
    ['by a fault of ours: it stays unread, and the others are read', sqlError('40P01'), false, true],
    ['because the database is away: the round ends', new Error('connect ECONNREFUSED'), false, false],
  ])('%s', async (_what, fault, isFlagged, isNextRead) => {
    const [first, second] = [await sent(), await sent()]
    const imap = await startScriptedImap([about(first), about(second)])
    const read = readBouncesJob(toolsFor(imap.url, { db: failing(first.messageIdHeader, fault) }))
    if (isFlagged) await read
    else await expect(read).rejects.toThrow(fault.message)
    expect(imap.mails[0]).toMatchObject({ seen: isFlagged, flagged: isFlagged })
    expect(await stateOf(second.messageId)).toBe(isNextRead ? 'bounced' : 'sent')
    if (isFlagged) return
    await readBouncesJob(toolsFor(imap.url))
    expect([await stateOf(first.messageId), await stateOf(second.messageId)]).toEqual(['bounced', 'bounced'])
  })
})

describe('a report that does not show its letter', () => {
  const read = async (fields: string[]) => {
    const imap = await startScriptedImap([String(report(fields, ['Subject: Your inspection', '', 'Hello']))])
    await readBouncesJob(toolsFor(imap.url))
  }

  test('is about the only one that went there lately', async () => {
    const { messageId, toAddress } = await sent()
    await read(failed(toAddress.toUpperCase()))
    expect([await stateOf(messageId), await isAside(toAddress)]).toEqual(['bounced', true])
  })

  test('is about nothing when the last one went there weeks ago', async () => {
    const { messageId, toAddress } = await sent()
    clock.set('2026-06-20T15:00:00Z')
    await read(failed(toAddress))
    clock.set('2026-06-01T15:00:00Z')
    expect([await stateOf(messageId), await isAside(toAddress)]).toEqual(['sent', false])
  })

  test.each([
    ['5.1.1', true],
    ['4.4.7', false],
  ])('counts for the address alone when there were two: %s puts it aside: %s', async (status, aside) => {
    const first = await sent()
    const second = await sent(first.toAddress)
    await read(failed(first.toAddress, status))
    expect([await stateOf(first.messageId), await stateOf(second.messageId)]).toEqual(['sent', 'sent'])
    expect(await isAside(first.toAddress)).toBe(aside)
  })
})
