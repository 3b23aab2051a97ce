import { generateKeyPairSync } from 'node:crypto'
import ICAL from 'ical.js'
import { dkimVerify } from 'mailauth/lib/dkim/verify.js'
import { simpleParser } from 'mailparser'
import { afterAll, beforeEach, describe, expect, test } from 'vitest'
import { day } from '../../trade/dates.ts'
import { MailRefused } from '../../server/gateways/mail.ts'
import { memoryMailer } from '../../server/gateways/mail-memory.ts'
import { smtpMailer } from '../../server/gateways/mail-smtp.ts'
import { notify } from '../../server/follow-ups/notify.ts'
import { planDue } from '../../server/follow-ups/plan.ts'
import { PAUSES, sendMessage, sendMessages } from '../../server/messages/sending.ts'
import { planMessage, planStaffMessage } from '../../server/messages/service.ts'
import { newId } from '../../server/ids.ts'
import { startMailCatcher } from '../../scripts/mail-catcher/catcher.ts'
import { buildTestApp } from '../build/app.ts'
import { buildAlarm, buildHousehold } from '../build/follow-up.ts'
import { buildConfirmation } from '../build/message.ts'
import { Killed, mortal } from '../build/mortal.ts'

const { ctx, clock } = await buildTestApp()
const { db } = ctx
const mailer = memoryMailer()
const catcher = await startMailCatcher()
afterAll(() => catcher.stop())

beforeEach(() => {
  clock.set('2026-06-01T15:00:00Z')
  mailer.letters = []
  mailer.sources = []
  mailer.before = mailer.after = () => {}
})

const messageOf = (id: string) => db.message.findUniqueOrThrow({ where: { id } })
const later = (minutes: number) => clock.set(new Date(clock.now.getTime() + minutes * 60_000).toISOString())

async function buildReminder(more: Parameters<typeof buildHousehold>[1] = {}) {
  const home = await buildHousehold(ctx, more)
  await buildAlarm(ctx, home, day('2026-08-30'))
  await planDue(ctx, db, { propertyId: home.propertyId })
  const { messageIds } = await notify(ctx, { propertyId: home.propertyId })
  return { ...home, messageId: messageIds[0]! }
}

describe('what leaves by SMTP', () => {
  const smtp = smtpMailer({ ...ctx.env, smtpUrl: catcher.smtpUrl })
  afterAll(() => smtp.close())
  const received = async (id: string) => {
    expect(await sendMessage(ctx, smtp, id)).toBe('sent')
    const [newest] = await catcher.mailbox.list()
    return (await catcher.mailbox.get(newest!.id))!
  }

  test('a confirmation: both texts, the invitation, and headers that no machine answers', async () => {
    const { messageId, visitId } = await buildConfirmation(ctx)
    const { mail, source, envelope } = await received(messageId)
    const message = await messageOf(messageId)
    expect(envelope).toEqual({ from: 'office@example.com', to: [message.toAddress] })
    expect(mail.messageId).toBe(message.messageIdHeader)
    expect(mail.subject).toBe('Your inspection on Thursday, June 4, 2026')
    expect(mail.from!.value[0]).toMatchObject({ address: 'office@example.com', name: 'Kestrel Row Electric' })
    expect(mail.replyTo!.value[0]!.address).toBe('office@example.com')
    // RFC 3834 §5.
    expect(mail.headers.get('auto-submitted')).toBe('auto-generated')
    expect(mail.headers.has('list-unsubscribe-post')).toBe(false)
    expect(mail.date).toEqual(clock.now)
    for (const fact of [
      'Thursday, June 4, 2026',
      'between 9:00 AM and 11:00 AM',
      '14 Quay Lane',
      'Jo Marsh',
      '555-0100',
      '1 Kestrel Row',
    ]) {
      expect(mail.text).toContain(fact)
      expect(mail.html).toContain(fact)
    }
    // RFC 6047 §2.4: the part's method is that of the calendar.
    expect(source.toString()).toMatch(/Content-Type: text\/calendar; charset=utf-8; method=REQUEST/)
    const part = mail.attachments.find(({ contentType }) => contentType === 'text/calendar')!
    const calendar = new ICAL.Component(ICAL.parse(part.content.toString()))
    const event = new ICAL.Event(calendar.getFirstSubcomponent('vevent')!)
    expect(calendar.getFirstPropertyValue('method')).toBe('REQUEST')
    expect(event.uid).toBe(`visit-${visitId}@localhost`)
    expect(event.startDate.toJSDate().toISOString()).toBe('2026-06-04T13:00:00.000Z')
    expect(event.startDate.toString()).toBe('2026-06-04T09:00:00')
  })

  test('a reminder: one click ends it, over HTTPS where the office has it (RFC 8058)', async () => {
    const { messageId } = await buildReminder()
    const { mail, source } = await received(messageId)
    expect(mail.subject).toMatch(/^Replace an alarm: \d+ Quay Lane$/)
    expect(mail.headers.get('list')).toMatchObject({
      unsubscribe: { url: expect.stringMatching(/^http:\/\/localhost:3000\/u\/[\w-]{44}$/) },
    })
    expect(source.toString()).toMatch(/^List-Unsubscribe-Post: List-Unsubscribe=One-Click\r$/m)
    expect(mail.text).toContain('The alarm “Hall alarm” should be replaced by August 30, 2026')
    // RFC 5322 §2.1.1 and RFC 2045 §6.7.
    const lines = source.toString('latin1').split('\r\n')
    expect(Math.max(...lines.map((line) => line.length))).toBeLessThanOrEqual(998)
    expect(source.length).toBeLessThan(100_000)
  })

  test('signed by DKIM, also what lists the way out (RFC 6376, RFC 8058 §4); one changed letter breaks it', async () => {
    const { privateKey, publicKey } = generateKeyPairSync('rsa', { modulusLength: 2048 })
    const signing = smtpMailer({
      ...ctx.env,
      smtpUrl: catcher.smtpUrl,
      dkimDomain: 'example.com',
      dkimSelector: 'lamp',
      dkimKey: privateKey.export({ type: 'pkcs8', format: 'pem' }).toString(),
    })
    const { messageId } = await buildReminder()
    expect(await sendMessage(ctx, signing, messageId)).toBe('sent')
    signing.close()
    const [newest] = await catcher.mailbox.list()
    const { source } = (await catcher.mailbox.get(newest!.id))!
    const key = publicKey.export({ type: 'spki', format: 'der' }).toString('base64')
    const resolver = (name: string, type: string) =>
      name === 'lamp._domainkey.example.com' && type === 'TXT'
        ? Promise.resolve([[`v=DKIM1; k=rsa; p=${key}`]])
        : Promise.reject(Object.assign(new Error('no such name'), { code: 'ENOTFOUND' }))
    const resultOf = async (mail: Buffer) => {
      const { results } = await dkimVerify(mail, { resolver: resolver as never })
      return results.map(({ status }) => status.result)
    }
    expect(await resultOf(source)).toEqual(['pass'])
    const signed = /\bh=([^;]+);/.exec(source.toString().replace(/\r\n[ \t]+/g, ''))![1]!.toLowerCase()
    for (const header of ['from', 'to', 'subject', 'message-id', 'list-unsubscribe', 'list-unsubscribe-post'])
      expect(signed.split(':')).toContain(header)
    const changed = Buffer.from(source.toString('latin1').replace('Robin Vale', 'Robin Wale'), 'latin1')
    expect(await resultOf(changed)).not.toContain('pass')
  })

  test('in Spanish for whoever chose it', async () => {
    const { messageId } = await buildReminder({ language: 'es', name: 'María Ñandú' })
    const { mail } = await received(messageId)
    expect(mail.subject).toMatch(/^Cambiar una alarma: \d+ Quay Lane$/)
    expect(mail.text).toContain('Hola, María Ñandú')
    expect(mail.html).toContain('lang="es"')
    expect(mail.text?.replace(/\s+/g, ' ')).toContain(
      'debería cambiarse a más tardar el 30 de agosto de 2026',
    )
  })

  test('a name cannot start a header, run a script or read a file', async () => {
    const name = 'Eve\r\nBcc: all@example.com <script>alert(1)</script> {{company.name}}'
    const { messageId } = await buildReminder({ name })
    const { mail, source } = await received(messageId)
    expect(source.toString()).not.toMatch(/^Bcc:/m)
    expect(mail.html).not.toContain('<script>')
    expect(mail.html).toContain('&lt;script&gt;')
    expect(mail.text).toContain('{{company.name}}')
  })

  test('a server that refuses the mailbox for good puts the address aside', async () => {
    const { messageId, customerId } = await buildReminder()
    catcher.refuse = () => ({ code: 550, message: '5.1.1 no such user here' })
    expect(await sendMessage(ctx, smtp, messageId)).toBe('bounced')
    catcher.refuse = () => null
    const { toAddress, lastError } = await messageOf(messageId)
    expect(lastError).toContain('5.1.1 no such user here')
    expect(await db.suppressedAddress.findFirst({ where: { email: toAddress } })).toMatchObject({
      reason: 'bounced',
    })
    const next = await planMessage(ctx, db, {
      kind: 'visit-booked',
      category: 'booking',
      customerId,
      dedupeKey: newId(),
      reason: 'test',
    })
    expect(await messageOf(next!)).toMatchObject({
      state: 'suppressed',
      lastError: expect.stringContaining('put aside'),
    })
  })
})

describe('once, whatever happens', () => {
  test('called twice, and twice at once, it is sent once', async () => {
    const { messageId } = await buildConfirmation(ctx)
    const outcomes = await Promise.all([
      sendMessage(ctx, mailer, messageId),
      sendMessage(ctx, mailer, messageId),
    ])
    expect(outcomes.sort()).toEqual(['not-mine', 'sent'])
    expect(await sendMessage(ctx, mailer, messageId)).toBe('not-mine')
    expect(mailer.letters).toHaveLength(1)
  })

  test.each([
    ['a mail server that is away', new Error('connect ECONNREFUSED')],
    ['a temporary no', new MailRefused('soft', '421 4.3.2 busy')],
  ])('%s is tried again with growing pauses, for 48 hours at most', async (_what, error) => {
    const { messageId } = await buildConfirmation(ctx)
    mailer.before = () => {
      throw error
    }
    const begun = clock.now.getTime()
    for (const pause of PAUSES) {
      expect(await sendMessage(ctx, mailer, messageId)).toBe('later')
      expect(await sendMessage(ctx, mailer, messageId)).toBe('not-mine')
      later(pause)
    }
    expect(clock.now.getTime() - begun).toBeLessThanOrEqual(48 * 3_600_000)
    expect(clock.now.getTime() - begun).toBeGreaterThan(47 * 3_600_000)
    expect(await sendMessage(ctx, mailer, messageId)).toBe('failed')
    expect(await messageOf(messageId)).toMatchObject({
      state: 'failed',
      attempts: 13,
      lastError: expect.stringMatching(/^Given up after 48 hours/),
    })
  })

  test('a second attempt sends the same letter with the same Message-ID', async () => {
    const { messageId } = await buildConfirmation(ctx)
    mailer.after = () => {
      throw new Error('connection lost before the answer')
    }
    expect(await sendMessage(ctx, mailer, messageId)).toBe('later')
    mailer.after = () => {}
    later(2)
    expect(await sendMessage(ctx, mailer, messageId)).toBe('sent')
    const [first, second] = mailer.letters
    expect({ ...second, date: first!.date }).toEqual(first)
  })

  // Every statement that sending makes is a place to die at; the lease runs out and the next worker goes on. Nothing
  // that is asked of the database after the death is answered.
  test.each([...Array(9).keys()].flatMap((n) => [`before ${n + 1}`, `after ${n + 1}`]))(
    'killed %s statements: the next worker sends it, once',
    async (where) => {
      const [when, count] = where.split(' ')
      const { messageId } = await buildConfirmation(ctx)
      const dying = { ...ctx, db: mortal(db, Number(count), when === 'after') }
      const died = await sendMessage(dying, mailer, messageId).then(
        () => false,
        (error) => error instanceof Killed,
      )
      const sentBefore = mailer.letters.length
      const { state } = await messageOf(messageId)
      if (state === 'sending') expect(await sendMessage(ctx, mailer, messageId)).toBe('not-mine')
      later(6)
      await sendMessage(ctx, mailer, messageId)
      expect((await messageOf(messageId)).state).toBe('sent')
      expect(new Set(mailer.letters.map((letter) => letter.messageId)).size).toBe(1)
      // A second copy only where the first was handed over and nobody could write that down any more.
      const mayRepeat = died && sentBefore === 1 && state === 'sending'
      expect(mailer.letters).toHaveLength(mayRepeat ? 2 : 1)
    },
  )

  test('a worker whose lease ran out while the server dripped does not overwrite what the next one did', async () => {
    const { messageId } = await buildConfirmation(ctx)
    let outcome: string | undefined
    mailer.before = async () => {
      mailer.before = () => {}
      later(6)
      outcome = await sendMessage(ctx, mailer, messageId)
    }
    expect(await sendMessage(ctx, mailer, messageId)).toBe('not-mine')
    expect(outcome).toBe('sent')
    expect(await messageOf(messageId)).toMatchObject({ state: 'sent', attempts: 2 })
  })
})

describe('so many a minute to one receiving domain', () => {
  const paced = { ...ctx, env: { ...ctx.env, mailPerDomain: 60 } }
  const domain = () => `${newId()}.example.com`
  const confirmationAt = async (address: string) =>
    (await buildConfirmation(ctx, { email: address })).messageId

  test('ten seconds’ worth at once after a quiet time, then one a second; another domain is not held up; nothing is tried twice', async () => {
    const [busy, quiet] = [domain(), domain()]
    const ids = await Promise.all([...Array(13).keys()].map((n) => confirmationAt(`r${n}@${busy}`)))
    const other = await confirmationAt(`r@${quiet.toUpperCase()}`)
    const first = await sendMessages(paced, mailer, { ids: [...ids, other] })
    expect(first.get(other)).toBe('sent')
    expect(ids.filter((id) => first.get(id) === 'sent')).toHaveLength(11)
    const rest = await db.message.findMany({ where: { id: { in: ids }, state: 'planned' } })
    expect(rest.map(({ sendAfter }) => sendAfter.getTime() - clock.now.getTime()).sort()).toEqual([
      1000, 2000,
    ])
    expect(rest.map(({ attempts }) => attempts)).toEqual([0, 0])
    later(1)
    // A turn that was given is not asked for again.
    const second = await sendMessages(paced, mailer, { ids })
    expect([...second.values()]).toEqual(['sent', 'sent'])
  })

  test('two workers share the turns', async () => {
    const busy = domain()
    const ids = await Promise.all([...Array(14).keys()].map((n) => confirmationAt(`r${n}@${busy}`)))
    const both = await Promise.all([
      sendMessages(paced, mailer, { ids: ids.slice(0, 7) }),
      sendMessages(paced, mailer, { ids: ids.slice(7) }),
    ])
    expect(both.flatMap((each) => [...each.values()]).filter((each) => each === 'sent')).toHaveLength(11)
  })
})

describe('what is not sent any more', () => {
  test('a reminder to someone who refused meanwhile', async () => {
    const { messageId, customerId } = await buildReminder()
    await db.messagePreference.create({
      data: { customerId, category: 'reminder', allowed: false, source: 'unsubscribe' },
    })
    expect(await sendMessage(ctx, mailer, messageId)).toBe('suppressed')
    expect(mailer.letters).toEqual([])
  })

  test('a reminder of what has been replaced meanwhile', async () => {
    const { messageId, propertyId } = await buildReminder()
    await db.equipment.updateMany({ where: { propertyId }, data: { retiredOn: new Date('2026-06-01') } })
    await planDue(ctx, db, { propertyId })
    expect(await sendMessage(ctx, mailer, messageId)).toBe('cancelled')
    expect(await messageOf(messageId)).toMatchObject({
      lastError: 'Everything that it was to tell of has been settled, or they want no mail about it.',
    })
  })

  test('the confirmation of a visit that has been moved meanwhile', async () => {
    const { messageId, visitId } = await buildConfirmation(ctx)
    await db.visit.update({ where: { id: visitId }, data: { sequence: 1 } })
    expect(await sendMessage(ctx, mailer, messageId)).toBe('cancelled')
  })

  test('a reminder at night: it waits for 8:00 at the home', async () => {
    const { messageId } = await buildReminder()
    clock.set('2026-06-02T02:00:00Z')
    expect(await sendMessage(ctx, mailer, messageId)).toBe('later')
    expect((await messageOf(messageId)).sendAfter.toISOString()).toBe('2026-06-02T12:00:00.000Z')
  })

  test('a reminder about two homes at night: it waits until it is day at both', async () => {
    const east = await buildHousehold(ctx)
    const west = await buildHousehold(ctx, { customerId: east.customerId, zone: 'Pacific/Honolulu' })
    for (const home of [east, west]) {
      await buildAlarm(ctx, home, day('2026-08-30'))
      await planDue(ctx, db, { propertyId: home.propertyId })
    }
    const { messageIds } = await notify(ctx, { propertyId: east.propertyId })
    const id = messageIds[0]!
    // 10:00 in New York is 4:00 in Honolulu.
    clock.set('2026-06-02T14:00:00Z')
    await db.message.update({ where: { id }, data: { sendAfter: clock.now } })
    expect(await sendMessage(ctx, mailer, id)).toBe('later')
    expect((await messageOf(id)).sendAfter.toISOString()).toBe('2026-06-02T18:00:00.000Z')
  })

  test('the reminder of a visit at night waits, what answers an act of theirs does not', async () => {
    const { messageId } = await buildConfirmation(ctx)
    clock.set('2026-06-02T02:00:00Z')
    await db.message.update({ where: { id: messageId }, data: { kind: 'visit-reminder' } })
    expect(await sendMessage(ctx, mailer, messageId)).toBe('later')
    expect((await messageOf(messageId)).sendAfter.toISOString()).toBe('2026-06-02T12:00:00.000Z')
    await db.message.update({
      where: { id: messageId },
      data: { kind: 'visit-booked', sendAfter: clock.now },
    })
    expect(await sendMessage(ctx, mailer, messageId)).toBe('sent')
  })

  test('one that is not due yet, or whose id nobody knows', async () => {
    const { messageId } = await buildConfirmation(ctx)
    await db.message.update({
      where: { id: messageId },
      data: { sendAfter: new Date('2026-06-02T00:00:00Z') },
    })
    expect(await sendMessage(ctx, mailer, messageId)).toBe('not-mine')
    expect(await sendMessage(ctx, mailer, newId())).toBe('not-mine')
  })
})

test('a new address of the customer counts, not the one when it was planned', async () => {
  const { messageId, customerId } = await buildConfirmation(ctx)
  await db.customer.update({ where: { id: customerId }, data: { email: `new-${customerId}@example.com` } })
  expect(await sendMessage(ctx, mailer, messageId)).toBe('sent')
  expect(mailer.letters[0]!.to.address).toBe(`new-${customerId}@example.com`)
})

test('an invitation carries the way in, and the stored text does not', async () => {
  const id = await planStaffMessage(ctx, db, {
    kind: 'invitation',
    to: { email: 'new@example.com', name: 'Alex' },
    dedupeKey: newId(),
    context: { tokenId: newId(), hours: 168 },
    reason: 'Somebody was invited',
  })
  expect(await sendMessage(ctx, mailer, id)).toBe('sent')
  expect(mailer.letters[0]!.text).toMatch(/token=[\w-]{43}/)
  const stored = await messageOf(id)
  expect(`${stored.textBody} ${stored.htmlBody}`).not.toMatch(/token=[\w-]{43}/)
  expect(JSON.stringify(stored.context)).not.toMatch(/[\w-]{43}/)
})

test('the same cause plans one message; nobody without an address gets one', async () => {
  const home = await buildHousehold(ctx)
  const plan = {
    kind: 'request-received',
    category: 'booking',
    customerId: home.customerId,
    dedupeKey: newId(),
    reason: 'test',
  } as const
  expect(await planMessage(ctx, db, plan)).toBe(await planMessage(ctx, db, plan))
  const silent = await buildHousehold(ctx, { email: null })
  expect(
    await planMessage(ctx, db, { ...plan, customerId: silent.customerId, dedupeKey: newId() }),
  ).toBeNull()
  const odd = await buildHousehold(ctx, { email: 'not an address' })
  const id = await planMessage(ctx, db, { ...plan, customerId: odd.customerId, dedupeKey: newId() })
  expect(await messageOf(id!)).toMatchObject({
    state: 'suppressed',
    lastError: '“not an address” is not an e-mail address; phone them.',
  })
})

test('parsed back, the in-memory letter is the letter', async () => {
  const { messageId } = await buildConfirmation(ctx)
  await sendMessage(ctx, mailer, messageId)
  const mail = await simpleParser(mailer.sources[0]!)
  expect(mail.messageId).toBe(mailer.letters[0]!.messageId)
})
