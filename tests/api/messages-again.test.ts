import { beforeEach, expect, test } from 'vitest'
import { day } from '../../trade/dates.ts'
import { notify } from '../../server/follow-ups/notify.ts'
import { planDue } from '../../server/follow-ups/plan.ts'
import { memoryMailer } from '../../server/gateways/mail-memory.ts'
import { newId } from '../../server/ids.ts'
import { sendMessage } from '../../server/messages/sending.ts'
import { buildTestApp, type TestPerson } from '../build/app.ts'
import { buildAlarm, buildHousehold } from '../build/follow-up.ts'
import { buildConfirmation } from '../build/message.ts'
import { visitorOf } from '../build/visitor.ts'

// A letter that fell into other hands or was lost: its link is withdrawn, and it goes out anew with another.
const { app, ctx, clock, person, rung } = await buildTestApp()
const { db } = ctx
const office = await person('office', 'Sam Brook')
const technician = await person('technician')
const mailer = memoryMailer()
const { get } = visitorOf(app)

beforeEach(() => {
  // 11 in the morning in New York.
  clock.set('2026-06-01T15:00:00Z')
  rung.length = 0
  mailer.letters.length = 0
})

/** A reminder of an alarm, sent. */
async function sentReminder(more: Parameters<typeof buildHousehold>[1] = {}) {
  const home = await buildHousehold(ctx, more)
  await buildAlarm(ctx, home, day('2026-08-30'))
  await planDue(ctx, db, {})
  await notify(ctx, { propertyId: home.propertyId })
  const { id } = await db.message.findFirstOrThrow({ where: { customerId: home.customerId } })
  await sendMessage(ctx, mailer, id)
  return { ...home, id }
}
const read = async (id: string) => (await office.call('GET', `/api/v1/messages/${id}`)).json()
const again = (id: string, payload: object = { id: newId() }, who: TestPerson = office) =>
  who.call('POST', `/api/v1/messages/${id}/again`, { payload })
const pageIn = ({ text }: { text: string }) => new URL(/http\S+\/h\/[\w-]{43}/.exec(text)![0]).pathname
const lifeOf = async (id: string) => (await read(id)).life.map(({ what }: { what: string }) => what)

test('a new letter with a Message-ID and a link of its own; the old link is dead; both tell of each other', async () => {
  const { id, customerId } = await sentReminder()
  expect(await read(id)).toMatchObject({ maySendAgain: true, mayResend: false, link: { state: 'open' } })
  const asked = newId()
  const answer = await again(id, { id: asked })
  expect(answer.statusCode, answer.body).toBe(201)
  expect(answer.json()).toMatchObject({ id: asked, state: 'planned', followUps: [{ step: '-90' }] })
  expect(rung).toEqual([{ name: 'send-message', payload: { messageId: asked } }])
  expect(await sendMessage(ctx, mailer, asked)).toBe('sent')

  const [first, second] = mailer.letters
  expect(second!.messageId).not.toBe(first!.messageId)
  expect(second!.subject).toBe(first!.subject)
  expect((await get(pageIn(first!))).body).toContain('We closed this page')
  expect((await get(pageIn(second!))).statusCode).toBe(200)

  expect(await lifeOf(id)).toEqual(
    expect.arrayContaining(['Its link was withdrawn', 'Sent again by Sam Brook with a new link']),
  )
  expect(await lifeOf(asked)).toContain(
    'Sent again by Sam Brook with a new link, in place of an earlier letter',
  )
  const { life } = await read(id)
  expect(life.find(({ messageId }: { messageId?: string }) => messageId)).toMatchObject({ messageId: asked })
  const actions = await db.auditEntry.findMany({ where: { subjectId: { in: [id, customerId] } } })
  expect(actions.map(({ action }) => action).sort()).toEqual(['link.withdraw', 'message.send-again'])
})

test('once, whatever is tried: the same call, another call, two at the same moment', async () => {
  const { id, customerId } = await sentReminder()
  const asked = newId()
  expect((await again(id, { id: asked })).statusCode).toBe(201)
  expect((await again(id, { id: asked })).json()).toMatchObject({ id: asked })
  const other = await again(id)
  expect(other.statusCode).toBe(409)
  expect(other.json()).toMatchObject({ type: '/problems/already-exists', messageId: asked })
  expect(other.json().detail).toContain('Sam Brook has sent it again already')
  expect(await db.message.count({ where: { customerId } })).toBe(2)

  const twice = await sentReminder()
  const answers = await Promise.all([again(twice.id), again(twice.id), again(twice.id)])
  expect(answers.map(({ statusCode }) => statusCode).sort()).toEqual([201, 409, 409])
  expect(await db.message.count({ where: { customerId: twice.customerId } })).toBe(2)
  // The second is a letter like any other, and can be sent again in its turn.
  const second = answers.find(({ statusCode }) => statusCode === 201)!.json().id
  await sendMessage(ctx, mailer, second)
  expect((await again(second)).statusCode).toBe(201)
  expect(await read(twice.id)).toMatchObject({ maySendAgain: false, link: { state: 'withdrawn' } })
})

test('at night it waits for the morning at the home, unless somebody says now', async () => {
  // 22:30 in New York.
  const [waits, goes, late] = [await sentReminder(), await sentReminder(), await sentReminder()]
  clock.set('2026-06-02T02:30:00Z')
  const asked = (await office.call('GET', `/api/v1/messages/${waits.id}/again`)).json()
  expect(asked).toEqual({
    refusal: null,
    isQuiet: true,
    sendAfter: '2026-06-02T12:00:00.000Z',
    zone: 'America/New_York',
    there: { day: '2026-06-01', time: '22:30' },
  })
  const [morning, now] = [newId(), newId()]
  expect((await again(waits.id, { id: morning })).json().sendAfter).toBe('2026-06-02T12:00:00.000Z')
  expect((await again(goes.id, { id: now, when: 'now' })).statusCode).toBe(201)
  expect(rung).toEqual([{ name: 'send-message', payload: { messageId: now } }])
  expect(await sendMessage(ctx, mailer, morning)).toBe('not-mine')
  expect(await sendMessage(ctx, mailer, now)).toBe('sent')

  // Held up past the hour, it does not arrive at three in the morning.
  const held = newId()
  await again(late.id, { id: held, when: 'now' })
  clock.set('2026-06-02T07:00:00Z')
  expect(await sendMessage(ctx, mailer, held)).toBe('later')
  expect((await read(held)).sendAfter).toBe('2026-06-02T12:00:00.000Z')
})

test.each([
  [
    'an address put aside',
    ({ email }: { email: string }) =>
      db.suppressedAddress.create({ data: { email, reason: 'complained', detail: '' } }),
    'The address is put aside (complained); phone them.',
  ],
  [
    'no e-mail any more',
    ({ customerId }: { customerId: string }) =>
      db.customer.update({ where: { id: customerId }, data: { email: null } }),
    'There is no e-mail address; phone them.',
  ],
  [
    'no wish for reminders',
    ({ customerId }: { customerId: string }) =>
      db.messagePreference.create({
        data: { customerId, category: 'reminder', allowed: false, source: 'office', changedAt: clock.now },
      }),
    'They do not want messages of this kind.',
  ],
  [
    'no wish to hear of alarms',
    ({ customerId }: { customerId: string }) =>
      db.messagePreference.create({
        data: {
          customerId,
          category: 'about-alarms',
          allowed: false,
          source: 'office',
          changedAt: clock.now,
        },
      }),
    'Everything that it was to tell of has been settled, or they want no mail about it.',
  ],
  [
    'a home sold since',
    ({ customerId }: { customerId: string }) =>
      db.propertyParty.updateMany({ where: { customerId }, data: { until: new Date('2026-05-31') } }),
    'Everything that it was to tell of has been settled, or they want no mail about it.',
  ],
])('with %s it is not sent again, and says why', async (_, happens, why) => {
  const home = await sentReminder()
  const { email } = await db.customer.findUniqueOrThrow({ where: { id: home.customerId } })
  await happens({ ...home, email: email! })
  const asked = await office.call('GET', `/api/v1/messages/${home.id}/again`)
  expect(asked.json().refusal).toBe(why)
  const answer = await again(home.id)
  expect(answer.statusCode).toBe(409)
  expect(answer.json().detail).toBe(`It cannot be sent again. ${why}`)
  expect(await db.message.count({ where: { customerId: home.customerId } })).toBe(1)
  // The link of the first stands: nothing is half done. It can still be withdrawn by itself.
  expect(await read(home.id)).toMatchObject({ link: { state: 'open' } })
  expect((await office.call('POST', `/api/v1/links/${home.id}/withdraw`)).json().state).toBe('withdrawn')
  expect(await read(home.id)).toMatchObject({ link: { state: 'withdrawn' } })
})

test('a visit that is over is not told of again, one to come is, with its calendar', async () => {
  const { messageId, visitId } = await buildConfirmation(ctx)
  expect((await again(messageId)).json().detail).toContain('It has not gone out yet')
  await sendMessage(ctx, mailer, messageId)
  await db.visit.update({ where: { id: visitId }, data: { state: 'finished' } })
  expect((await again(messageId)).json().detail).toContain('The visit is over or was called off.')
  await db.visit.update({ where: { id: visitId }, data: { state: 'booked' } })
  const { id } = (await again(messageId)).json()
  await sendMessage(ctx, mailer, id)
  expect(mailer.letters.at(-1)!.calendar).toEqual(mailer.letters.at(-2)!.calendar)
})

test('given up with a link that was withdrawn since, it goes out only with a new one', async () => {
  const { id } = await sentReminder()
  await db.message.update({ where: { id }, data: { state: 'failed', lastError: 'Given up after 48 hours.' } })
  expect(await read(id)).toMatchObject({ mayResend: true, maySendAgain: false })
  await db.privateLink.update({ where: { id }, data: { revokedAt: clock.now } })
  expect(await read(id)).toMatchObject({ mayResend: false, maySendAgain: true })
  const resent = await office.call('POST', `/api/v1/messages/${id}/resend`)
  expect(resent.statusCode).toBe(409)
  expect(resent.json().detail).toContain('send it again with a new link')
  expect((await again(id)).statusCode).toBe(201)
})

test('it is no second reminder: whoever lost their letter has ignored nothing', async () => {
  const { id, propertyId } = await sentReminder()
  const { id: second } = (await again(id)).json()
  await sendMessage(ctx, mailer, second)
  const { items } = (
    await office.call('GET', `/api/v1/follow-ups?propertyId=${propertyId}&tab=waiting`)
  ).json()
  expect(items).toMatchObject([{ messagesSent: 1 }])
})

test('bad calls: who may not, what is not there, an id that is taken, an unknown field', async () => {
  const { id } = await sentReminder()
  const other = await sentReminder()
  expect((await again(id, undefined, technician)).statusCode).toBe(403)
  expect((await again(newId())).statusCode).toBe(404)
  expect((await again(id, { id: other.id })).statusCode).toBe(409)
  expect((await again(id, { id: newId(), when: 'soon' })).statusCode).toBe(400)
  expect((await again(id, {})).statusCode).toBe(400)
  expect((await again(id, { id: newId(), to: 'x@example.com' })).statusCode).toBe(400)
  expect((await read(id)).maySendAgain).toBe(true)
})
