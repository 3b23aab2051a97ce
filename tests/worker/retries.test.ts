import ICAL from 'ical.js'
import { beforeEach, describe, expect, test } from 'vitest'
import { recordReport } from '../../server/bounces/service.ts'
import type { Ctx } from '../../server/ctx.ts'
import { memoryMailer } from '../../server/gateways/mail-memory.ts'
import { newId } from '../../server/ids.ts'
import { sendMessage, sendMessages } from '../../server/messages/sending.ts'
import { planMessage } from '../../server/messages/service.ts'
import { moveVisit } from '../../server/visits/booking.ts'
import { cancelVisit, recordNoAccess } from '../../server/visits/steps.ts'
import { buildTestApp } from '../build/app.ts'
import { buildHousehold } from '../build/follow-up.ts'
import { buildVisit } from '../build/visit.ts'

// What became of the facts between one attempt and the next.

const { ctx, clock, person } = await buildTestApp()
const { db } = ctx
const mailer = memoryMailer()
const { id: officeId } = await person('office')
const office: Ctx = {
  ...ctx,
  actor: { kind: 'user', id: officeId, role: 'office', name: 'Sam Brook', sessionId: null },
}

beforeEach(() => {
  clock.set('2026-06-01T15:00:00Z')
  mailer.letters = []
  mailer.before = mailer.after = () => {}
})

const at = (minutes: number) => ({ ...ctx, now: () => new Date(clock.now.getTime() + minutes * 60_000) })
const later = (minutes: number) => clock.set(new Date(clock.now.getTime() + minutes * 60_000).toISOString())
const messageOf = (id: string) => db.message.findUniqueOrThrow({ where: { id } })
const newest = (visitId: string, kind: string) =>
  db.message.findFirstOrThrow({ where: { visitId, kind }, orderBy: { id: 'desc' } })
const goAway = () => {
  mailer.before = () => {
    throw new Error('connect ECONNREFUSED')
  }
}
const comeBack = () => {
  mailer.before = mailer.after = () => {}
}
const THURSDAY = { day: '2026-06-04', windowStart: '13:00', windowEnd: '15:00' } as Parameters<
  typeof moveVisit
>[3]

/** A visit tomorrow from 9 to 11 and the id of the letter about it, planned and not sent. */
async function buildBooking() {
  const home = await buildHousehold(ctx)
  const visit = await buildVisit(office, { propertyId: home.propertyId, customerId: home.customerId })
  const { id: messageId } = await newest(visit.id, 'visit-booked')
  return { ...home, visit, messageId }
}

describe('a visit that changed while the mail server was away', () => {
  test.each([
    ['moved', (id: string, version: number) => moveVisit(office, id, version, THURSDAY), 'visit-moved'],
    ['cancelled', (id: string) => cancelVisit(office, id, 'Our technician is ill.'), 'visit-cancelled'],
    ['met by a closed door', (id: string) => recordNoAccess(office, id, 'Nobody.'), 'visit-no-access'],
  ])('%s: the customer reads of that alone', async (_what, change, kind) => {
    const { visit, messageId } = await buildBooking()
    goAway()
    expect(await sendMessage(ctx, mailer, messageId)).toBe('later')
    await change(visit.id, visit.version)
    comeBack()
    later(2)
    const { id: newer } = await newest(visit.id, kind)
    const outcomes = await sendMessages(ctx, mailer, { ids: [messageId, newer] })
    expect([outcomes.get(messageId), outcomes.get(newer)]).toEqual(['cancelled', 'sent'])
    expect(mailer.letters).toHaveLength(1)
    expect((await messageOf(messageId)).lastError).toMatch(/newer message|over or was called off/)
  })

  test('whose time is over is not told of any more', async () => {
    const { messageId } = await buildBooking()
    goAway()
    await sendMessage(ctx, mailer, messageId)
    comeBack()
    later(24 * 60)
    expect(await sendMessage(ctx, mailer, messageId)).toBe('cancelled')
  })

  test('a newer letter waits while an older one is on its way', async () => {
    const { visit, messageId } = await buildBooking()
    let inBetween: unknown
    mailer.before = async () => {
      comeBack()
      await moveVisit(office, visit.id, visit.version, THURSDAY)
      inBetween = await sendMessage(ctx, mailer, (await newest(visit.id, 'visit-moved')).id)
    }
    expect(await sendMessage(ctx, mailer, messageId)).toBe('sent')
    expect(inBetween).toBe('not-mine')
    expect(await sendMessage(ctx, mailer, (await newest(visit.id, 'visit-moved')).id)).toBe('sent')
    expect(mailer.letters.map(({ subject }) => subject)).toEqual([
      'Your inspection on Tuesday, June 2, 2026',
      expect.stringContaining('Thursday, June 4, 2026'),
    ])
  })

  const buildReminder = async () => {
    const { visit, ...home } = await buildBooking()
    const reminder = { ...home, visitId: visit.id, dedupeKey: newId(), reason: 'test' }
    const plan = () => planMessage(ctx, db, { kind: 'visit-reminder', category: 'booking', ...reminder })
    return { visit, messageId: (await plan())! }
  }

  test('a reminder tells when the visit is by now', async () => {
    const { visit, messageId } = await buildReminder()
    goAway()
    await sendMessage(ctx, mailer, messageId)
    await moveVisit(office, visit.id, visit.version, THURSDAY)
    comeBack()
    later(2)
    expect(await sendMessage(ctx, mailer, messageId)).toBe('sent')
    expect(mailer.letters[0]!.text).toContain('between 1:00 PM and 3:00 PM')
    expect((await messageOf(messageId)).textBody).toBe(mailer.letters[0]!.text)
  })

  test('there is no reminder of one that was cancelled', async () => {
    const { visit, messageId } = await buildReminder()
    goAway()
    await sendMessage(ctx, mailer, messageId)
    await cancelVisit(office, visit.id, 'They phoned.')
    comeBack()
    later(2)
    expect(await sendMessage(ctx, mailer, messageId)).toBe('cancelled')
  })
})

test('what still holds is sent as it was written, though the company has another telephone by now', async () => {
  const { messageId } = await buildBooking()
  mailer.after = () => {
    throw new Error('connection lost before the answer')
  }
  await sendMessage(ctx, mailer, messageId)
  comeBack()
  later(2)
  await db.company.updateMany({ data: { phone: '555-0177' } })
  expect(await sendMessage(ctx, mailer, messageId)).toBe('sent')
  const [first, second] = mailer.letters
  expect({ ...second, date: first!.date }).toEqual(first)
})

test('a new address is kept with the letter: what comes back is about that one, and it is invited to the visit', async () => {
  const { customerId, messageId } = await buildBooking()
  const old = (await messageOf(messageId)).toAddress
  const email = `a-new-address-${customerId}@example.com`
  await db.customer.update({ where: { id: customerId }, data: { email } })
  expect(await sendMessage(ctx, mailer, messageId)).toBe('sent')
  const { toAddress, calendar, messageIdHeader } = await messageOf(messageId)
  expect([toAddress, mailer.letters[0]!.to.address]).toEqual([email, email])
  expect(calendar).toBe(mailer.letters[0]!.calendar!.text)
  const event = new ICAL.Component(ICAL.parse(calendar!)).getFirstSubcomponent('vevent')!
  const attendees = event.getAllProperties('attendee').map((each) => String(each.getFirstValue()))
  expect(attendees.map((each) => each.toLowerCase())).toEqual([`mailto:${email}`])
  // RFC 5545 §3.1.
  for (const line of calendar!.split('\r\n')) expect(Buffer.byteLength(line)).toBeLessThanOrEqual(75)
  const bounce = { kind: 'failed', recipient: null, status: '5.1.1', detail: '550 no' } as const
  await recordReport(ctx, { ...bounce, messageId: messageIdHeader })
  const aside = await db.suppressedAddress.findMany({ where: { email: { in: [old, email] } } })
  expect(aside.map((each) => each.email)).toEqual([email])
})

describe('a worker whose clock jumps', () => {
  /** Begun by a worker whose clock is that far ahead, and dies with the letter in its hands. */
  async function abandonedAt(minutes: number) {
    const { messageId } = await buildBooking()
    const dead = at(minutes)
    const gone = new Promise<void>(() => {})
    const begun = new Promise<void>((resolve) => {
      mailer.before = () => {
        comeBack()
        resolve()
        return gone
      }
    })
    void sendMessage(dead, mailer, messageId)
    await begun
    return messageId
  }

  test('ahead by an hour and back: what it held is taken up by the next', async () => {
    const messageId = await abandonedAt(60)
    expect(await sendMessage(ctx, mailer, messageId)).toBe('sent')
    expect(await messageOf(messageId)).toMatchObject({ state: 'sent', attempts: 2 })
    expect(mailer.letters).toHaveLength(1)
  })

  test('ahead by a little, as two clocks are: what is in hand stays there until the time is over', async () => {
    const messageId = await abandonedAt(4)
    expect(await sendMessage(ctx, mailer, messageId)).toBe('not-mine')
    later(10)
    expect(await sendMessage(ctx, mailer, messageId)).toBe('sent')
    expect(mailer.letters).toHaveLength(1)
  })

  test('ahead while another sends: a second copy at most, under the same Message-ID; nothing is lost', async () => {
    const { messageId } = await buildBooking()
    const outcomes: unknown[] = []
    mailer.before = async () => {
      comeBack()
      outcomes.push(await sendMessage(at(60), mailer, messageId))
    }
    outcomes.push(await sendMessage(ctx, mailer, messageId))
    expect(outcomes).toEqual(['sent', 'not-mine'])
    expect(await messageOf(messageId)).toMatchObject({ state: 'sent' })
    expect(mailer.letters).toHaveLength(2)
    expect(new Set(mailer.letters.map((each) => each.messageId)).size).toBe(1)
    expect(new Set(mailer.letters.map((each) => each.text)).size).toBe(1)
  })
})
