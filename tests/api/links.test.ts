import { readFileSync } from 'node:fs'
import { beforeEach, describe, expect, test } from 'vitest'
import { day } from '../../trade/dates.ts'
import { notify } from '../../server/follow-ups/notify.ts'
import { planDue } from '../../server/follow-ups/plan.ts'
import { newId } from '../../server/ids.ts'
import { linkUrl } from '../../server/links/service.ts'
import { readUnsubscribeToken, unsubscribeToken } from '../../server/links/unsubscribe.ts'
import { buildTestApp } from '../build/app.ts'
import { buildAlarm, buildHousehold, buildTechnician, buildVisit } from '../build/follow-up.ts'
import { buildDueHome } from '../build/due-home.ts'
import { buildLink } from '../build/link.ts'
import { fieldsOf, visitorOf } from '../build/visitor.ts'

const { app, ctx, clock, person, rung } = await buildTestApp()
const { db, env } = ctx
await buildTechnician(ctx)

beforeEach(() => {
  clock.set('2026-06-01T15:00:00Z')
  rung.length = 0
})

const dueHome = (more?: Parameters<typeof buildDueHome>[2]) => buildDueHome(app, ctx, more)

/** Everything that a page could have changed. */
async function snapshot() {
  const tables = [
    'follow_up',
    'equipment',
    'visit',
    'visit_request',
    'message_preference',
    'property_party',
    'finding',
    'customer',
    'audit_entry',
  ]
  const rows = await Promise.all(
    tables.map((table) =>
      db.$queryRawUnsafe(`SELECT to_jsonb(t) AS row FROM ${table} t ORDER BY to_jsonb(t)::text`),
    ),
  )
  return JSON.stringify(rows)
}

describe('the link', () => {
  test('opens one household and nothing else, and says when it was seen', async () => {
    const { at, url, customerId } = await dueHome()
    const other = await dueHome()
    const answer = await at.get(url)
    expect(answer.statusCode).toBe(200)
    expect(answer.headers).toMatchObject({
      'content-type': 'text/html; charset=utf-8',
      'cache-control': 'no-store',
      'referrer-policy': 'no-referrer',
      'x-robots-tag': 'noindex, nofollow',
    })
    expect(answer.headers['set-cookie']).toBeUndefined()
    expect(answer.body).toContain('Kestrel Row Electric')
    expect(answer.body).toContain('should be replaced by June 20, 2026')
    const link = await db.privateLink.findFirstOrThrow({ where: { customerId } })
    expect(link.lastSeenAt).toEqual(clock.now)
    const form = fieldsOf(
      answer.body,
      `${url}/items/${(await db.followUp.findFirstOrThrow({ where: { propertyId: (await db.privateLink.findFirstOrThrow({ where: { customerId } })).propertyId! } })).id}`,
      'snooze',
    )
    const stolen = await at.post(`${url}/items/${other.id}`, { ...form, length: 'one-week' })
    expect(stolen.statusCode).toBe(404)
    expect(
      (
        await at.post(`${url}/not-mine`, {
          form: form['form']!,
          id: newId(),
          property: other.propertyId,
          why: 'sold',
        })
      ).statusCode,
    ).toBe(404)
  })

  test('a GET of any page of it changes nothing, however often and by whatever program', async () => {
    const { at, url, customerId, propertyId } = await dueHome()
    const visitId = await buildVisit(
      ctx,
      { customerId, propertyId, zone: 'America/New_York' },
      new Date('2026-06-10T14:00:00Z'),
    )
    const visitUrl = await buildLink(
      ctx,
      { customerId, propertyId, zone: '' },
      { purpose: 'visit', subjectId: visitId },
    )
    const out = `/u/${unsubscribeToken(env, customerId, 'reminder')}`
    const before = await snapshot()
    for (const page of [
      url,
      `${url}/preferences`,
      `${url}/thanks?for=declined`,
      visitUrl,
      out,
      `${url}/request`,
      `${url}/visit`,
    ]) {
      await at.get(page)
      await at.get(page, { 'user-agent': 'LinkScanner/1.0' })
    }
    expect(await snapshot()).toBe(before)
  })

  test.each([
    ['made up', '/h/AAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAA', 404, 'This page does not exist'],
    ['too short', '/h/x', 404, 'This page does not exist'],
    ['with a zero byte', '/h/%00', 404, 'This page does not exist'],
    [
      'a way out that is made up',
      '/u/AAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAA',
      404,
      'This page does not exist',
    ],
  ])('%s: a page in plain words with the phone', async (_what, url, status, words) => {
    const answer = await visitorOf(app).get(url)
    expect(answer.statusCode).toBe(status)
    expect(answer.body).toContain(words)
    expect(answer.body).toContain('tel:5550100')
  })

  test('run out or withdrawn: 410, in the language of the browser', async () => {
    const home = await buildHousehold(ctx)
    const old = await buildLink(ctx, home, { expiresAt: clock.now })
    const answer = await visitorOf(app).get(old, { 'accept-language': 'es-MX,es;q=0.9' })
    expect(answer.statusCode).toBe(410)
    expect(answer.body).toContain('Esta página ya no está abierta')
    const revoked = await buildLink(ctx, home)
    await db.privateLink.updateMany({
      where: { customerId: home.customerId },
      data: { revokedAt: clock.now },
    })
    const closed = await visitorOf(app).get(revoked)
    expect(closed.statusCode).toBe(410)
    expect(closed.body).toContain('We closed this page')
    expect(closed.body).toContain('tel:5550100')
    expect((await visitorOf(app).post(`${revoked}/request`, {})).statusCode).toBe(410)
  })

  test('the link in a message is that message’s, and marks it as opened and answered', async () => {
    const home = await buildHousehold(ctx)
    await buildAlarm(ctx, home, day('2026-06-20'))
    await planDue(ctx, db, { propertyId: home.propertyId })
    const { messageIds } = await notify(ctx, { propertyId: home.propertyId })
    const url = new URL(linkUrl(env, messageIds[0]!)).pathname
    const at = visitorOf(app)
    expect((await at.get(url)).statusCode).toBe(200)
    const message = () => db.message.findUniqueOrThrow({ where: { id: messageIds[0]! } })
    expect(await message()).toMatchObject({ openedPageAt: clock.now, actedAt: null })
    const { id } = await db.followUp.findFirstOrThrow({ where: { propertyId: home.propertyId } })
    const form = fieldsOf((await at.get(url)).body, `${url}/items/${id}`, 'snooze')
    await at.post(`${url}/items/${id}`, { ...form, length: 'one-month' })
    expect(await message()).toMatchObject({ actedAt: clock.now })
  })

  test('many tries are slowed down', async () => {
    const at = visitorOf(app)
    const codes = []
    for (let n = 0; n < 130; n++) codes.push((await at.get('/h/guess')).statusCode)
    expect(codes.filter((code) => code === 429).length).toBeGreaterThan(0)
    const slowed = await at.get('/h/guess')
    expect(slowed.body).toContain('One moment, please')
  })
})

describe('asking for a visit', () => {
  test('from a free window: a request, the follow-ups wait for us, a letter says so; sent twice, once', async () => {
    const { at, url, propertyId, customerId, id } = await dueHome()
    const { body } = await at.get(url)
    const form = fieldsOf(body, `${url}/request`)
    const window = /name="window" value="(2026-06-02 [\d: ]+)"/.exec(body)![1]!
    const fields = { ...form, about: id, window, note: 'Dog in the yard' }
    const answers = [await at.post(`${url}/request`, fields), await at.post(`${url}/request`, fields)]
    for (const answer of answers) {
      expect(answer.statusCode).toBe(303)
      expect(answer.headers.location).toBe(`${url}/thanks?for=requested`)
    }
    const requests = await db.visitRequest.findMany({ where: { customerId } })
    expect(requests).toMatchObject([
      {
        id: form['id'],
        propertyId,
        source: 'private-link',
        state: 'waiting',
        kind: 'inspection',
        note: 'Dog in the yard',
        preferredTime: '08:00 – 10:00',
        reason: 'Asked on their page: Hall alarm',
      },
    ])
    expect(requests[0]!.preferredDays).toEqual([new Date('2026-06-02')])
    expect(await db.followUp.findUniqueOrThrow({ where: { id } })).toMatchObject({
      state: 'asked',
      requestId: form['id'],
    })
    expect(await db.message.count({ where: { customerId, kind: 'request-received' } })).toBe(1)
    expect(rung).toHaveLength(1)
    expect((await at.get(`${url}/thanks?for=requested`)).body).toContain('until then nothing is booked')
    expect((await at.get(url)).body).toContain('You asked us for a visit.')
  })

  test('a time that was taken since is not asked for; what was typed is still there', async () => {
    const { at, url, customerId } = await dueHome()
    const { body } = await at.get(url)
    const form = fieldsOf(body, `${url}/request`)
    const fields = { ...form, window: '2026-06-02 03:00 05:00', note: 'Ring twice' }
    const answer = await at.post(`${url}/request`, fields)
    expect(answer.statusCode).toBe(400)
    expect(answer.body).toContain('That time was taken a moment ago.')
    expect(answer.body).toContain('>Ring twice</textarea>')
    expect(await db.visitRequest.count({ where: { customerId } })).toBe(0)
  })

  test('in their own words, or not at all', async () => {
    const { at, url, customerId } = await dueHome({ language: 'es' })
    const form = fieldsOf((await at.get(url)).body, `${url}/request`)
    const empty = await at.post(`${url}/request`, form)
    expect(empty.statusCode).toBe(400)
    expect(empty.body).toContain('role="alert"')
    expect(empty.body).toContain('Elija una hora libre')
    expect((await at.post(`${url}/request`, { ...form, days: 'Martes', form: 'forged' })).statusCode).toBe(
      400,
    )
    expect((await at.post(`${url}/request`, { ...form, days: 'x'.repeat(61) })).statusCode).toBe(400)
    expect(await db.visitRequest.count({ where: { customerId } })).toBe(0)
    expect((await at.post(`${url}/request`, { ...form, days: 'Martes' })).statusCode).toBe(303)
    expect(await db.visitRequest.count({ where: { customerId } })).toBe(1)
  })
})

describe('the page of a visit', () => {
  const visitPage = async (state = 'booked', startsAt = new Date('2026-06-10T14:00:00Z')) => {
    const home = await buildHousehold(ctx)
    const visitId = await buildVisit(ctx, home, startsAt, { state })
    const url = await buildLink(ctx, home, { purpose: 'visit', subjectId: visitId })
    return { ...home, visitId, url, at: visitorOf(app) }
  }

  test('says when and who; confirmed, moved or cancelled by request only', async () => {
    const { at, url, visitId, customerId } = await visitPage()
    const { body } = await at.get(url)
    expect(body).toContain('Wednesday, June 10, 2026')
    expect(body).toContain('between 10:00 AM and 12:00 PM')
    expect(
      (await at.post(`${url}/visit`, fieldsOf(body, `${url}/visit`, 'confirm'))).headers.location,
    ).toContain('for=confirmed')
    expect(await db.auditEntry.findFirst({ where: { subjectId: visitId } })).toMatchObject({
      action: 'visit.confirmed-by-customer',
    })
    expect(await db.visit.findUnique({ where: { id: visitId } })).toMatchObject({
      confirmedAt: clock.now,
      version: 1,
      sequence: 0,
    })
    expect((await at.get(url)).body).toContain('You told us that somebody will be at home.')
    expect(
      (await at.post(`${url}/request`, { ...fieldsOf(body, `${url}/request`), days: 'Friday' })).headers
        .location,
    ).toContain('for=moving')
    const cancel = { ...fieldsOf(body, `${url}/visit`, 'cancel'), reason: 'Ill' }
    expect((await at.post(`${url}/visit`, cancel)).headers.location).toContain('for=cancelling')
    expect((await at.post(`${url}/visit`, cancel)).headers.location).toContain('for=cancelling')
    const requests = await db.visitRequest.findMany({ where: { customerId }, orderBy: { createdAt: 'asc' } })
    expect(requests.map(({ reason }) => reason)).toEqual([
      'Asks to move the visit on Wednesday, June 10, 2026',
      'Asks to cancel the visit on Wednesday, June 10, 2026',
    ])
    expect(await db.visit.findUniqueOrThrow({ where: { id: visitId } })).toMatchObject({
      state: 'booked',
      version: 1,
    })
  })

  test('over, it offers no change; not let in, another time', async () => {
    const over = await visitPage('finished', new Date('2026-05-20T14:00:00Z'))
    expect((await over.at.get(over.url)).body).toContain('This visit has taken place.')
    const missed = await visitPage('no-access', new Date('2026-05-29T14:00:00Z'))
    const { body } = await missed.at.get(missed.url)
    expect(body).toContain('We came and could not get in.')
    const answer = await missed.at.post(`${missed.url}/request`, {
      ...fieldsOf(body, `${missed.url}/request`),
      days: 'Monday',
    })
    expect(answer.headers.location).toContain('for=requested')
  })
})

describe('preferences and the way out', () => {
  test('the other language in one click, without a script, remembered for the person and their letters', async () => {
    const home = await dueHome()
    const path = `${home.url}/language`
    const { body } = await home.at.get(home.url)
    const form = fieldsOf(body, path)
    expect(form).toMatchObject({ language: 'es', page: '' })
    expect((await home.at.post(path, { ...form, form: 'forged' })).headers.location).toBe(home.url)
    expect((await db.customer.findUniqueOrThrow({ where: { id: home.customerId } })).language).toBe('en')
    for (let times = 0; times < 2; times++) {
      expect((await home.at.post(path, form)).headers.location).toBe(`${home.url}?language=saved`)
    }
    expect((await home.at.get(`${home.url}?language=saved`)).body).toContain(
      'A partir de ahora le escribimos en español.',
    )
    expect(fieldsOf((await home.at.get(`${home.url}/preferences`)).body, path)).toMatchObject({
      language: 'en',
      page: 'preferences',
    })
    expect((await db.customer.findUniqueOrThrow({ where: { id: home.customerId } })).language).toBe('es')
    expect(
      await db.auditEntry.count({ where: { subjectId: home.customerId, action: 'customer.language' } }),
    ).toBe(1)
  })

  test('saved by category and language; refused reminders come back when they are wanted again', async () => {
    const home = await dueHome()
    const at = home.at
    const page = `${home.url}/preferences`
    const form = fieldsOf((await at.get(page)).body, page)
    expect((await at.post(page, { ...form, tips: 'yes', language: 'es' })).headers.location).toBe(
      `${page}?saved=yes`,
    )
    expect((await at.get(`${page}?saved=yes`)).body).toContain('Su elección está guardada.')
    const words = await db.messagePreference.findMany({
      where: { customerId: home.customerId },
      orderBy: { category: 'asc' },
    })
    expect(words.map(({ category, allowed, source }) => [category, allowed, source])).toEqual([
      ['reminder', false, 'preferences-page'],
      ['tips', true, 'preferences-page'],
    ])
    await notify(ctx, { propertyId: home.propertyId })
    expect(await db.followUp.findUniqueOrThrow({ where: { id: home.id } })).toMatchObject({
      state: 'dismissed',
    })
    clock.set('2026-06-03T15:00:00Z')
    await at.post(page, { ...form, tips: 'yes', reminder: 'yes', language: 'es' })
    expect(await db.followUp.findUniqueOrThrow({ where: { id: home.id } })).toMatchObject({ closedAt: null })
    // The tips are counted from the day on which they were asked for, not from the last look at the page.
    const tips = await db.messagePreference.findFirstOrThrow({
      where: { customerId: home.customerId, category: 'tips' },
    })
    expect(tips.changedAt.toISOString()).toBe('2026-06-01T15:00:00.000Z')
    expect((await at.post(page, { ...form, language: 'fr' })).statusCode).toBe(400)
    expect((await at.post(page, { language: 'en' })).statusCode).toBe(400)
  })

  // RFC 8058 §3.1, and EM3 and EM4 of the handbook: the exact body, no cookie, no redirect, the same answer again.
  test.each([
    ['form-urlencoded', 'application/x-www-form-urlencoded', 'List-Unsubscribe=One-Click'],
    [
      'multipart',
      'multipart/form-data; boundary=---F',
      '-----F\r\nContent-Disposition: form-data; name="List-Unsubscribe"\r\n\r\nOne-Click\r\n-----F--\r\n',
    ],
  ])('one click as %s', async (_how, contentType, payload) => {
    const { customerId } = await buildHousehold(ctx)
    const url = `/u/${unsubscribeToken(env, customerId, 'reminder')}`
    const before = await snapshot()
    const asked = await visitorOf(app).get(url)
    expect(asked.statusCode).toBe(200)
    expect(asked.body).toContain('Stop these messages?')
    expect(await snapshot()).toBe(before)
    for (let times = 0; times < 2; times++) {
      const answer = await app.inject({
        method: 'POST',
        url,
        headers: { 'content-type': contentType },
        payload,
      })
      expect(answer.statusCode).toBe(200)
      expect(answer.headers.location).toBeUndefined()
      expect(answer.headers['set-cookie']).toBeUndefined()
    }
    expect(await db.messagePreference.findMany({ where: { customerId } })).toMatchObject([
      { category: 'reminder', allowed: false, source: 'unsubscribe' },
    ])
    expect(await db.auditEntry.count({ where: { subjectId: customerId } })).toBe(1)
  })

  test('works 30 days and more after the mail, and by the button on the page', async () => {
    // EM2: a link in mail of 1 May works through 31 May at least.
    const { customerId } = await buildHousehold(ctx)
    const url = `/u/${unsubscribeToken(env, customerId, 'tips')}`
    clock.set('2027-06-01T15:00:00Z')
    expect((await visitorOf(app).post(url, { confirm: 'yes' })).statusCode).toBe(200)
    expect(
      await db.messagePreference.count({ where: { customerId, category: 'tips', allowed: false } }),
    ).toBe(1)
    expect((await visitorOf(app).post(url, {})).statusCode).toBe(400)
  })

  test('a way out cannot be made up or turned on somebody else', () => {
    const [one, two] = [newId(), newId()]
    const token = unsubscribeToken(env, one, 'reminder')
    expect(readUnsubscribeToken(env, token)).toEqual({ customerId: one, category: 'reminder' })
    const bytes = Buffer.from(token, 'base64url')
    for (let at = 0; at < bytes.length; at++) {
      const bent = Buffer.from(bytes)
      bent[at]! ^= 1
      expect(readUnsubscribeToken(env, bent.toString('base64url'))).toBeNull()
    }
    expect(readUnsubscribeToken({ secret: 'another secret, another secret, another' }, token)).toBeNull()
    expect(unsubscribeToken(env, two, 'reminder')).not.toBe(token)
  })
})

test('the style is served, and kept', async () => {
  const { at, url } = await dueHome()
  const href = /href="(\/h-style\/[^"]+)"/.exec((await at.get(url)).body)![1]!
  const style = await at.get(href)
  expect(style.headers).toMatchObject({
    'content-type': 'text/css; charset=utf-8',
    'cache-control': 'public, max-age=31536000, immutable',
  })
  expect(style.body).toBe(readFileSync('server/homeowner/page.css', 'utf8'))
})

test('a company user is no homeowner, and a link is no log-in', async () => {
  const { url } = await dueHome()
  const office = await person('office')
  expect((await office.call('GET', url)).statusCode).toBe(200)
  expect(
    (
      await app.inject({
        method: 'GET',
        url: '/api/v1/customers',
        headers: { authorization: `Bearer ${url.slice(3)}` },
      })
    ).statusCode,
  ).toBe(401)
})
