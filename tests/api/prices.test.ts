import { expect, test } from 'vitest'
import { makeChance } from '../../prisma/seed/chance.ts'
import { demoPrices } from '../../prisma/seed/prices.ts'
import { newId } from '../../server/ids.ts'
import { newPriceBody, pricePage, type PriceView, priceView } from '../../server/prices/schema.ts'
import { buildTestApp } from '../build/app.ts'
import { buildPrice } from '../build/price.ts'

const { base, ctx, person } = await buildTestApp()
const [admin, office, technician] = [
  await person('admin'),
  await person('office'),
  await person('technician'),
]
const version = (number: number) => ({ 'if-match': `"${number}"` })
const add = (payload: object) => admin.call('POST', '/api/v1/prices', { payload })
const list = async (query: string) =>
  pricePage.parse((await office.call('GET', `/api/v1/prices?${query}`)).json())

const RECEPTACLE = {
  code: 'REC-20',
  name: 'Replace a receptacle',
  unit: 'each',
  priceCents: 14_500,
  taxBasisPoints: 550,
  correctsItems: ['receptacles.device'],
}

test('an admin adds a price, and the office reads it', async () => {
  const id = newId()
  const answer = await add({ id, ...RECEPTACLE })
  expect(answer.statusCode, answer.body).toBe(201)
  const price = priceView.parse(answer.json())
  expect(price).toEqual({ id, ...RECEPTACLE, description: '', retiredAt: null, version: 1 })
  const again = await add({ id, ...RECEPTACLE, priceCents: 1 })
  expect(again.json()).toEqual(price)
  const [first, second] = await Promise.all(
    [1, 2].map(() => add({ ...RECEPTACLE, id: newId(), code: 'TWO' })),
  )
  expect([first!.statusCode, second!.statusCode].sort()).toEqual([201, 409])
  expect((await office.call('GET', `/api/v1/prices/${id}`)).headers['etag']).toBe('"1"')
  const audited = await base.db.auditEntry.count({ where: { subjectId: id, action: 'price.add' } })
  expect(audited).toBe(1)
})

test('a code stands for one price', async () => {
  const answer = await add({ ...RECEPTACLE, code: 'rec-21' })
  expect(answer.statusCode).toBe(201)
  const taken = await add({ ...RECEPTACLE, code: 'rec-21' })
  expect([taken.statusCode, taken.json().type]).toEqual([409, '/problems/already-exists'])
  expect(taken.json().detail).toContain('rec-21')
  const other = await buildPrice(ctx)
  const moved = await admin.call('PATCH', `/api/v1/prices/${other.id}`, {
    headers: version(1),
    payload: { code: 'rec-21' },
  })
  expect(moved.statusCode).toBe(409)
})

test.each<[object, string, RegExp]>([
  [{ priceCents: 145.5 }, '#/priceCents', /whole cents from 0/],
  [{ priceCents: -1 }, '#/priceCents', /whole cents from 0/],
  [{ priceCents: 10_000_001 }, '#/priceCents', /\$100,000\.00/],
  [{ taxBasisPoints: 10_001 }, '#/taxBasisPoints', /825 is 8\.25 %/],
  [{ unit: 'mile' }, '#/unit', /each, hour, foot/],
  [{ correctsItems: ['receptacles.lid'] }, '#/correctsItems/0', /no such item/],
  [{ code: ' ' }, '#/code', /empty/],
])('%j is refused, and says why', async (wrong, pointer, words) => {
  const answer = await add({ ...RECEPTACLE, code: newId(), ...wrong })
  expect(answer.statusCode).toBe(400)
  const { errors } = answer.json() as { errors: { pointer: string; detail: string }[] }
  expect(errors.find((each) => each.pointer === pointer)?.detail).toMatch(words)
})

test('two who change the same price: the second sees both versions', async () => {
  const price = await buildPrice(ctx)
  const change = (priceCents: number) =>
    admin.call('PATCH', `/api/v1/prices/${price.id}`, { headers: version(1), payload: { priceCents } })
  expect((await change(15_000)).json()).toMatchObject({ priceCents: 15_000, version: 2 })
  const late = await change(16_000)
  expect([late.statusCode, late.json().current.priceCents]).toEqual([412, 15_000])
  const unseen = await admin.call('PATCH', `/api/v1/prices/${price.id}`, { payload: { priceCents: 1 } })
  expect(unseen.statusCode).toBe(428)
})

test('what is no longer offered leaves the list, and comes back', async () => {
  const price = await buildPrice(ctx, { code: 'OLD-1' })
  const step = (what: string, seen: number) =>
    admin.call('POST', `/api/v1/prices/${price.id}/${what}`, { headers: version(seen) })
  const retired = (await step('retire', 1)).json() as PriceView
  expect(retired).toMatchObject({ retiredAt: '2026-06-01T15:00:00.000Z', version: 2 })
  const codes = async (query: string) => (await list(query)).items.map(({ code }) => code)
  expect(await codes('q=old-1')).toEqual([])
  expect(await codes('q=old-1&retired=yes')).toEqual(['OLD-1'])
  expect((await step('restore', 2)).json()).toMatchObject({ retiredAt: null, version: 3 })
  expect(await codes('q=OLD')).toEqual(['OLD-1'])
})

test('the list goes by code, page by page, and is saved as CSV', async () => {
  for (const code of ['Z-3', 'Z-1', 'Z-2']) await buildPrice(ctx, { code, name: 'Zinc clamp', unit: 'foot' })
  const first = await list('q=zinc&limit=2')
  const second = await list(`q=zinc&limit=2&cursor=${first.next}`)
  expect([...first.items, ...second.items].map(({ code }) => code)).toEqual(['Z-1', 'Z-2', 'Z-3'])
  expect(second.next).toBeNull()
  const csv = await office.call('GET', '/api/v1/prices/export.csv?q=zinc')
  expect(csv.body.split('\r\n')).toHaveLength(5)
  expect(csv.body).toContain('Z-1,Zinc clamp,,foot,$145.00,0')
  expect((await office.call('GET', '/api/v1/prices?cursor=x')).statusCode).toBe(400)
})

test('only admins write prices, technicians do not read them', async () => {
  const price = await buildPrice(ctx)
  const url = `/api/v1/prices/${price.id}`
  const change = { headers: version(1), payload: { priceCents: 1 } }
  expect((await office.call('PATCH', url, change)).statusCode).toBe(403)
  expect((await office.call('POST', '/api/v1/prices', { payload: RECEPTACLE })).statusCode).toBe(403)
  expect((await technician.call('GET', '/api/v1/prices')).statusCode).toBe(403)
  expect((await office.call('GET', `/api/v1/prices/${newId()}`)).statusCode).toBe(404)
})

test('the demo company has prices that the door would take, each with a code of its own', () => {
  const prices = demoPrices(makeChance(7), new Date('2024-01-01T00:00:00Z'))
  for (const { updatedAt: _, ...price } of prices) newPriceBody.parse(price)
  expect(new Set(prices.map(({ code }) => code)).size).toBe(prices.length)
})
