import { beforeEach, describe, expect, test } from 'vitest'
import { day } from '../../trade/dates.ts'
import { notify } from '../../server/follow-ups/notify.ts'
import { listTold } from '../../server/messages/facts-store.ts'
import { planDue } from '../../server/follow-ups/plan.ts'
import { newId } from '../../server/ids.ts'
import { buildTestApp } from '../build/app.ts'
import {
  buildAlarm,
  buildFinding,
  buildHousehold,
  buildTechnician,
  buildProtector,
} from '../build/follow-up.ts'
import { buildDueHome } from '../build/due-home.ts'
import { buildLink } from '../build/link.ts'
import { fieldsOf, visitorOf } from '../build/visitor.ts'

// What people say on their page about what is due: each is written down once, checked, and said to the office.

const { app, ctx, clock, rung } = await buildTestApp()
const { db } = ctx
await buildTechnician(ctx)

beforeEach(() => {
  clock.set('2026-06-01T15:00:00Z')
  rung.length = 0
})

const dueHome = (more?: Parameters<typeof buildDueHome>[2]) => buildDueHome(app, ctx, more)

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
      const protectorId = await buildProtector(ctx, home, {
        installedOn: day('2024-06-01'),
        lastCheckedOn: day('2025-06-10'),
      })
      await planDue(ctx, db, { propertyId: home.propertyId })
      const { id } = await db.followUp.findFirstOrThrow({ where: { propertyId: home.propertyId } })
      const link = { ...home, url: await buildLink(ctx, home), id, alarmId: '', at: visitorOf(app) }
      expect((await say(link, 'checked', { indicator: 'maybe' })).statusCode).toBe(400)
      expect((await say(link, 'checked', { indicator })).statusCode).toBe(303)
      const open = await db.followUp.findMany({ where: { propertyId: home.propertyId, closedAt: null } })
      expect(open.map(({ kind }) => kind)).toEqual(kinds)
      expect(await db.equipment.findUniqueOrThrow({ where: { id: protectorId } })).toMatchObject({
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
