import { readFileSync } from 'node:fs'
import { beforeEach, describe, expect, test } from 'vitest'
import { day } from '../../trade/dates.ts'
import { notify } from '../../server/follow-ups/notify.ts'
import { listTold } from '../../server/messages/facts-store.ts'
import { planDue } from '../../server/follow-ups/plan.ts'
import { newId } from '../../server/ids.ts'
import { linkUrl } from '../../server/links/service.ts'
import { readUnsubscribeToken, unsubscribeToken } from '../../server/links/unsubscribe.ts'
import { buildTestApp } from '../build/app.ts'
import {
  buildAlarm,
  buildFinding,
  buildHousehold,
  buildTechnician,
  buildVisit,
  storeEquipment,
} from '../build/follow-up.ts'
import { buildLink } from '../build/link.ts'
import type { Equipment } from '../../trade/equipment.ts'

const { app, ctx, clock, person, rung } = await buildTestApp()
const { db, env } = ctx
await buildTechnician(ctx)

beforeEach(() => {
  clock.set('2026-06-01T15:00:00Z')
  rung.length = 0
})

// A browser without a log-in; each has an address of its own, for the slowing-down counts by address.
let visitors = 0
function browser() {
  const remoteAddress = `192.0.2.${(++visitors % 250) + 1}`
  const headers = { 'content-type': 'application/x-www-form-urlencoded' }
  return {
    get: (url: string, more: Record<string, string> = {}) =>
      app.inject({ method: 'GET', url, remoteAddress, headers: more }),
    post: (url: string, fields: Record<string, string>) =>
      app.inject({
        method: 'POST',
        url,
        remoteAddress,
        headers,
        payload: new URLSearchParams(fields).toString(),
      }),
  }
}

/** The hidden fields of the form that posts to an address ending so, with the fields that a person fills in. */
function fieldsOf(html: string, action: string, act?: string): Record<string, string> {
  const forms = html.match(/<form[\s\S]*?<\/form>/g) ?? []
  const form = forms.find(
    (each) => each.includes(`action="${action}"`) && (!act || each.includes(`value="${act}"`)),
  )
  if (!form) throw new Error(`no form for ${action} ${act ?? ''}`)
  const hidden = [...form.matchAll(/<input type="hidden" name="([^"]+)" value="([^"]*)">/g)]
  return Object.fromEntries(hidden.map(([, name, value]) => [name!, value!]))
}

async function dueHome(more: Parameters<typeof buildHousehold>[1] = {}) {
  const home = await buildHousehold(ctx, more)
  const alarmId = await buildAlarm(ctx, home, day('2026-06-20'))
  await planDue(ctx, db, { propertyId: home.propertyId })
  const url = await buildLink(ctx, home)
  const { id } = await db.followUp.findFirstOrThrow({ where: { propertyId: home.propertyId } })
  return { ...home, alarmId, url, id, at: browser() }
}

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
    const answer = await browser().get(url)
    expect(answer.statusCode).toBe(status)
    expect(answer.body).toContain(words)
    expect(answer.body).toContain('tel:5550100')
  })

  test('run out or withdrawn: 410, in the language of the browser', async () => {
    const home = await buildHousehold(ctx)
    const old = await buildLink(ctx, home, { expiresAt: clock.now })
    const answer = await browser().get(old, { 'accept-language': 'es-MX,es;q=0.9' })
    expect(answer.statusCode).toBe(410)
    expect(answer.body).toContain('Esta página ya no está abierta')
    const revoked = await buildLink(ctx, home)
    await db.privateLink.updateMany({
      where: { customerId: home.customerId },
      data: { revokedAt: clock.now },
    })
    const closed = await browser().get(revoked)
    expect(closed.statusCode).toBe(410)
    expect(closed.body).toContain('We closed this page')
    expect(closed.body).toContain('tel:5550100')
    expect((await browser().post(`${revoked}/request`, {})).statusCode).toBe(410)
  })

  test('the link in a message is that message’s, and marks it as opened and answered', async () => {
    const home = await buildHousehold(ctx)
    await buildAlarm(ctx, home, day('2026-06-20'))
    await planDue(ctx, db, { propertyId: home.propertyId })
    const { messageIds } = await notify(ctx, { propertyId: home.propertyId })
    const url = new URL(linkUrl(env, messageIds[0]!)).pathname
    const at = browser()
    expect((await at.get(url)).statusCode).toBe(200)
    const message = () => db.message.findUniqueOrThrow({ where: { id: messageIds[0]! } })
    expect(await message()).toMatchObject({ openedPageAt: clock.now, actedAt: null })
    const { id } = await db.followUp.findFirstOrThrow({ where: { propertyId: home.propertyId } })
    const form = fieldsOf((await at.get(url)).body, `${url}/items/${id}`, 'snooze')
    await at.post(`${url}/items/${id}`, { ...form, length: 'one-month' })
    expect(await message()).toMatchObject({ actedAt: clock.now })
  })

  test('many tries are slowed down', async () => {
    const at = browser()
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

describe('“I replaced it myself”', () => {
  const replaced = async (fields: Record<string, string>) => {
    const home = await dueHome()
    const path = `${home.url}/items/${home.id}`
    const form = fieldsOf((await home.at.get(home.url)).body, path, 'replaced')
    const send = () => home.at.post(path, { ...form, same: 'yes', ...fields })
    return { home, send, answer: await send() }
  }

  test('with the date on the new one: the old is out of use, the new one has its ten years, the follow-up ends', async () => {
    const { home, send, answer } = await replaced({ manufacturedOn: '2026-01-15', replacedOn: '2026-05-30' })
    expect(answer.headers.location).toContain(`${home.url}/thanks?for=replaced&answer=`)
    expect((await send()).headers.location).toBe(answer.headers.location)
    const { body } = await home.at.get(answer.headers.location!)
    expect(body).toContain('was replaced on May 30, 2026, by one that was made on January 15, 2026.')
    expect(body).toContain('We write to you again before January 15, 2036')
    // Without its answer the sentence would have gaps.
    expect((await home.at.get(`${home.url}/thanks?for=replaced`)).statusCode).toBe(404)
    const [old, ...fresh] = await db.equipment.findMany({
      where: { propertyId: home.propertyId },
      orderBy: { retiredOn: 'asc' },
    })
    expect(old).toMatchObject({
      id: home.alarmId,
      retiredOn: new Date('2026-05-30'),
      retiredReason: 'Replaced by the homeowner, as they say',
    })
    // NFPA 72-2013 §14.4.7.1: ten years from manufacture.
    expect(fresh).toMatchObject([
      {
        label: 'Hall alarm',
        manufacturedOn: new Date('2026-01-15'),
        replaceBy: new Date('2036-01-15'),
        details: { senses: 'smoke', power: 'mains' },
      },
    ])
    expect(await db.followUp.findUniqueOrThrow({ where: { id: home.id } })).toMatchObject({
      state: 'done',
      closedReason: 'The device was replaced; its new date takes over',
    })
    expect(
      await db.auditEntry.findFirst({ where: { subjectId: home.alarmId, actorKind: 'homeowner' } }),
    ).toMatchObject({ action: 'equipment.retire', actorId: home.customerId })
  })

  test.each([
    [
      'made in the future',
      { manufacturedOn: '2026-06-02', replacedOn: '2026-06-01' },
      'That day is still to come.',
    ],
    [
      'fitted in the future',
      { manufacturedOn: '2026-01-01', replacedOn: '2027-01-01' },
      'That day is still to come.',
    ],
    [
      'no newer than the old one',
      { manufacturedOn: '2016-06-20', replacedOn: '2026-05-30' },
      'That is not later than the date of the old device, June 20, 2016.',
    ],
    [
      'fitted before it was made',
      { manufacturedOn: '2026-05-01', replacedOn: '2026-04-30' },
      'cannot have been fitted before it was made',
    ],
    ['no day at all', { manufacturedOn: '2026-02-30', replacedOn: '2026-05-30' }, 'Please give a day'],
    ['nothing', { manufacturedOn: '', replacedOn: '' }, 'Please give a day'],
  ])('%s: said what is wrong, and nothing is written', async (_what, fields, words) => {
    const { home, answer } = await replaced(fields)
    expect(answer.statusCode).toBe(400)
    expect(answer.body).toContain(words)
    expect(await db.equipment.count({ where: { propertyId: home.propertyId } })).toBe(1)
    expect(await db.followUp.findUniqueOrThrow({ where: { id: home.id } })).toMatchObject({ closedAt: null })
  })
})

describe('an old device whose own dates do not help', () => {
  const answer = async (dates: object, fields: Record<string, string>) => {
    const home = await dueHome()
    await db.equipment.update({ where: { id: home.alarmId }, data: dates })
    const path = `${home.url}/items/${home.id}`
    const form = fieldsOf((await home.at.get(home.url)).body, path, 'replaced')
    return home.at.post(path, { ...form, same: 'yes', ...fields })
  }

  test('undated: the new one must not have come to its end already', async () => {
    // NFPA 72-2013 §14.4.7.1: ten years from manufacture.
    const worn = await answer(
      { manufacturedOn: null },
      { manufacturedOn: '2016-05-31', replacedOn: '2026-05-30' },
    )
    expect(worn.statusCode).toBe(400)
    expect(worn.body).toContain('has come to its end already (May 31, 2026)')
    // What was typed is still there, and its form stands open.
    expect(worn.body).toMatch(/<details open><summary>It has been replaced/)
    expect(worn.body).toContain('name="manufacturedOn" max="2026-06-01" value="2016-05-31"')
  })

  test('looked at by us after the day that they name: asked again', async () => {
    const dates = { lastCheckedOn: new Date('2026-05-15') }
    const early = await answer(dates, { manufacturedOn: '2026-01-15', replacedOn: '2026-05-14' })
    expect(early.body).toContain('the old one was looked at on May 15, 2026')
    expect((await answer(dates, { manufacturedOn: '2026-01-15', replacedOn: '2026-05-15' })).statusCode).toBe(
      303,
    )
  })

  test('recorded with a day that is still to come: our slip holds nobody up', async () => {
    const dates = { manufacturedOn: new Date('2062-01-15'), installedOn: new Date('2062-02-01') }
    const taken = await answer(dates, { manufacturedOn: '2026-01-15', replacedOn: '2026-05-30' })
    expect(taken.statusCode).toBe(303)
  })
})

describe('other answers', () => {
  const say = async (
    home: Awaited<ReturnType<typeof dueHome>>,
    act: string,
    fields: Record<string, string>,
    id = home.id,
  ) => {
    const path = `${home.url}/items/${id}`
    const form = fieldsOf((await home.at.get(home.url)).body, path, act)
    return home.at.post(path, { ...form, ...fields })
  }
  const followUp = (id: string) => db.followUp.findUniqueOrThrow({ where: { id } })

  test('remind me later: lengths that fit the thing, the day is said, and it can be taken back', async () => {
    const home = await dueHome()
    const lengths = (body: string) =>
      [...body.matchAll(/name="length" value="([^"]+)"/g)].map((each) => each[1])
    const { body } = await home.at.get(home.url)
    expect(lengths(body)).toEqual(['one-week', 'one-month'])
    expect(body).toContain('one month, until July 1, 2026')
    expect((await say(home, 'snooze', { length: 'six-months' })).statusCode).toBe(400)
    const before = await followUp(home.id)
    const answer = await say(home, 'snooze', { length: 'one-month' })
    expect(answer.headers.location).toContain('for=snoozed')
    expect(await followUp(home.id)).toMatchObject({ snoozedUntil: new Date('2026-07-01'), closedAt: null })
    expect((await home.at.get(home.url)).body).toContain(
      'You asked us not to remind you of this until July 1, 2026.',
    )
    const thanks = await home.at.get(answer.headers.location!)
    expect(thanks.body).toContain('We do not remind you of this until July 1, 2026.')
    const path = /action="([^"]+take-back)"/.exec(thanks.body)![1]!
    for (let times = 0; times < 2; times++) {
      const undone = await home.at.post(path, fieldsOf(thanks.body, path))
      expect(undone.headers.location).toContain('for=taken-back')
    }
    expect(await followUp(home.id)).toMatchObject({ snoozedUntil: null, nextNoticeOn: before.nextNoticeOn })
  })

  test('when the rest is over they are reminded, on that day and once', async () => {
    const home = await dueHome()
    await notify(ctx, { propertyId: home.propertyId })
    await say(home, 'snooze', { length: 'one-week' })
    const written = async (on: string) => {
      clock.set(`${on}T15:00:00Z`)
      return (await notify(ctx, { propertyId: home.propertyId })).messageIds.length
    }
    expect(await written('2026-06-05')).toBe(0)
    expect(await written('2026-06-09')).toBe(1)
    expect(await written('2026-06-10')).toBe(0)
  })

  test('declined, with a name and the box ticked', async () => {
    const home = await dueHome()
    expect((await say(home, 'decline', { name: 'Robin Vale' })).body).toContain('Please tick the box')
    expect((await say(home, 'decline', { understood: 'yes', name: ' ' })).body).toContain(
      'Please give your name',
    )
    expect(
      (await say(home, 'decline', { understood: 'yes', name: 'Robin Vale', reason: 'Moving' })).headers
        .location,
    ).toContain('for=declined')
    expect(await followUp(home.id)).toMatchObject({
      state: 'dismissed',
      closedReason: 'Declined on their page by Robin Vale: Moving',
    })
  })

  test('the back button and a second tab do no harm: what has ended is said so, what was declined can be taken back', async () => {
    const home = await dueHome()
    const path = `${home.url}/items/${home.id}`
    const { body } = await home.at.get(home.url)
    const [one, other] = [fieldsOf(body, path, 'decline'), fieldsOf(body, path, 'replaced')]
    const declined = { ...one, understood: 'yes', name: 'Robin Vale' }
    const [first, again] = [await home.at.post(path, declined), await home.at.post(path, declined)]
    expect(again.headers.location).toBe(first.headers.location)
    const second = { ...fieldsOf(body, path, 'snooze'), length: 'one-week' }
    expect((await home.at.post(path, second)).headers.location).toBe(`${home.url}/thanks?for=already`)
    expect(await db.homeownerAnswer.count({ where: { customerId: home.customerId } })).toBe(1)
    const thanks = await home.at.get(first.headers.location!)
    expect(thanks.body).toContain('We noted your decision, Robin Vale.')
    const undo = /action="([^"]+take-back)"/.exec(thanks.body)![1]!
    expect((await home.at.post(undo, fieldsOf(thanks.body, undo))).headers.location).toContain(
      'for=taken-back',
    )
    expect(await followUp(home.id)).toMatchObject({ closedAt: null, closedReason: null })
    // Not by a link of somebody else, and not by a form that is not ours.
    const stranger = await dueHome()
    const theirs = undo.replace(home.url, stranger.url)
    const form = fieldsOf((await stranger.at.get(stranger.url)).body, `${stranger.url}/request`)
    expect((await stranger.at.post(theirs, { form: form['form']! })).statusCode).toBe(404)
    expect((await home.at.post(undo, { form: 'forged' })).statusCode).toBe(400)
    expect(Object.keys(other)).toEqual(['form', 'id', 'act'])
  })

  test('an act that does not belong to the thing is refused', async () => {
    const home = await dueHome()
    const form = fieldsOf((await home.at.get(home.url)).body, `${home.url}/items/${home.id}`, 'snooze')
    for (const act of ['battery', 'checked', 'corrected']) {
      const answer = await home.at.post(`${home.url}/items/${home.id}`, {
        ...form,
        act,
        on: '2026-05-01',
        by: 'x',
      })
      expect(answer.statusCode).toBe(400)
    }
    expect(await db.homeownerAnswer.count({ where: { customerId: home.customerId } })).toBe(0)
  })

  test('a hazard is never switched off from the page', async () => {
    const home = await dueHome()
    const findingId = await buildFinding(ctx, home, { severity: 'unsafe', text: 'Bare conductor' })
    await planDue(ctx, db, { propertyId: home.propertyId })
    const { id } = await db.followUp.findFirstOrThrow({ where: { findingId, kind: 'open-finding' } })
    const { body } = await home.at.get(home.url)
    expect(body).toContain('Do not use or touch this part')
    expect(body).toContain('we ask you again after a week at the latest')
    expect((await say(home, 'snooze', { length: 'one-month' }, id)).statusCode).toBe(400)
    const rested = await say(home, 'snooze', { length: 'one-week' }, id)
    expect((await home.at.get(rested.headers.location!)).body).toContain('tell everybody who lives there')
    expect(await followUp(id)).toMatchObject({ snoozedUntil: new Date('2026-06-08') })
    const answer = await say(home, 'decline', { understood: 'yes', name: 'Robin Vale' }, id)
    expect(answer.headers.location).toContain('for=declined-danger')
    expect(await followUp(id)).toMatchObject({ closedAt: null, snoozedUntil: new Date('2026-07-01') })
    expect(
      (await say(home, 'corrected', { by: 'An electrician, yesterday' }, id)).headers.location,
    ).toContain('for=corrected')
    // Said to be put right is not seen to be put right.
    expect(await db.finding.findUniqueOrThrow({ where: { id: findingId } })).toMatchObject({
      state: 'corrected',
      closedOn: null,
    })
    expect(await followUp(id)).toMatchObject({ closedAt: null })
  })

  test('a surge protector looked at: lit, the check is done; dark, it is to be replaced', async () => {
    for (const [indicator, kinds] of [
      ['good', []],
      ['dark', ['surge-failed']],
    ] as const) {
      const home = await buildHousehold(ctx)
      const protector = {
        id: newId(),
        kind: 'surge-protector',
        label: 'Panel',
        spaceId: null,
        parentId: null,
        details: {},
        manufacturedOn: null,
        installedOn: '2024-06-01',
        lastCheckedOn: '2025-06-10',
        retiredOn: null,
      }
      await storeEquipment(ctx, home, protector as unknown as Equipment)
      await planDue(ctx, db, { propertyId: home.propertyId })
      const { id } = await db.followUp.findFirstOrThrow({ where: { propertyId: home.propertyId } })
      const link = { ...home, url: await buildLink(ctx, home), id, alarmId: '', at: browser() }
      expect((await say(link, 'checked', { indicator: 'maybe' })).statusCode).toBe(400)
      expect((await say(link, 'checked', { indicator })).statusCode).toBe(303)
      const open = await db.followUp.findMany({ where: { propertyId: home.propertyId, closedAt: null } })
      expect(open.map(({ kind }) => kind)).toEqual(kinds)
      expect(await db.equipment.findUniqueOrThrow({ where: { id: protector.id } })).toMatchObject({
        lastCheckedOn: new Date('2026-06-01'),
        details: { indicator },
      })
    }
  })

  test('not mine any more: nothing more is written to them, the home keeps its history', async () => {
    const home = await dueHome()
    await notify(ctx, { propertyId: home.propertyId })
    const path = `${home.url}/not-mine`
    const form = { ...fieldsOf((await home.at.get(home.url)).body, path), why: 'sold' }
    expect((await home.at.post(path, { ...form, why: '' })).statusCode).toBe(400)
    const answer = await home.at.post(path, form)
    expect(answer.headers.location).toContain('for=not-mine')
    expect(await db.propertyParty.findFirst({ where: { propertyId: home.propertyId } })).toMatchObject({
      isContact: false,
      until: new Date('2026-06-01'),
    })
    expect(await db.message.findFirst({ where: { customerId: home.customerId } })).toMatchObject({
      state: 'cancelled',
    })
    expect((await home.at.get(answer.headers.location!)).body).toContain(
      'You can take it back until July 1, 2026.',
    )
    const left = (await home.at.get(home.url)).body
    expect(left).not.toContain('Hall alarm')
    expect((await home.at.post(path, form)).headers.location).toBe(answer.headers.location)
    expect((await home.at.post(path, { ...form, id: newId() })).headers.location).toBe(
      answer.headers.location,
    )
    expect(await db.equipment.count({ where: { propertyId: home.propertyId, retiredOn: null } })).toBe(1)
    // A wrong click: the way back stands on their page.
    const back = /action="([^"]+take-back)"/.exec(left)![1]!
    expect((await home.at.post(back, fieldsOf(left, back))).headers.location).toContain('for=taken-back')
    expect(await db.propertyParty.findFirst({ where: { propertyId: home.propertyId } })).toMatchObject({
      isContact: true,
      until: null,
      role: 'owner',
    })
    expect((await home.at.get(home.url)).body).toContain('Hall alarm')
  })

  test('not mine any more, and somebody else is written to by now: the way back is the telephone', async () => {
    const home = await dueHome()
    const path = `${home.url}/not-mine`
    await home.at.post(path, { ...fieldsOf((await home.at.get(home.url)).body, path), why: 'moved' })
    const next = await buildHousehold(ctx)
    await db.propertyParty.create({
      data: { propertyId: home.propertyId, customerId: next.customerId, role: 'owner', isContact: true },
    })
    const { body } = await home.at.get(home.url)
    const back = /action="([^"]+take-back)"/.exec(body)![1]!
    expect((await home.at.post(back, fieldsOf(body, back))).headers.location).toContain(
      'for=call-to-take-back',
    )
    expect(await db.propertyParty.count({ where: { propertyId: home.propertyId, isContact: true } })).toBe(1)
  })

  test('a letter already planned about several homes leaves out the one that they have left', async () => {
    const home = await dueHome()
    const second = await buildHousehold(ctx, { customerId: home.customerId })
    await buildAlarm(ctx, second, day('2026-06-20'), 'Porch alarm')
    await planDue(ctx, db, {})
    const [messageId] = (await notify(ctx)).written
      .filter(({ followUpIds }) => followUpIds.includes(home.id))
      .map(({ id }) => id)
    const subjects = async () => (await listTold(db, [messageId!])).map(({ label }) => label)
    expect(await subjects()).toEqual(expect.arrayContaining(['Hall alarm', 'Porch alarm']))
    const path = `${home.url}/not-mine`
    await home.at.post(path, { ...fieldsOf((await home.at.get(home.url)).body, path), why: 'sold' })
    expect(await subjects()).toEqual(['Porch alarm'])
  })
})

describe('the page of a visit', () => {
  const visitPage = async (state = 'booked', startsAt = new Date('2026-06-10T14:00:00Z')) => {
    const home = await buildHousehold(ctx)
    const visitId = await buildVisit(ctx, home, startsAt, { state })
    const url = await buildLink(ctx, home, { purpose: 'visit', subjectId: visitId })
    return { ...home, visitId, url, at: browser() }
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
    const asked = await browser().get(url)
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
    expect((await browser().post(url, { confirm: 'yes' })).statusCode).toBe(200)
    expect(
      await db.messagePreference.count({ where: { customerId, category: 'tips', allowed: false } }),
    ).toBe(1)
    expect((await browser().post(url, {})).statusCode).toBe(400)
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
