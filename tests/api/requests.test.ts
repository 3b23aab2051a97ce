import { expect, test } from 'vitest'
import { newId } from '../../server/ids.ts'
import { requestPage, requestView } from '../../server/requests/schema.ts'
import { buildTestApp } from '../build/app.ts'
import { buildCustomer } from '../build/customer.ts'
import { buildProperty } from '../build/property.ts'
import { buildRequest } from '../build/request.ts'
import { buildVisit } from '../build/visit.ts'

const { base, ctx, person } = await buildTestApp()
const office = await person('office')
const take = (payload: object) => office.call('POST', '/api/v1/requests', { payload })
const version = (number: number) => ({ 'if-match': `"${number}"` })

const NEW_HOME = {
  line1: '9 Mill Street',
  city: 'Port Ansel',
  yearBuilt: 1955,
  spaces: [{ kind: 'kitchen' }, { kind: 'garage' }],
}

test('one call keeps customer, home, spaces, equipment and request', async () => {
  const answer = await take({
    customer: { name: 'Eli Frost', phone: '555-0142' },
    property: NEW_HOME,
    equipment: [{ kind: 'alarm', details: { senses: 'co' }, manufacturedOn: '2019-01-01' }],
    reason: 'Buying the house',
    preferredDays: ['2026-06-05', '2026-06-03', '2026-06-05'],
    preferredTime: 'mornings',
  })
  expect(answer.statusCode, answer.body).toBe(201)
  const request = requestView.parse(answer.json())
  expect(request).toMatchObject({
    customerName: 'Eli Frost',
    line1: '9 Mill Street',
    state: 'waiting',
    preferredDays: ['2026-06-03', '2026-06-05'],
    source: 'phone',
    visitId: null,
    version: 1,
  })
  const home = (await office.call('GET', `/api/v1/properties/${request.propertyId}`)).json()
  expect(home.parties).toMatchObject([{ customerId: request.customerId, role: 'owner', isContact: true }])
  expect(home.spaces).toHaveLength(2)
  expect(home.equipment).toMatchObject([{ kind: 'alarm', manufacturedOn: '2019-01-01' }])
})

test('a found customer at a found home joins its people', async () => {
  const home = await buildProperty(ctx)
  const tenant = await buildCustomer(ctx)
  const answer = await take({
    customerId: tenant.id,
    propertyId: home.id,
    role: 'occupant',
    reason: 'Sparks',
  })
  expect(answer.statusCode, answer.body).toBe(201)
  const { parties } = (await office.call('GET', `/api/v1/properties/${home.id}`)).json()
  expect(parties).toMatchObject([
    { customerId: home.customerId, isContact: true },
    { customerId: tenant.id, role: 'occupant', isContact: false },
  ])
})

test('nothing is kept when one part is wrong', async () => {
  const count = async () =>
    Promise.all([base.db.customer.count(), base.db.property.count(), base.db.visitRequest.count()])
  const before = await count()
  const answer = await take({
    customer: { name: 'Half Kept' },
    property: NEW_HOME,
    equipment: [{ kind: 'alarm', spaceId: newId() }],
    reason: 'x',
  })
  expect(answer.statusCode).toBe(400)
  expect(await count()).toEqual(before)
})

test('the same id again, even at once, is the same request', async () => {
  const payload = { id: newId(), customer: { name: 'Once Only' }, property: NEW_HOME, reason: 'x' }
  const answers = await Promise.all([take(payload), take(payload), take(payload)])
  expect(answers.map((each) => each.statusCode)).toEqual([201, 201, 201])
  expect(new Set(answers.map((each) => each.json().propertyId)).size).toBe(1)
  expect(await base.db.customer.count({ where: { name: 'Once Only' } })).toBe(1)
})

test.each([
  ['neither customer nor its id', { propertyId: newId(), reason: 'x' }, '#/customer'],
  [
    'both customer and its id',
    { customerId: newId(), customer: { name: 'A' }, propertyId: newId(), reason: 'x' },
    '#/customer',
  ],
  ['no home', { customer: { name: 'A' }, reason: 'x' }, '#/property'],
  ['no reason', { customer: { name: 'A' }, property: NEW_HOME }, '#/reason'],
  ['an unknown customer', { customerId: newId(), property: NEW_HOME, reason: 'x' }, '#/customerId'],
  ['an unknown home', { customer: { name: 'A' }, propertyId: newId(), reason: 'x' }, '#/propertyId'],
  [
    'a day that there is not',
    { customer: { name: 'A' }, property: NEW_HOME, reason: 'x', preferredDays: ['2026-06-31'] },
    '#/preferredDays/0',
  ],
  [
    'a fault deep inside',
    { customer: { name: 'A' }, property: { ...NEW_HOME, spaces: [{ kind: 'cave' }] }, reason: 'x' },
    '#/property/spaces/0/kind',
  ],
])('a request with %s is refused, and says where', async (_what, payload, pointer) => {
  const before = await base.db.customer.count()
  const answer = await take(payload)
  expect(answer.statusCode).toBe(400)
  expect(answer.json().errors.map((each: { pointer: string }) => each.pointer)).toContain(pointer)
  expect(await base.db.customer.count()).toBe(before)
})

test('the list shows who waits, the oldest first', async () => {
  const [old, recent] = [
    await buildRequest(ctx, { reason: 'old' }),
    await buildRequest(ctx, { reason: 'recent' }),
  ]
  await base.db.visitRequest.update({ where: { id: old.id }, data: { createdAt: new Date('2026-05-01') } })
  const answer = await office.call('GET', '/api/v1/requests')
  const ids = requestPage.parse(answer.json()).items.map((each) => each.id)
  expect(ids.indexOf(old.id)).toBeLessThan(ids.indexOf(recent.id))
  const page = (await office.call('GET', '/api/v1/requests?limit=1')).json()
  const next = (await office.call('GET', `/api/v1/requests?limit=1&cursor=${page.next}`)).json()
  expect(next.items[0].id).not.toBe(page.items[0].id)
})

test('requests are found by name and address, in spite of slips', async () => {
  const owner = await buildCustomer(ctx, { name: 'Ferdinand Quill' })
  const home = await buildProperty(ctx, {
    line1: '77 Weaver Row',
    parties: [{ customerId: owner.id, role: 'owner' }],
  })
  const request = await buildRequest(ctx, { propertyId: home.id, customerId: owner.id })
  for (const q of ['quill', '77 weaver', 'ferdinadn', 'Weever Row']) {
    const answer = await office.call('GET', `/api/v1/requests?q=${encodeURIComponent(q)}`)
    expect(
      answer.json().items.map((each: { id: string }) => each.id),
      q,
    ).toEqual([request.id])
  }
})

test('a request is changed and withdrawn by the version seen', async () => {
  const { id } = await buildRequest(ctx)
  const changed = await office.call('PATCH', `/api/v1/requests/${id}`, {
    payload: { preferredDays: ['2026-07-01'], kind: 'repair' },
    headers: version(1),
  })
  expect(changed.json()).toMatchObject({ preferredDays: ['2026-07-01'], kind: 'repair', version: 2 })
  const withdraw = (seen: number) =>
    office.call('POST', `/api/v1/requests/${id}/withdraw`, {
      payload: { reason: 'moved away' },
      headers: version(seen),
    })
  expect((await withdraw(1)).statusCode).toBe(412)
  expect((await withdraw(2)).json()).toMatchObject({ state: 'withdrawn', closedReason: 'moved away' })
  expect((await withdraw(3)).statusCode).toBe(409)
  const waiting = (await office.call('GET', '/api/v1/requests?limit=200')).json().items
  expect(waiting.map((each: { id: string }) => each.id)).not.toContain(id)
})

test('one that is booked is not withdrawn', async () => {
  const request = await buildRequest(ctx)
  await buildVisit(ctx, { requestId: request.id })
  const now = (await office.call('GET', `/api/v1/requests/${request.id}`)).json()
  expect(now).toMatchObject({ state: 'booked', version: 2 })
  const answer = await office.call('POST', `/api/v1/requests/${request.id}/withdraw`, {
    payload: { reason: 'x' },
    headers: version(2),
  })
  expect(answer.statusCode).toBe(409)
  expect(answer.json().detail).toBe('A visit is booked for it; move or cancel that visit instead.')
})

test('an archived home takes no request', async () => {
  const home = await buildProperty(ctx)
  await office.call('POST', `/api/v1/properties/${home.id}/archive`, { headers: version(1) })
  const answer = await take({ customerId: home.customerId, propertyId: home.id, reason: 'x' })
  expect(answer.statusCode).toBe(409)
  expect(answer.json().detail).toContain('is archived; restore it first')
})
