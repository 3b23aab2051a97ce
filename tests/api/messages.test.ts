import { beforeEach, expect, test } from 'vitest'
import { MESSAGE_KINDS } from '../../server/messages/categories.ts'
import { memoryMailer } from '../../server/gateways/mail-memory.ts'
import { MailRefused } from '../../server/gateways/mail.ts'
import { newId } from '../../server/ids.ts'
import { recordReport } from '../../server/bounces/service.ts'
import { sendMessage } from '../../server/messages/sending.ts'
import { buildTestApp } from '../build/app.ts'
import { buildConfirmation } from '../build/message.ts'

const { ctx, clock, person, nobody, rung } = await buildTestApp()
const office = await person('office', 'Sam Brook')
const technician = await person('technician')
const URL = '/api/v1/messages'
const mailer = memoryMailer()

beforeEach(() => {
  clock.set('2026-06-01T15:00:00Z')
  mailer.before = () => {}
  rung.length = 0
})

test('the list, newest first, by state, customer and words; page by page and as a file', async () => {
  const name = `Robin ${newId().slice(-8)}`
  const made = []
  for (let n = 0; n < 5; n++) {
    clock.set(`2026-06-01T15:0${n}:00Z`)
    made.push(await buildConfirmation(ctx, { name }))
  }
  await sendMessage(ctx, mailer, made[0]!.messageId)
  const list = async (query: string) =>
    (await office.call('GET', `${URL}?search=${encodeURIComponent(name)}&${query}`)).json()
  const first = await list('limit=3')
  const second = await list(`limit=3&cursor=${first.next}`)
  const ids = [...first.items, ...second.items].map(({ id }: { id: string }) => id)
  expect(ids).toEqual(made.map(({ messageId }) => messageId).reverse())
  expect((await list('state=sent')).items).toMatchObject([
    { id: made[0]!.messageId, subject: 'Your inspection on Thursday, June 4, 2026' },
  ])
  expect((await list(`customerId=${made[2]!.customerId}`)).items).toHaveLength(1)
  expect((await list('kind=due-reminder')).items).toEqual([])
  const csv = await office.call('GET', `${URL}/export.csv?search=${encodeURIComponent(name)}`)
  expect(csv.body.trim().split('\r\n')).toHaveLength(6)
  expect((await office.call('GET', `${URL}?state=lost`)).statusCode).toBe(400)
})

test('one message with its text and its life', async () => {
  const { messageId } = await buildConfirmation(ctx)
  const planned = (await office.call('GET', `${URL}/${messageId}`)).json()
  expect(planned).toMatchObject({ state: 'planned', text: null, mayCancel: true, mayResend: false })
  await sendMessage(ctx, mailer, messageId)
  const sent = (await office.call('GET', `${URL}/${messageId}`)).json()
  expect(sent).toMatchObject({ state: 'sent', mayCancel: false })
  expect(sent.text).toContain('We are coming')
  expect(sent.html).toContain('<html lang="en"')
  expect(sent.calendar).toContain('BEGIN:VCALENDAR')
  expect(sent.life.map(({ what }: { what: string }) => what)).toEqual([
    'Planned: A visit was booked.',
    'Written',
    'Taken by the mail server',
  ])
  expect(JSON.stringify(sent)).not.toContain('leaseBy')
  expect((await office.call('GET', `${URL}/${newId()}`)).statusCode).toBe(404)
})

test('its life: a mail server that was away, then taken, then a late report', async () => {
  const { messageId } = await buildConfirmation(ctx)
  mailer.before = () => {
    throw new MailRefused('soft', '421 4.3.2 busy')
  }
  await sendMessage(ctx, mailer, messageId)
  mailer.before = () => {}
  const wordsOf = async () => {
    const { life } = (await office.call('GET', `${URL}/${messageId}`)).json()
    return life.map(({ what }: { what: string }) => what)
  }
  expect(await wordsOf()).toEqual([
    'Planned: A visit was booked.',
    'Written',
    'Not taken: 421 4.3.2 busy',
    'To be tried again',
  ])
  await ctx.db.message.update({ where: { id: messageId }, data: { sendAfter: clock.now } })
  await sendMessage(ctx, mailer, messageId)
  const { messageIdHeader } = await ctx.db.message.findUniqueOrThrow({ where: { id: messageId } })
  const report = {
    kind: 'failed',
    messageId: messageIdHeader,
    recipient: null,
    status: '5.1.1',
    detail: '550 gone',
  } as const
  await recordReport(ctx, report)
  expect(await wordsOf()).toEqual(
    expect.arrayContaining(['Taken by the mail server', 'Came back: 5.1.1 550 gone']),
  )
  await ctx.db.message.update({ where: { id: messageId }, data: { state: 'cancelled' } })
})

test('cancelled before it leaves, it does not leave; afterwards it is too late', async () => {
  const { messageId } = await buildConfirmation(ctx)
  expect((await office.call('POST', `${URL}/${messageId}/cancel`)).json()).toMatchObject({
    state: 'cancelled',
    lastError: 'Cancelled by Sam Brook.',
  })
  expect(await sendMessage(ctx, mailer, messageId)).toBe('not-mine')
  expect((await office.call('POST', `${URL}/${messageId}/cancel`)).statusCode).toBe(409)
})

test('one that came back is sent again when somebody says that the address works', async () => {
  const { messageId } = await buildConfirmation(ctx)
  mailer.before = () => {
    throw new MailRefused('hard', '550 5.1.1 unknown')
  }
  await sendMessage(ctx, mailer, messageId)
  mailer.before = () => {}
  const bounced = (await office.call('GET', `${URL}/${messageId}`)).json()
  expect(bounced).toMatchObject({ state: 'bounced', mayResend: true })
  expect(bounced.life.at(-1).what).toBe('Came back: 550 5.1.1 unknown')
  expect((await office.call('POST', `${URL}/${messageId}/resend`)).json()).toMatchObject({
    state: 'planned',
    attempts: 0,
  })
  expect(rung).toEqual([{ name: 'send-message', payload: { messageId } }])
  expect(await sendMessage(ctx, mailer, messageId)).toBe('sent')
  expect((await office.call('POST', `${URL}/${messageId}/resend`)).statusCode).toBe(409)
  expect((await office.call('GET', `${URL}/numbers`)).json().bounced).toBe(0)
})

test.each(Object.keys(MESSAGE_KINDS))(
  '%s can be looked at in both languages, text and HTML saying the same',
  async (kind) => {
    for (const language of ['en', 'es']) {
      const answer = await office.call('GET', `${URL}/templates/${kind}?language=${language}`)
      expect(answer.statusCode, answer.body).toBe(200)
      const { subject, html, text } = answer.json()
      expect(subject).not.toBe('')
      expect(html).toContain(`lang="${language}"`)
      expect(Buffer.byteLength(html)).toBeLessThan(100_000)
      // No picture, script or style from elsewhere; no template left open.
      expect(html).not.toMatch(/<img|<script|<link|url\(|\{\{|undefined|\[object/)
      const words = (value: string) => new Set(value.match(/[\p{L}\p{N}]{4,}/gu))
      const body = html
        .replace(/<style[\s\S]*?<\/style>/, '')
        .replace(/<title[\s\S]*?<\/title>/, '')
        .replace(/<div style="display:none[\s\S]*?<\/div>/, '')
      const seen = words(
        body
          .replace(/href="([^"]*)"/g, '>$1<')
          .replace(/<[^>]*>/g, ' ')
          .replace(/&#x27;/g, "'"),
      )
      expect([...words(text)].filter((word) => !seen.has(word))).toEqual([])
      expect([...seen].filter((word) => !words(text).has(word))).toEqual([])
      expect(
        Math.max(
          ...text
            .split('\n')
            .filter((line: string) => !line.startsWith('http'))
            .map((line: string) => line.length),
        ),
      ).toBeLessThanOrEqual(78)
      // The company's name, address and phone stand under each: 16 CFR 316 asks for a postal address.
      for (const part of ['Kestrel Row Electric', '1 Kestrel Row', '555-0100']) expect(text).toContain(part)
    }
    expect((await office.call('GET', `${URL}/templates/poem`)).statusCode).toBe(400)
  },
)

test('for the office only', async () => {
  for (const path of ['', '/numbers', '/templates', `/${newId()}`]) {
    expect((await nobody('GET', `${URL}${path}`)).statusCode).toBe(401)
    expect((await technician.call('GET', `${URL}${path}`)).statusCode).toBe(403)
  }
})
