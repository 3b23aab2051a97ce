import { generateKeyPairSync } from 'node:crypto'
import ICAL from 'ical.js'
import { dkimVerify } from 'mailauth/lib/dkim/verify.js'
import { type ParsedMail, simpleParser } from 'mailparser'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { day } from '../../trade/dates.ts'
import type { Language } from '../../trade/day-in-words.ts'
import type { Ctx } from '../../server/ctx.ts'
import { notify } from '../../server/follow-ups/notify.ts'
import { planDue } from '../../server/follow-ups/plan.ts'
import { smtpMailer } from '../../server/gateways/mail-smtp.ts'
import { newId } from '../../server/ids.ts'
import { isCommercial, MESSAGE_KINDS, type MessageKind } from '../../server/messages/categories.ts'
import { findingInWords } from '../../server/messages/render/quoting.ts'
import { sendMessages } from '../../server/messages/sending.ts'
import { planMessage, planStaffMessage } from '../../server/messages/service.ts'
import { moveVisit } from '../../server/visits/booking.ts'
import { cancelVisit, recordNoAccess, startTravel } from '../../server/visits/steps.ts'
import { buildTestApp } from '../build/app.ts'
import { buildSent, line, officeOf } from '../build/estimate.ts'
import { buildAlarm, buildFinding, buildHousehold, type Household } from '../build/follow-up.ts'
import { oneClick } from '../build/one-click.ts'
import { buildRequest } from '../build/request.ts'
import { buildVisit } from '../build/visit.ts'
import { testMail } from '../setup/mail.ts'

// Every letter in every language, planned by what causes it, sent over SMTP and read back by programs that are not ours.

const { app, ctx, person } = await buildTestApp()
const { db } = ctx
const catcher = await testMail()
const { privateKey, publicKey } = generateKeyPairSync('rsa', { modulusLength: 2048 })
const smtp = smtpMailer({
  ...ctx.env,
  smtpUrl: catcher.smtpUrl,
  dkimDomain: 'example.com',
  dkimSelector: 'lamp',
  dkimKey: privateKey.export({ type: 'pkcs8', format: 'pem' }).toString(),
})
afterAll(() => smtp.close())
const { id: officeId } = await person('office')
const office: Ctx = {
  ...ctx,
  actor: { kind: 'user', id: officeId, role: 'office', name: 'Sam Brook', sessionId: null },
}

/** Stands in for the DNS: the sender's public key. */
const resolver = async (name: string, type: string) => {
  if (name !== 'lamp._domainkey.example.com' || type !== 'TXT')
    throw Object.assign(new Error(name), { code: 'ENOTFOUND' })
  return [[`v=DKIM1; k=rsa; p=${publicKey.export({ type: 'spki', format: 'der' }).toString('base64')}`]]
}

const visitAt = (home: Household, windowStart = '09:00') =>
  buildVisit(office, { propertyId: home.propertyId, customerId: home.customerId, windowStart })
const later = { day: '2026-06-03', windowStart: '13:00', windowEnd: '15:00' }
const tell = (
  home: Household,
  kind: MessageKind,
  more: { visitId?: string; context?: Record<string, unknown> } = {},
) =>
  db.$transaction((tx) =>
    planMessage(ctx, tx, {
      ...home,
      kind,
      category: MESSAGE_KINDS[kind],
      dedupeKey: newId(),
      reason: 'test',
      ...more,
    }),
  )
const due = async ({ propertyId }: Household) => {
  await planDue(ctx, db, { propertyId })
  await notify(ctx, { propertyId })
}
const staff = (kind: 'invitation' | 'password-reset', language: Language) =>
  planStaffMessage(ctx, db, {
    ...{ kind, language, dedupeKey: newId(), reason: 'test', context: { tokenId: newId(), hours: 48 } },
    to: { email: `${kind}-${language}@example.com`, name: 'Alex Reed' },
  })

/** What makes a letter of each kind be written. */
const CAUSES: Record<MessageKind, (home: Household, language: Language) => Promise<unknown>> = {
  'visit-booked': (home) => visitAt(home),
  'visit-moved': async (home) => {
    const { id, version } = await visitAt(home)
    await moveVisit(office, id, version, later as Parameters<typeof moveVisit>[3])
  },
  'visit-cancelled': async (home) => cancelVisit(office, (await visitAt(home)).id, 'Our technician is ill.'),
  'visit-no-access': async (home) => {
    const { id } = await visitAt(home)
    await startTravel(office, id)
    await recordNoAccess(office, id, 'Nobody opened.')
  },
  'visit-reminder': async (home) => tell(home, 'visit-reminder', { visitId: (await visitAt(home)).id }),
  'request-received': async (home) => {
    const { propertyId, customerId } = home
    const { id } = await buildRequest(ctx, {
      propertyId,
      customerId,
      preferredDays: [day('2026-06-09')],
      preferredTime: '8-12',
    })
    await tell(home, 'request-received', { context: { requestId: id } })
  },
  'report-issued': async (home) => {
    const findingId = await buildFinding(ctx, home, { severity: 'unsafe' })
    const { inspectionId } = await db.finding.findUniqueOrThrow({ where: { id: findingId } })
    await db.inspection.update({
      where: { id: inspectionId },
      data: { state: 'completed', completedOn: new Date('2026-06-01'), completedAt: ctx.now() },
    })
    const id = newId()
    const sha = Buffer.alloc(32)
    await db.report.create({
      data: { id, inspectionId, version: 1, content: {}, sha256: sha, pdfSha256: sha, issuedById: officeId },
    })
    await tell(home, 'report-issued', { context: { reportId: id } })
  },
  'estimate-sent': async ({ propertyId }) => {
    await buildSent(await officeOf(ctx), propertyId, { lines: [line(), line({ option: 'Surge protector' })] })
  },
  'unsafe-finding': async (home) => {
    const id = await buildFinding(ctx, home, {
      severity: 'unsafe',
      text: 'Bare live conductor behind the dryer outlet.',
    })
    await db.finding.update({
      where: { id },
      data: { itemId: 'receptacles.device', makeSafe: 'Breaker 14 switched off & tagged.' },
    })
    await due(home)
  },
  'due-reminder': async (home) => {
    await buildAlarm(ctx, home, day('2026-05-20'), 'Hall <1> & "stairs"')
    await buildAlarm(ctx, home, day('2026-06-20'), 'Attic')
    const id = await buildFinding(ctx, home, { foundOn: day('2026-05-18'), text: 'Outlet loose in its box.' })
    await db.finding.update({ where: { id }, data: { itemId: 'receptacles.device' } })
    await due(home)
  },
  'safety-tips': async ({ customerId, ...home }) => {
    // Asked for a quarter of a year ago.
    const word = { category: 'tips', allowed: true, source: 'preferences-page' }
    await db.messagePreference.create({
      data: { ...word, customerId, changedAt: new Date('2026-03-01T15:00:00Z') },
    })
    await due({ customerId, ...home })
  },
  invitation: (_, language) => staff('invitation', language),
  'password-reset': (_, language) => staff('password-reset', language),
}

const LETTERS = (Object.keys(MESSAGE_KINDS) as MessageKind[]).flatMap((kind) =>
  (['en', 'es'] as const).map((language) => [kind, language] as const),
)
interface Received {
  source: Buffer
  mail: ParsedMail
  home: Household
}
const received = new Map<string, Received>()
const letterOf = (kind: MessageKind, language: Language) => received.get(`${kind} ${language}`)!

beforeAll(async () => {
  const wanted = new Map<string, { name: string; home: Household }>()
  for (const [kind, language] of LETTERS) {
    const home = await buildHousehold(ctx, { language, name: 'Noé O’Hara & Sons', line1: '14 Quay Lane' })
    const before = new Set((await db.message.findMany({ select: { id: true } })).map(({ id }) => id))
    await CAUSES[kind](home, language)
    const made = await db.message.findMany({ where: { kind, language, NOT: { id: { in: [...before] } } } })
    expect(made, `${kind} ${language}`).toHaveLength(1)
    wanted.set(made[0]!.messageIdHeader, { name: `${kind} ${language}`, home })
  }
  const ids = await db.message.findMany({
    where: { messageIdHeader: { in: [...wanted.keys()] } },
    select: { id: true },
  })
  const outcomes = await sendMessages(ctx, smtp, { ids: ids.map(({ id }) => id) })
  expect([...outcomes.values()]).toEqual(LETTERS.map(() => 'sent'))
  for (const { id } of await catcher.mailbox.list()) {
    const { source } = (await catcher.mailbox.get(id))!
    const mail = await simpleParser(source)
    const { name, home } = wanted.get(mail.messageId!)!
    received.set(name, { source, mail, home })
  }
}, 60_000)

const headersOf = ({ mail }: Received, name: string) =>
  mail.headerLines.filter(({ key }) => key === name).map(({ line }) => line.replace(/\r\n\s+/g, ' '))
/** Words and numbers in their order. */
const wordsOf = (text: string) => text.toLowerCase().match(/[\p{L}\p{N}]+/gu) ?? []

describe.each(LETTERS)('%s in %s', (kind, language) => {
  test('headers', async () => {
    const letter = letterOf(kind, language)
    const { mail, source } = letter
    // RFC 5322 §3.6: each once.
    for (const name of ['from', 'to', 'reply-to', 'subject', 'date', 'message-id', 'mime-version'])
      expect(headersOf(letter, name), name).toHaveLength(1)
    expect(mail.from!.value).toEqual([{ address: 'office@example.com', name: 'Kestrel Row Electric' }])
    expect(mail.replyTo!.value[0]!.address).toBe('office@example.com')
    expect(mail.messageId).toMatch(/^<[\w-]+@example\.com>$/)
    expect(mail.date).toEqual(ctx.now())
    expect(mail.subject).not.toMatch(/\{\{|undefined|null|\[object|NaN/)
    const to = [mail.to!].flat()[0]!.value[0]!
    expect(to.name).toBe(MESSAGE_KINDS[kind] === 'account' ? 'Alex Reed' : 'Noé O’Hara & Sons')
    // RFC 3834 §5: no auto-responder answers.
    expect(headersOf(letter, 'auto-submitted')).toEqual(['Auto-Submitted: auto-generated'])
    // RFC 8058 §2 and §4, 16 CFR 316.5: what offers work can be ended with one click; nothing else says that it can.
    const hasWayOut = isCommercial(MESSAGE_KINDS[kind])
    expect(headersOf(letter, 'list-unsubscribe')).toHaveLength(hasWayOut ? 1 : 0)
    expect(headersOf(letter, 'list-unsubscribe-post')).toEqual(
      hasWayOut ? ['List-Unsubscribe-Post: List-Unsubscribe=One-Click'] : [],
    )
    // RFC 5322 §2.1.1; larger letters are cut off by mail programs.
    expect(
      Math.max(
        ...source
          .toString('latin1')
          .split('\r\n')
          .map(({ length }) => length),
      ),
    ).toBeLessThanOrEqual(998)
    expect(source.length).toBeLessThan(100_000)
    const { results } = await dkimVerify(source, { resolver: resolver as never })
    expect(results.map(({ status }) => status.result)).toEqual(['pass'])
  })

  test('the same words in HTML and in plain text, nothing from elsewhere, nothing left open', async () => {
    const { mail, source } = letterOf(kind, language)
    const html = mail.html as string
    const text = mail.text!
    // RFC 2046 §5.1.4: the plainest first.
    const types = [...source.toString().matchAll(/^Content-Type: ([\w/]+)/gm)].map(([, type]) => type)
    expect(types.join(' ')).toMatch(/multipart\/alternative.* text\/plain text\/html/)
    expect(html).toMatch(new RegExp(`<html lang="${language}" dir="ltr">`))
    expect(html).not.toMatch(/<(img|script|link|iframe|object|form)\b|url\(|@import|\bsrc=|\bon\w+=/i)
    for (const [, url] of html.matchAll(/href="([^"]*)"/g)) expect(url).toMatch(/^http:\/\/localhost:3000\//)
    for (const body of [html, text]) expect(body).not.toMatch(/\{\{|\}\}|undefined|\[object|NaN|&amp;amp;/)
    // The parser makes plain text of HTML by itself where a message has nothing else.
    const seen = html.replace(/<div style="display:none[\s\S]*?<\/div>/, '').replaceAll('</td>', ' </td>')
    const alone = await simpleParser(`Content-Type: text/html; charset=utf-8\r\n\r\n${seen}`)
    const shown = alone.text!
    expect(wordsOf(shown)).toEqual(wordsOf(text))
    // What the law asks for under each: who, and where (16 CFR 316.5).
    for (const foot of ['Kestrel Row Electric', '1 Kestrel Row', '555-0100']) expect(text).toContain(foot)
  })

  test('a calendar with the letters of a visit, and with no other', () => {
    const { mail, source, home } = letterOf(kind, language)
    const parts = mail.attachments.filter(({ contentType }) => contentType === 'text/calendar')
    const method = { 'visit-booked': 'REQUEST', 'visit-moved': 'REQUEST', 'visit-cancelled': 'CANCEL' }[
      kind as string
    ]
    if (!method) return expect(source.toString()).not.toMatch(/text\/calendar|BEGIN:VCALENDAR/)
    // RFC 6047 §2.4: the part's method is that of the calendar.
    expect(source.toString()).toMatch(
      new RegExp(`Content-Type: text/calendar; charset=utf-8;\\s+method=${method}`),
    )
    const calendar = new ICAL.Component(ICAL.parse(parts[0]!.content.toString()))
    expect(calendar.getFirstPropertyValue('method')).toBe(method)
    const vevent = calendar.getFirstSubcomponent('vevent')!
    const event = new ICAL.Event(vevent)
    expect(event.startDate.toString()).toBe(
      kind === 'visit-moved' ? '2026-06-03T13:00:00' : '2026-06-02T09:00:00',
    )
    expect(vevent.getFirstPropertyValue('status')).toBe(method === 'CANCEL' ? 'CANCELLED' : 'CONFIRMED')
    // RFC 5546 §3.2.2 and §3.2.5: a change counts higher than what it changes.
    expect(event.sequence).toBe(kind === 'visit-booked' ? 0 : 1)
    expect(String(vevent.getFirstPropertyValue('organizer')).toLowerCase()).toBe('mailto:office@example.com')
    expect(event.attendees.map((each) => String(each.getFirstValue()).toLowerCase())).toEqual([
      `mailto:home-${home.customerId}@example.com`,
    ])
    expect(event.summary).toBe(
      language === 'es' ? 'Inspección: Kestrel Row Electric' : 'Inspection: Kestrel Row Electric',
    )
  })
})

describe('in Spanish, what was written in English is a quotation', () => {
  const spanish = (kind: MessageKind) => letterOf(kind, 'es').mail.text!.replace(/\s+/g, ' ')
  test('a danger: what it is in Spanish, the technician’s own words as such', () => {
    expect(spanish('unsafe-finding')).toContain(
      'Tomacorriente («Bare live conductor behind the dryer outlet», escrito por el técnico en inglés). ' +
        'Lo que hicimos por el momento: «Breaker 14 switched off & tagged» (escrito por el técnico en inglés).',
    )
  })
  test('a finding among what is due', () => {
    expect(spanish('due-reminder')).toContain(
      'En nuestra inspección anotamos: tomacorriente («Outlet loose in its box», escrito por el técnico en inglés). Debería repararse.',
    )
  })
  test('why a visit was cancelled', () => {
    expect(spanish('visit-cancelled')).toContain(
      'Motivo: «Our technician is ill» (escrito por la oficina en inglés).',
    )
  })
  test.each([
    ['Tomacorriente flojo junto al fregadero.', 'Tomacorriente flojo junto al fregadero'],
    ['La caja del panel no tiene tapa', 'La caja del panel no tiene tapa'],
    [
      'Panel cover is missing a screw.',
      'tomacorriente («Panel cover is missing a screw», escrito por el técnico en inglés)',
    ],
    ['Scorched', 'tomacorriente («Scorched», tal como lo escribió el técnico)'],
    ['', 'tomacorriente'],
  ])('what the technician wrote as “%s”', (text, words) => {
    expect(findingInWords({ itemId: 'receptacles.device', text }, 'es')).toBe(words)
  })
  test('in English there is nothing to quote', () => {
    const text = letterOf('unsafe-finding', 'en').mail.text!.replace(/\s+/g, ' ')
    expect(text).toContain(
      'Bare live conductor behind the dryer outlet. What we did for the moment: Breaker 14 switched off & tagged.',
    )
  })
})

describe('a mail program that does what RFC 8058 says', () => {
  /** Everything but the words on what is wanted, and the record of who changed them. */
  const everythingElse = async () => {
    const tables = [
      'follow_up',
      'customer',
      'property_party',
      'private_link',
      'visit',
      'visit_request',
      'suppressed_address',
      'message',
    ]
    const rows = tables.map((table) =>
      db.$queryRawUnsafe(`SELECT to_jsonb(t)::text AS row FROM ${table} t ORDER BY 1`),
    )
    return JSON.stringify(await Promise.all(rows))
  }
  const words = () => db.messagePreference.findMany({ orderBy: [{ customerId: 'asc' }, { category: 'asc' }] })

  test.each([
    ['due-reminder', 'en', 'application/x-www-form-urlencoded'],
    ['due-reminder', 'es', 'multipart/form-data'],
    ['safety-tips', 'en', 'multipart/form-data'],
    ['safety-tips', 'es', 'application/x-www-form-urlencoded'],
  ] as const)('ends %s in %s by %s, and nothing else', async (kind, language, type) => {
    const { source, home } = letterOf(kind, language)
    const { customerId } = home
    const client = await oneClick(source, { resolver, connectTo: app })
    const [before, wordsBefore] = [await everythingElse(), await words()]
    // Scanners of mail fetch each link, and must not end anything: RFC 8058 §1.
    for (const method of ['GET', 'HEAD'] as const)
      expect((await client.fetchLikeAScanner(method)).status).toBe(200)
    expect([await everythingElse(), await words()]).toEqual([before, wordsBefore])
    for (let times = 0; times < 2; times++) {
      const answer = await client.unsubscribe(type)
      expect([answer.status, answer.headers.location, answer.headers['set-cookie']]).toEqual([
        200,
        undefined,
        undefined,
      ])
    }
    expect(await everythingElse()).toBe(before)
    const category = MESSAGE_KINDS[kind]
    const mine = (each: { customerId: string; category: string }) =>
      each.customerId === customerId && each.category === category
    expect((await words()).filter(mine)).toMatchObject([{ allowed: false, source: 'unsubscribe' }])
    expect((await words()).filter((each) => !mine(each))).toEqual(wordsBefore.filter((each) => !mine(each)))
    // The kind is off; a booking still reaches them.
    await tell(home, kind)
    await tell(home, 'visit-booked', { visitId: newId() }).catch(() => {})
    const next = await db.message.findFirstOrThrow({ where: { customerId, kind }, orderBy: { id: 'desc' } })
    expect(next).toMatchObject({ state: 'suppressed', lastError: 'They do not want messages of this kind.' })
  })

  test('finds no way out in what must always arrive, and none that the signature does not cover', async () => {
    await expect(
      oneClick(letterOf('unsafe-finding', 'en').source, { resolver, connectTo: app }),
    ).rejects.toThrow(/no List-Unsubscribe/)
    const { source } = letterOf('due-reminder', 'en')
    const bent = Buffer.from(
      source.toString('latin1').replace(/(List-Unsubscribe:\s+<http:\/\/)localhost/, '$1elsewhere'),
      'latin1',
    )
    expect(bent).not.toEqual(source)
    await expect(oneClick(bent, { resolver, connectTo: app })).rejects.toThrow(/signature/)
  })
})
