import { beforeEach, expect, test } from 'vitest'
import { day } from '../../trade/dates.ts'
import { recordReport } from '../../server/bounces/service.ts'
import { notify } from '../../server/follow-ups/notify.ts'
import { planDue } from '../../server/follow-ups/plan.ts'
import type { FollowUpSummary, FollowUpView, WorklistNumbers } from '../../server/follow-ups/schema.ts'
import { MailRefused } from '../../server/gateways/mail.ts'
import { memoryMailer } from '../../server/gateways/mail-memory.ts'
import { sendMessage } from '../../server/messages/sending.ts'
import { buildTestApp } from '../build/app.ts'
import { buildAlarm, buildHousehold, type Household } from '../build/follow-up.ts'

// Whoever is counted as told, and whom our letter never reached.

const { ctx, clock, person } = await buildTestApp()
const { db } = ctx
const office = await person('office', 'Sam Brook')
const URL = '/api/v1/follow-ups'
const mailer = memoryMailer()

beforeEach(() => {
  clock.set('2026-06-01T15:00:00Z')
  mailer.before = () => {}
})

interface Told extends Household {
  messageId: string
  followUpId: string
}

/** An alarm to be replaced in some weeks, and the letter about it, planned and not sent. */
async function buildTold(): Promise<Told> {
  const home = await buildHousehold(ctx)
  await buildAlarm(ctx, home, day('2026-06-20'))
  await planDue(ctx, db, { propertyId: home.propertyId })
  const { messageIds } = await notify(ctx, { propertyId: home.propertyId })
  const { id } = await db.followUp.findFirstOrThrow({ where: { propertyId: home.propertyId } })
  return { ...home, messageId: messageIds[0]!, followUpId: id }
}
const send = ({ messageId }: Told) => sendMessage(ctx, mailer, messageId)
const later = (hours: number) => clock.set(new Date(clock.now.getTime() + hours * 3_600_000).toISOString())

const TABS = ['due', 'coming', 'waiting'] as const
const listOf = async (tab: string, more = '') =>
  (await office.call('GET', `${URL}?limit=100&tab=${tab}${more}`)).json<{ items: FollowUpSummary[] }>().items

/** Where it stands and what is said of it; that the counts above the list say the same as its rows is looked at, too. */
async function standing({ propertyId }: Told) {
  const numbers = (await office.call('GET', `${URL}/numbers`)).json<WorklistNumbers>()
  for (const tab of TABS) expect((await listOf(tab)).length, tab).toBe(numbers[tab])
  const rows = await Promise.all(TABS.map((tab) => listOf(tab, `&propertyId=${propertyId}`)))
  const [row, ...more] = rows.flat()
  expect(more).toEqual([])
  return { tab: TABS[rows.findIndex((items) => items.length > 0)], how: row!.next!.how, why: row!.notArrived }
}

const IN_VAIN: [string, (told: Told) => Promise<unknown>, string][] = [
  [
    'refused for good',
    async (told) => {
      mailer.before = () => {
        throw new MailRefused('letter', '550 5.7.1 refused by policy')
      }
      expect(await send(told)).toBe('failed')
    },
    'failed',
  ],
  [
    'come back',
    async (told) => {
      await send(told)
      later(30)
      const { messageIdHeader: messageId } = await db.message.findUniqueOrThrow({
        where: { id: told.messageId },
      })
      await recordReport(ctx, { kind: 'failed', messageId, recipient: null, status: '5.2.2', detail: 'full' })
    },
    'bounced',
  ],
  [
    'held back because the address was put aside meanwhile',
    async (told) => {
      const { email } = await db.customer.findUniqueOrThrow({ where: { id: told.customerId } })
      await db.suppressedAddress.create({ data: { email: email!, reason: 'bounced' } })
      expect(await send(told)).toBe('suppressed')
    },
    'suppressed',
  ],
]

test.each(IN_VAIN)('a letter %s: it is due, and to be phoned', async (_what, end, why) => {
  const told = await buildTold()
  expect((await standing(told)).tab).toBe('waiting')
  await end(told)
  expect(await standing(told)).toEqual({ tab: 'due', how: 'call', why })
  const view = (await office.call('GET', `${URL}/${told.followUpId}`)).json<FollowUpView>()
  expect(view.script.join(' ')).toContain('Our mail does not reach you.')
  // What the day’s work is sorted by agrees.
  const groups = (await office.call('GET', `${URL}/groups?by=street&propertyId=${told.propertyId}`)).json()
  expect(groups).toMatchObject([{ followUps: 1 }])
})

test.each(IN_VAIN)('a letter %s, and a call since: they are waited for again', async (_what, end) => {
  const told = await buildTold()
  await end(told)
  later(1)
  await office.call('POST', `${URL}/${told.followUpId}/call`, { payload: { outcome: 'no-answer' } })
  expect(await standing(told)).toMatchObject({ tab: 'waiting', why: null })
})

test('a call before it came back is not about that', async () => {
  const told = await buildTold()
  await send(told)
  later(1)
  await office.call('POST', `${URL}/${told.followUpId}/call`, { payload: { outcome: 'no-answer' } })
  await IN_VAIN[1]![1](told)
  expect(await standing(told)).toMatchObject({ tab: 'due', how: 'call', why: 'bounced' })
})

test('sent once more, or with a newer letter after it, they are waited for again', async () => {
  const [same, newer] = [await buildTold(), await buildTold()]
  for (const told of [same, newer]) {
    await IN_VAIN[0]![1](told)
    expect((await standing(told)).tab).toBe('due')
  }
  mailer.before = () => {}
  later(1)
  await office.call('POST', `/api/v1/messages/${same.messageId}/resend`)
  expect(await standing(same)).toMatchObject({ tab: 'waiting', why: null })
  expect(await send(same)).toBe('sent')
  clock.set('2026-06-13T15:00:00Z')
  await notify(ctx, { propertyId: newer.propertyId })
  expect(await db.messageFollowUp.count({ where: { followUpId: newer.followUpId } })).toBeGreaterThan(1)
  expect(await standing(newer)).toMatchObject({ tab: 'waiting', why: null })
})

test.each([
  ['cancelled', { state: 'cancelled', lastError: 'Everything that it was to tell of has been settled.' }],
  [
    'held back by their own wish',
    { state: 'suppressed', lastError: 'They do not want messages of this kind.' },
  ],
  ['come back, and yet its page was opened', { state: 'bounced', openedPageAt: new Date() }],
])('a letter %s is no such letter', async (_what, data) => {
  const told = await buildTold()
  await db.message.update({ where: { id: told.messageId }, data })
  expect(await standing(told)).toMatchObject({ tab: 'waiting', why: null })
})

test('put off or booked, it stays where that puts it', async () => {
  const told = await buildTold()
  await IN_VAIN[0]![1](told)
  await office.call('POST', `${URL}/${told.followUpId}/snooze`, { payload: { until: '2026-06-12' } })
  expect(await standing(told)).toMatchObject({ tab: 'coming', how: 'rests' })
})
