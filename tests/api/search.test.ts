import { expect, test } from 'vitest'
import { searchView } from '../../server/search/schema.ts'
import { phoneDigits, withSwaps, wordsOf } from '../../server/search/forgiving.ts'
import { buildTestApp } from '../build/app.ts'
import { buildCustomer } from '../build/customer.ts'
import { buildProperty } from '../build/property.ts'
import { buildVisit } from '../build/visit.ts'

const { ctx, person } = await buildTestApp()
const office = await person('office')
const technician = await person('technician')

const owner = await buildCustomer(ctx, {
  name: 'Zoë Müller-Ångström',
  email: 'zoe.m@example.com',
  phone: '(555) 321-0150',
})
const home = await buildProperty(ctx, {
  line1: '14 Quay Lane',
  postcode: '00512',
  parties: [{ customerId: owner.id, role: 'owner' }],
})
const visit = await buildVisit(ctx, {
  propertyId: home.id,
  customerId: owner.id,
  technicianId: technician.id,
})
const stranger = await buildCustomer(ctx, { name: 'Zora Stranger' })
const elsewhere = await buildProperty(ctx, {
  line1: '41 Quarry Lane',
  parties: [{ customerId: stranger.id, role: 'owner' }],
})
await buildVisit(ctx, { propertyId: elsewhere.id, customerId: stranger.id })

const search = async (q: string, by = office) => {
  const answer = await by.call('GET', `/api/v1/search?q=${encodeURIComponent(q)}`)
  expect(answer.statusCode, answer.body).toBe(200)
  return searchView.parse(answer.json())
}
const ids = (rows: readonly { id: string }[]) => rows.map((row) => row.id)

test.each([
  'Müller',
  'muller',
  'MULLER',
  'mulelr',
  'Zoe Muller',
  'zoe angstrom',
  'angstrm',
  'zoe.m@',
  '555-321-0150',
  '5553210150',
  '+1 (555) 321-0150',
  '321.0150',
])('the customer and her visit are found by %s', async (q) => {
  const found = await search(q)
  expect(found.customers[0]?.id).toBe(owner.id)
  expect(ids(found.visits)).toContain(visit.id)
})

test.each(['14 quay lane', 'Quay Ln 14', '14 Qauy Lane', 'quay lane port ansel', '00512', '14 quai lane'])(
  'the home and its visit are found by %s',
  async (q) => {
    const found = await search(q)
    expect(found.properties[0]?.id).toBe(home.id)
    expect(ids(found.visits)).toContain(visit.id)
  },
)

test('an id finds its record and no other', async () => {
  expect(ids((await search(owner.id)).customers)).toEqual([owner.id])
  expect(ids((await search(home.id)).properties)).toEqual([home.id])
  const found = await search(visit.id)
  expect(ids(found.visits)).toEqual([visit.id])
  expect(found).toMatchObject({ customers: [], properties: [] })
})

test('what nobody is called finds nobody', async () => {
  expect(await search('xylophone')).toEqual({ customers: [], properties: [], visits: [] })
})

test('a technician finds the homes and visits that are theirs, and no customers', async () => {
  const mine = await search('zoe', technician)
  expect(mine.customers).toEqual([])
  expect(ids(mine.visits)).toEqual([visit.id])
  expect(ids((await search('lane', technician)).properties)).toEqual([home.id])
  expect(await search('stranger', technician)).toEqual({ customers: [], properties: [], visits: [] })
  expect(await search(elsewhere.id, technician)).toEqual({ customers: [], properties: [], visits: [] })
})

test.each(['', ' ', 'x'.repeat(201), 'a\0b'])('a search for nothing or too much is refused', async (q) => {
  const answer = await office.call('GET', `/api/v1/search?q=${encodeURIComponent(q)}`)
  expect(answer.statusCode).toBe(400)
  expect(answer.json().errors[0].pointer).toBe('?q')
})

test('typed text is taken apart', () => {
  expect(wordsOf(' José  Muñoz, 14')).toEqual(['jose', 'munoz', '14'])
  expect(withSwaps('quay')).toEqual(['quay', 'uqay', 'qauy', 'quya'])
  expect(withSwaps('14')).toEqual(['14'])
  expect(phoneDigits('+1 (555) 321-0150')).toBe('15553210150')
  expect(phoneDigits('14')).toBeNull()
  expect(phoneDigits('14 Quay')).toBeNull()
})
