import { expect, test } from 'vitest'
import type { Unreachable } from '../../server/bounces/schema.ts'
import { recordReport } from '../../server/bounces/service.ts'
import { memoryMailer } from '../../server/gateways/mail-memory.ts'
import { newId } from '../../server/ids.ts'
import { sendMessage } from '../../server/messages/sending.ts'
import { buildTestApp } from '../build/app.ts'
import { buildHousehold } from '../build/follow-up.ts'
import { buildConfirmation } from '../build/message.ts'

// Addresses that nothing is sent to, and how one is written to again.

const { ctx, person } = await buildTestApp()
const { db } = ctx
const office = await person('office')
const technician = await person('technician')
const URL = '/api/v1/messages/unreachable'

type Reason = 'bounced' | 'complained' | 'asked'
const list = async () => (await office.call('GET', URL)).json<Unreachable>()
const entryOf = async (email: string) => (await list()).items.filter((each) => each.email === email)
const lift = (payload: object, who = office) => who.call('POST', `${URL}/lift`, { payload })
const auditOf = async (email: string) => {
  const entries = await db.auditEntry.findMany({ where: { action: 'address.lift' } })
  return entries.filter(({ before }) => (before as { email: string }).email === email)
}

async function buildAside(reason: Reason) {
  const email = `aside-${newId()}@example.com`
  const home = await buildHousehold(ctx, { email, name: 'Ida Fern' })
  await db.suppressedAddress.create({ data: { email, reason, detail: '5.1.1 no such user' } })
  return { ...home, email }
}

test('an address that came back is written to again, whoever types it how', async () => {
  const { email, customerId } = await buildAside('bounced')
  expect(await entryOf(email)).toMatchObject([{ customerId, name: 'Ida Fern', reason: 'bounced', open: 0 }])
  const customer = (await office.call('GET', `/api/v1/customers/${customerId}`)).json()
  expect(customer.emailPutAside).toEqual({ reason: 'bounced', detail: '5.1.1 no such user' })
  const answer = await lift({ email: email.toUpperCase() })
  expect([answer.statusCode, answer.json()]).toEqual([
    200,
    { email, reason: 'bounced', detail: '5.1.1 no such user' },
  ])
  expect(await entryOf(email)).toEqual([])
  expect((await office.call('GET', `/api/v1/customers/${customerId}`)).json().emailPutAside).toBeNull()
  expect(await auditOf(email)).toMatchObject([{ actorId: office.id, before: { reason: 'bounced' } }])
  const again = await lift({ email })
  expect([again.statusCode, again.json().detail]).toEqual([
    404,
    `${email} is not put aside; mail is sent to it.`,
  ])
})

test.each(['complained', 'asked'] as const)(
  'one that %s only with a word on who asked for it',
  async (reason) => {
    const { email } = await buildAside(reason)
    for (const why of [undefined, '', '  ']) {
      const answer = await lift({ email, why })
      expect([answer.statusCode, answer.json().errors]).toEqual([
        400,
        [{ pointer: '#/why', detail: 'they did not want our mail; say who asked for it, and when' }],
      ])
    }
    expect(await entryOf(email)).toHaveLength(1)
    const why = 'Ida Fern, by telephone on June 1'
    expect((await lift({ email, why })).statusCode).toBe(200)
    expect(await entryOf(email)).toEqual([])
    expect(await auditOf(email)).toMatchObject([{ actorId: office.id, before: { reason }, after: { why } }])
  },
)

test('one that no customer has any more is found, too, and may be written to again', async () => {
  const { email, customerId } = await buildAside('bounced')
  await db.customer.update({ where: { id: customerId }, data: { email: `new-${newId()}@example.com` } })
  expect(await entryOf(email)).toMatchObject([{ customerId: null, name: null, phone: null, open: 0 }])
  const archived = await buildAside('bounced')
  await db.customer.update({ where: { id: archived.customerId }, data: { archivedAt: ctx.now() } })
  expect(await entryOf(archived.email)).toMatchObject([{ customerId: null }])
  expect((await lift({ email })).statusCode).toBe(200)
})

test('technicians may not, and what is no address is answered in words', async () => {
  const { email } = await buildAside('bounced')
  expect((await lift({ email }, technician)).statusCode).toBe(403)
  expect((await lift({ email: '' })).statusCode).toBe(400)
  expect((await lift({ email: 'a\0b@example.com' })).statusCode).toBe(400)
  expect((await lift({ email, force: true })).statusCode).toBe(400)
  expect(await entryOf(email)).toHaveLength(1)
})

test('a complaint counts for more than what came back before it, and sending the letter again does not undo it', async () => {
  const { messageId, customerId } = await buildConfirmation(ctx, { email: `both-${newId()}@example.com` })
  await sendMessage(ctx, memoryMailer(), messageId)
  const { messageIdHeader, toAddress } = await db.message.findUniqueOrThrow({ where: { id: messageId } })
  const about = { messageId: messageIdHeader, recipient: null, status: '5.1.1', detail: 'no' }
  await recordReport(ctx, { ...about, kind: 'failed' })
  await recordReport(ctx, { ...about, kind: 'complained', status: null })
  await recordReport(ctx, { ...about, kind: 'failed' })
  expect(await entryOf(toAddress)).toMatchObject([{ customerId, reason: 'complained' }])
  await office.call('POST', `/api/v1/messages/${messageId}/resend`)
  expect(await entryOf(toAddress)).toHaveLength(1)
})

test('of very many, the first five hundred and how many more', async () => {
  const before = await list()
  await db.suppressedAddress.createMany({
    data: Array.from({ length: 510 }, (_, n) => ({ email: `many-${n}@example.com`, reason: 'bounced' })),
  })
  const { items, more } = await list()
  expect([items.length, more]).toEqual([500, before.items.length + 10])
  // People first.
  expect(items[0]!.customerId).not.toBeNull()
  expect(items.at(-1)!.customerId).toBeNull()
})
