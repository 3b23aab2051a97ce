import { describe, expect, test } from 'vitest'
import { readMailReport } from '../../server/bounces/report.ts'
import type { Unreachable } from '../../server/bounces/schema.ts'
import { recordReport } from '../../server/bounces/service.ts'
import { signCall } from '../../server/bounces/signature.ts'
import { memoryMailer } from '../../server/gateways/mail-memory.ts'
import { newId } from '../../server/ids.ts'
import { sendMessage } from '../../server/messages/sending.ts'
import { buildTestApp } from '../build/app.ts'
import { lines, original, report } from '../build/mail-report.ts'
import { buildConfirmation } from '../build/message.ts'

const SECRET = 'whsec_MfKQ9r8GKYqrTwjUPD8ILPZIo2LaLaSw'
const { ctx, clock, nobody, person } = await buildTestApp({ BOUNCE_WEBHOOK_SECRET: `${SECRET}` })
const { db } = ctx
const mailer = memoryMailer()
const office = await person('office')

describe('delivery reports: the examples of RFC 3464 appendix E, with other addresses', () => {
  test('E.1, simple: failed after five days of trying', async () => {
    const mail = report(
      [
        'Reporting-MTA: dns; cs.example.edu',
        '',
        'Original-Recipient: rfc822;louis@larry.example.edu',
        'Final-Recipient: rfc822;louis@larry.example.edu',
        'Action: failed',
        'Status: 4.0.0',
        'Diagnostic-Code: smtp; 426 connection timed out',
        'Last-Attempt-Date: Thu, 7 Jul 1994 17:15:49 -0400',
      ],
      original('<one@example.com>'),
    )
    expect(await readMailReport(mail)).toEqual([
      {
        kind: 'failed',
        messageId: '<one@example.com>',
        recipient: 'louis@larry.example.edu',
        status: '4.0.0',
        detail: '426 connection timed out',
      },
    ])
  })

  test('E.2, several receivers: comments in the status, a folded line', async () => {
    const mail = report(
      [
        'Reporting-MTA: dns; cs.example.edu',
        '',
        'Original-Recipient: rfc822;arathi@vnet.example.com',
        'Final-Recipient: rfc822;arathi@vnet.example.com',
        'Action: failed',
        'Status: 5.0.0 (permanent failure)',
        'Diagnostic-Code: smtp;',
        " 550 'arathi@vnet.example.com' is not a registered gateway user",
        'Remote-MTA: dns; vnet.example.com',
        '',
        'Original-Recipient: rfc822;john@njd.example.com',
        'Final-Recipient: rfc822;john@njd.example.com',
        'Action: delayed',
        'Status: 4.0.0 (njd.example.com: host name lookup failure)',
        '',
        'Original-Recipient: rfc822;wsnell@sdcc13.example.edu',
        'Final-Recipient: rfc822;wsnell@sdcc13.example.edu',
        'Action: failed',
        'Status: 5.0.0',
        'Diagnostic-Code: smtp; 550 user unknown',
        'Remote-MTA: dns; sdcc13.example.edu',
      ],
      original('<two@example.com>'),
    )
    expect(await readMailReport(mail)).toMatchObject([
      {
        kind: 'failed',
        recipient: 'arathi@vnet.example.com',
        status: '5.0.0',
        detail: "550 'arathi@vnet.example.com' is not a registered gateway user",
      },
      { kind: 'delayed', recipient: 'john@njd.example.com', status: '4.0.0' },
      { kind: 'failed', recipient: 'wsnell@sdcc13.example.edu', detail: '550 user unknown' },
    ])
  })

  test('E.4, delayed', async () => {
    const fields = [
      'Reporting-MTA: dns; relay.example.org',
      '',
      'Final-Recipient: rfc822;thomas@uni.example.org',
      'Status: 4.0.0 (unknown temporary failure)',
      'Action: delayed',
    ]
    const [only] = await readMailReport(report(fields, original('<four@example.com>')))
    expect(only).toMatchObject({ kind: 'delayed', recipient: 'thomas@uni.example.org', status: '4.0.0' })
  })

  test('a complaint (RFC 5965), a success, and a mail that is no report', async () => {
    const complaint = [
      'Feedback-Type: abuse',
      'User-Agent: Some/1.0',
      'Version: 1',
      'Original-Rcpt-To: <a@example.com>',
    ]
    expect(
      await readMailReport(report(complaint, original('<c@example.com>'), 'feedback-report')),
    ).toMatchObject([{ kind: 'complained', messageId: '<c@example.com>', recipient: 'a@example.com' }])
    const delivered = [
      'Reporting-MTA: dns; x',
      '',
      'Final-Recipient: rfc822;a@example.com',
      'Action: delivered',
      'Status: 2.0.0',
    ]
    expect(await readMailReport(report(delivered, original('<d@example.com>')))).toEqual([])
    expect(await readMailReport(lines('Subject: I am away', '', 'Back on Monday.'))).toEqual([])
    expect(await readMailReport(Buffer.from([0, 255, 10, 13, 45, 45]))).toEqual([])
  })
})

async function sent() {
  const home = await buildConfirmation(ctx, { email: `r-${newId()}@example.com` })
  await sendMessage(ctx, mailer, home.messageId)
  const { messageIdHeader, toAddress } = await db.message.findUniqueOrThrow({ where: { id: home.messageId } })
  return { ...home, messageIdHeader, toAddress }
}
const stateOf = (id: string) => db.message.findUniqueOrThrow({ where: { id }, include: { troubles: true } })
const isAside = async (email: string) => (await db.suppressedAddress.count({ where: { email } })) === 1

describe('what a report does', () => {
  const failed = (messageId: string, status: string, detail = '550 no such user') =>
    ({ kind: 'failed', messageId, recipient: null, status, detail }) as const

  test.each([
    ['no such mailbox', '5.1.1', true],
    ['mailbox full', '5.2.2', false],
    ['refused by policy', '5.7.1', false],
    ['given up after days', '4.4.7', false],
  ])('%s (%s): it came back; the address is put aside: %s', async (_what, status, aside) => {
    const { messageId, messageIdHeader, toAddress, customerId } = await sent()
    expect(await recordReport(ctx, failed(messageIdHeader, status))).toBe(true)
    await recordReport(ctx, failed(messageIdHeader, status))
    expect(await stateOf(messageId)).toMatchObject({
      state: 'bounced',
      bouncedAt: clock.now,
      troubles: [{ kind: 'bounced', detail: `${status} 550 no such user` }],
    })
    expect(await isAside(toAddress)).toBe(aside)
    const listed = (await office.call('GET', '/api/v1/messages/unreachable')).json<Unreachable>().items
    expect(listed.some((each) => each.customerId === customerId)).toBe(aside)
  })

  test('delayed is noted and changes nothing; a complaint ends all mail', async () => {
    const { messageId, messageIdHeader, toAddress } = await sent()
    const about = { messageId: messageIdHeader, recipient: null, status: null, detail: 'x' }
    await recordReport(ctx, { ...about, kind: 'delayed' })
    expect(await stateOf(messageId)).toMatchObject({ state: 'sent', troubles: [{ kind: 'delayed' }] })
    await recordReport(ctx, { ...about, kind: 'complained' })
    expect(await isAside(toAddress)).toBe(true)
  })

  test('one about a letter that is not ours is left alone', async () => {
    expect(await recordReport(ctx, failed('<nobody@example.com>', '5.1.1'))).toBe(false)
  })
})

describe('the webhook', () => {
  // The example of the Standard Webhooks specification, from memory.
  test('the signature is that of the specification', () => {
    const call = {
      id: 'msg_p5jXN8AQM9LWM0D4loKWxJek',
      timestamp: '1614265330',
      body: Buffer.from('{"test": 2432232314}'),
    }
    expect(signCall(SECRET, call)).toBe('v1,g0hM9SsE+OTPJTGt/tmIKtSyZlE3uFJELVlNIOLJ1OE=')
  })

  const seconds = (offset = 0) => String(Math.floor(clock.now.getTime() / 1000) + offset)
  const post = (body: string, change: Record<string, string> = {}, at = seconds()) => {
    const signature = signCall(SECRET, { id: 'msg_1', timestamp: at, body: Buffer.from(body) })
    return nobody('POST', '/api/v1/webhooks/mail', {
      payload: body,
      headers: {
        'content-type': 'application/json',
        'webhook-id': 'msg_1',
        'webhook-timestamp': at,
        'webhook-signature': signature,
        ...change,
      },
    })
  }

  test('a signed call marks the message; the same again does no harm', async () => {
    const { messageId, messageIdHeader, toAddress } = await sent()
    const body = JSON.stringify({
      kind: 'failed',
      messageId: messageIdHeader.slice(1, -1),
      status: '5.1.1',
      detail: '550 no',
    })
    for (const _time of [1, 2]) {
      const answer = await post(body)
      expect([answer.statusCode, answer.json()]).toEqual([200, { known: true }])
    }
    expect((await stateOf(messageId)).troubles).toHaveLength(1)
    expect(await isAside(toAddress)).toBe(true)
    const rotated = await post(body, {
      'webhook-signature': `v1,AAAA ${signCall(SECRET, { id: 'msg_1', timestamp: seconds(), body: Buffer.from(body) })}`,
    })
    expect(rotated.statusCode).toBe(200)
  })

  const good = JSON.stringify({ kind: 'delayed', messageId: 'x@example.com' })
  test.each([
    ['another body', {}, () => post(good, { 'webhook-signature': 'v1,AAAA' }), 401],
    [
      'no headers',
      {},
      () =>
        nobody('POST', '/api/v1/webhooks/mail', {
          payload: good,
          headers: { 'content-type': 'application/json' },
        }),
      401,
    ],
    ['six minutes old', {}, () => post(good, {}, seconds(-360)), 401],
    ['six minutes ahead', {}, () => post(good, {}, seconds(360)), 401],
    ['four minutes old', {}, () => post(good, {}, seconds(-240)), 200],
    ['not JSON', {}, () => post('{'), 400],
    ['an unknown field', {}, () => post('{"kind":"failed","messageId":"abc","x":1}'), 400],
  ])('%s', async (_what, _none, call, status) => {
    const answer = await call()
    expect(answer.statusCode).toBe(status)
    if (status >= 400) expect(answer.json<{ detail: string }>().detail).not.toBe('')
  })
})
