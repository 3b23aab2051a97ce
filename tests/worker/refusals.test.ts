import { expect, test } from 'vitest'
import { MailRefused, refusalKind } from '../../server/gateways/mail.ts'
import { recordReport } from '../../server/bounces/service.ts'
import { newId } from '../../server/ids.ts'
import { memoryMailer } from '../../server/gateways/mail-memory.ts'
import { sendMessage } from '../../server/messages/sending.ts'
import { buildTestApp } from '../build/app.ts'
import { buildConfirmation } from '../build/message.ts'

// What each code means, by the section of RFC 3463 that it stands in; what it is treated as: handbook of follow-ups,
// section 10, EM6.

const { ctx } = await buildTestApp()
const { db } = ctx
const mailer = memoryMailer()

test.each([
  ['§3.1 other', 550, '5.0.0 something', 'RCPT TO', 'hard'],
  ['§3.1 other', 554, '5.0.0 transaction failed', 'DATA', 'letter'],
  ['§3.2 no such mailbox', 550, '5.1.1 unknown user', 'RCPT TO', 'hard'],
  ['§3.2 no such mailbox', 550, '5.1.1 unknown user', 'DATA', 'hard'],
  ['§3.2 no such system', 550, '5.1.2 bad domain', 'RCPT TO', 'hard'],
  ['§3.2 syntax of the mailbox', 550, '5.1.3 bad syntax', 'RCPT TO', 'hard'],
  ['§3.2 the mailbox has moved', 551, '5.1.6 moved', 'RCPT TO', 'hard'],
  ['§3.2 syntax of the sender', 553, '5.1.7 sender address is not valid', 'RCPT TO', 'soft'],
  ['§3.2 system of the sender', 550, '5.1.8 sender domain does not exist', 'RCPT TO', 'soft'],
  ['§3.2 system of the sender', 550, '5.1.8 bad sender', 'DATA', 'soft'],
  ['§3.2 system of the sender', 550, '5.1.8 bad sender', 'other', 'soft'],
  ['§3.3 disabled', 550, '5.2.1 disabled', 'RCPT TO', 'hard'],
  ['§3.3 full', 452, '4.2.2 full', 'RCPT TO', 'soft'],
  ['§3.3 full', 552, '5.2.2 mailbox full', 'RCPT TO', 'soft'],
  ['§3.3 longer than they may', 552, '5.2.3 too long', 'RCPT TO', 'letter'],
  ['§3.4 other', 550, '5.3.0 no such user here', 'RCPT TO', 'hard'],
  ['§3.4 other', 554, '5.3.0 rejected', 'DATA', 'letter'],
  ['§3.4 system full', 550, '5.3.1 system full', 'RCPT TO', 'soft'],
  ['§3.4 takes no mail now', 550, '5.3.2 closed', 'RCPT TO', 'soft'],
  ['§3.4 too big', 552, '5.3.4 too big', 'DATA', 'letter'],
  ['§3.4 wrongly set up', 554, '5.3.5 mail loops back to myself', 'RCPT TO', 'soft'],
  ['§3.5 no answer', 550, '5.4.1 no answer', 'RCPT TO', 'soft'],
  ['§3.5 congestion', 451, '4.4.5 congestion', 'RCPT TO', 'soft'],
  ['§3.5 expired', 550, '5.4.7 expired', 'RCPT TO', 'soft'],
  ['§3.6 other', 503, '5.5.0 bad sequence', 'RCPT TO', 'soft'],
  ['§3.6 invalid command', 503, '5.5.1 MAIL first', 'RCPT TO', 'soft'],
  ['§3.6 too many receivers', 452, '4.5.3 too many', 'RCPT TO', 'soft'],
  ['§3.6 arguments', 501, '5.5.4 unsupported option', 'DATA', 'soft'],
  ['§3.7 content', 550, '5.6.1 media not supported', 'DATA', 'letter'],
  ['§3.8 policy', 550, '5.7.1 refused by policy', 'DATA', 'letter'],
  ['§3.8 our log-in', 535, '5.7.8 authentication failed', 'other', 'soft'],
  ['none of them', 550, '5.9.9 something', 'RCPT TO', 'hard'],
  ['RFC 5321', 550, 'no such user', 'RCPT TO', 'hard'],
  ['RFC 5321', 554, 'looks like spam', 'DATA', 'letter'],
  ['RFC 5321', 421, 'closing', 'other', 'soft'],
  ['RFC 5321', 450, 'greylisted', 'RCPT TO', 'soft'],
] as const)('%s: %i %s at %s is %s', (_section, code, text, during, kind) => {
  expect(refusalKind({ code, text }, during)).toBe(kind)
})

test.each([
  ['§3.1 other, without more', '5.0.0', '550 user unknown', false],
  ['§3.1 other, and the answer says more', '5.0.0', '550 5.1.1 user unknown', true],
  ['§3.2 no such mailbox', '5.1.1', '550 no', true],
  ['§3.2 system of the sender', '5.1.8', '550 sender domain does not exist', false],
  ['§3.3 disabled', '5.2.1', '550 disabled', true],
  ['§3.4 other', '5.3.0', '554 rejected', false],
  ['§3.6 protocol', '5.5.1', '503 bad sequence', false],
])('a report of %s (%s %s) puts the address aside: %s', async (_section, status, detail, isAside) => {
  const { messageId } = await buildConfirmation(ctx, { email: `r-${newId()}@example.com` })
  await sendMessage(ctx, mailer, messageId)
  const { messageIdHeader, toAddress } = await db.message.findUniqueOrThrow({ where: { id: messageId } })
  await recordReport(ctx, { kind: 'failed', messageId: messageIdHeader, recipient: null, status, detail })
  expect(await db.suppressedAddress.count({ where: { email: toAddress } })).toBe(isAside ? 1 : 0)
})

test('an answer with a zero byte in it is kept, and stops nothing', async () => {
  const { messageId } = await buildConfirmation(ctx)
  mailer.before = () => {
    throw new MailRefused('letter', '550 5.7.1 no\0thing')
  }
  expect(await sendMessage(ctx, mailer, messageId)).toBe('failed')
  expect((await db.message.findUniqueOrThrow({ where: { id: messageId } })).lastError).toContain(
    'no\uFFFDthing',
  )
})
