import { expect, test } from 'vitest'
import { newId } from '../../server/ids.ts'
import { homeView } from '../../server/properties/home-schema.ts'
import { propertyPage } from '../../server/properties/schema.ts'
import { buildTestApp } from '../build/app.ts'
import { buildCustomer } from '../build/customer.ts'
import { buildEquipment, buildProperty } from '../build/property.ts'
import { buildVisit } from '../build/visit.ts'

const { base, ctx, person } = await buildTestApp()
const office = await person('office')

const list = async (query: string) => {
  const answer = await office.call('GET', `/api/v1/properties?${query}`)
  expect(answer.statusCode, answer.body).toBe(200)
  return propertyPage.parse(answer.json())
}
const lines = async (query: string) => (await list(query)).items.map((each) => each.line1)
const read = async (id: string, by = office) => {
  const answer = await by.call('GET', `/api/v1/properties/${id}`)
  expect(answer.statusCode, answer.body).toBe(200)
  return homeView.strict().parse(answer.json())
}
const version = (number: number) => ({ 'if-match': `"${number}"` })

test('a home is put on record with its customer and spaces in one call', async () => {
  const answer = await office.call('POST', '/api/v1/properties', {
    payload: {
      line1: '14 Quay Lane',
      city: 'Port Ansel',
      postcode: '00501',
      yearBuilt: 1968,
      fuels: ['natural-gas', 'natural-gas', 'electric'],
      garage: 'attached',
      customer: { name: 'Ana Reyes', email: 'ana@example.com' },
      spaces: [{ kind: 'bedroom' }, { kind: 'bedroom' }, { kind: 'kitchen', name: 'Big kitchen' }],
    },
  })
  expect(answer.statusCode, answer.body).toBe(201)
  expect(answer.json()).toMatchObject({ timeZone: 'America/New_York', fuels: ['natural-gas', 'electric'] })
  const home = await read(answer.json().id)
  expect(home.parties).toMatchObject([
    { name: 'Ana Reyes', role: 'owner', isContact: true, since: '2026-06-01' },
  ])
  expect(home.spaces.map((each) => each.name)).toEqual(['Bedroom', 'Bedroom 2', 'Big kitchen'])
})

test('nothing is kept of a home when one part is wrong', async () => {
  const count = async () => [await base.db.property.count(), await base.db.customer.count()]
  const before = await count()
  const answer = await office.call('POST', '/api/v1/properties', {
    payload: {
      line1: '1 Half Way',
      city: 'Port Ansel',
      customer: { name: 'Never Kept' },
      parties: [{ customerId: newId(), role: 'payer' }],
    },
  })
  expect(answer.statusCode).toBe(400)
  expect(answer.json().errors).toEqual([
    { pointer: '#/parties/0/customerId', detail: 'there is no such customer' },
  ])
  expect(await count()).toEqual(before)
})

test('the same id again is the same home', async () => {
  const payload = { id: newId(), line1: '2 Twice Street', city: 'Port Ansel', spaces: [{ kind: 'hall' }] }
  const add = () => office.call('POST', '/api/v1/properties', { payload })
  const [first, second] = [await add(), await add()]
  expect(second.json()).toEqual(first.json())
  expect((await read(payload.id)).spaces).toHaveLength(1)
})

test('a change names the version seen; a stale one gets both', async () => {
  const { id } = await buildProperty(ctx)
  const change = (seen: number, payload: object) =>
    office.call('PATCH', `/api/v1/properties/${id}`, { payload, headers: version(seen) })
  expect((await change(1, { yearBuilt: 1950, accessNotes: 'Dog.' })).json()).toMatchObject({
    yearBuilt: 1950,
    accessNotes: 'Dog.',
    version: 2,
  })
  const stale = await change(1, { yearBuilt: 1951 })
  expect(stale.statusCode).toBe(412)
  expect(stale.json()).toMatchObject({ seen: 1, current: { version: 2, yearBuilt: 1950 } })
})

test.each([
  ['a year before houses', { yearBuilt: 1500 }, '#/yearBuilt'],
  ['a year in letters', { yearBuilt: 'old' }, '#/yearBuilt'],
  ['a day that there is not', { soldOn: '2026-02-30' }, '#/soldOn'],
  ['half a position', { latitude: 40 }, '#/longitude'],
  ['a position off the earth', { latitude: 91, longitude: 0 }, '#/latitude'],
  ['a time zone that there is not', { timeZone: 'Port/Ansel' }, '#/timeZone'],
  ['an offset for a time zone', { timeZone: '-05:00' }, '#/timeZone'],
  ['an unknown jurisdiction', { jurisdictionId: '01900000-0000-7000-8000-000000000000' }, '#/jurisdictionId'],
  ['an unknown fuel', { fuels: ['peat'] }, '#/fuels/0'],
  ['a zero byte', { accessNotes: 'gate\0code' }, '#/accessNotes'],
])('a home with %s is refused', async (_what, payload, pointer) => {
  const { id } = await buildProperty(ctx)
  const answer = await office.call('PATCH', `/api/v1/properties/${id}`, { payload, headers: version(1) })
  expect(answer.statusCode).toBe(400)
  expect(answer.json().errors.map((each: { pointer: string }) => each.pointer)).toContain(pointer)
  expect((await read(id)).version).toBe(1)
})

test('homes are found by address, by their people, and in spite of slips', async () => {
  const owner = await buildCustomer(ctx, { name: 'Wilhelmina Vance', phone: '555-444-0166' })
  await buildProperty(ctx, {
    line1: '31 Lighthouse Road',
    parties: [{ customerId: owner.id, role: 'owner' }],
  })
  for (const q of [
    '31 lighthouse',
    'Lighthouse Road 31',
    'lihgthouse',
    '31 Lighthous Rd',
    'vance',
    '(555) 444 0166',
  ]) {
    expect(await lines(`q=${encodeURIComponent(q)}`), q).toEqual(['31 Lighthouse Road'])
  }
  expect(await lines(`customerId=${owner.id}`)).toEqual(['31 Lighthouse Road'])
})

test('filters: jurisdiction, year built, what is due, archived', async () => {
  const town = await base.db.jurisdiction.create({ data: { id: newId(), name: 'Port Ansel', region: 'NY' } })
  const at = (line1: string, more: object) =>
    buildProperty(ctx, { line1, jurisdictionId: town.id, postcode: '00900', ...more })
  const overdue = await at('1 Filter Street', { yearBuilt: 1920 })
  const soon = await at('2 Filter Street', { yearBuilt: 1960 })
  await at('3 Filter Street', { yearBuilt: 2001 })
  await base.db.followUp.deleteMany({})
  const due = (propertyId: string, dueOn: string) =>
    base.db.followUp.create({
      data: {
        id: newId(),
        propertyId,
        kind: 'reinspection',
        subjectKind: 'home',
        subjectId: propertyId,
        dueOn: new Date(dueOn),
        reason: 'test',
      },
    })
  await due(overdue.id, '2026-05-31')
  await due(soon.id, '2026-06-01')
  const found = (query: string) => lines(`jurisdictionId=${town.id}&${query}`)
  expect(await found('')).toEqual(['1 Filter Street', '2 Filter Street', '3 Filter Street'])
  expect(await found('due=overdue')).toEqual(['1 Filter Street'])
  expect(await found('due=soon')).toEqual(['2 Filter Street'])
  expect(await found('due=none')).toEqual(['3 Filter Street'])
  expect(await found('builtFrom=1950&builtTo=1970')).toEqual(['2 Filter Street'])
  const { items } = await list(`jurisdictionId=${town.id}&due=overdue`)
  expect(items[0]).toMatchObject({
    nextDueOn: '2026-05-31',
    openFollowUps: 1,
    jurisdictionName: 'Port Ansel',
  })
  await office.call('POST', `/api/v1/properties/${overdue.id}/archive`, { headers: version(1) })
  expect(await found('archived=yes')).toEqual(['1 Filter Street'])
  expect(await found('archived=no')).toEqual(['2 Filter Street', '3 Filter Street'])
})

test('a list is walked page by page, each home once', async () => {
  for (let i = 0; i < 11; i++) await buildProperty(ctx, { line1: `${i} Walk Way`, postcode: `0080${i % 3}` })
  const seen: string[] = []
  for (let cursor = ''; ;) {
    const { items, next } = await list(`q=${encodeURIComponent('walk way')}&limit=4${cursor}`)
    seen.push(...items.map((each) => each.line1))
    if (!next) break
    cursor = `&cursor=${next}`
  }
  expect(seen).toHaveLength(11)
  expect(new Set(seen).size).toBe(11)
})

test('the export has every home of the list', async () => {
  const answer = await office.call('GET', '/api/v1/properties/export.csv?q=walk%20way')
  const rows = answer.body.replace('\uFEFF', '').trim().split('\r\n')
  expect(rows).toHaveLength(12)
  expect(rows[0]).toMatch(/^Address,Second line,City/)
})

test('a home with a visit ahead is not archived', async () => {
  const home = await buildProperty(ctx)
  await buildVisit(ctx, { propertyId: home.id, customerId: home.customerId })
  const answer = await office.call('POST', `/api/v1/properties/${home.id}/archive`, { headers: version(1) })
  expect(answer.statusCode).toBe(409)
  expect(answer.json().detail).toContain('is booked on June 2, 2026 at 9:00 AM; cancel it first')
})

test('new owners: the history stays, the contact is theirs, nothing more goes to the old ones', async () => {
  const home = await buildProperty(ctx)
  const buyer = await buildCustomer(ctx, { name: 'Buyer' })
  const reminder = { toAddress: 'old@example.com', kind: 'due-reminder', category: 'reminder' }
  const message = await base.db.message.create({
    data: {
      ...reminder,
      id: newId(),
      customerId: home.customerId,
      propertyId: home.id,
      dedupeKey: newId(),
      messageIdHeader: newId(),
    },
  })
  const answer = await office.call('PUT', `/api/v1/properties/${home.id}/parties`, {
    payload: { parties: [{ customerId: buyer.id, role: 'owner', isContact: true }], soldOn: '2026-05-20' },
    headers: version(1),
  })
  expect(answer.statusCode, answer.body).toBe(200)
  expect(answer.json()).toMatchObject({ version: 2, parties: [{ customerId: buyer.id, isContact: true }] })
  const after = await read(home.id)
  expect(after.soldOn).toBe('2026-05-20')
  expect(after.parties).toMatchObject([
    { customerId: buyer.id, isContact: true, until: null },
    { customerId: home.customerId, isContact: false, until: '2026-06-01' },
  ])
  expect(await base.db.message.findUnique({ where: { id: message.id } })).toMatchObject({
    state: 'cancelled',
  })
})

test('two contacts, or one person twice, are refused', async () => {
  const home = await buildProperty(ctx)
  const one = { customerId: home.customerId, role: 'owner', isContact: true }
  const change = (parties: object[]) =>
    office.call('PUT', `/api/v1/properties/${home.id}/parties`, { payload: { parties }, headers: version(1) })
  expect((await change([one, { ...one, role: 'payer' }])).statusCode).toBe(400)
  expect((await change([one, { ...one, isContact: false }])).statusCode).toBe(400)
})

test('spaces are added, changed, and removed or retired as their history asks', async () => {
  const { id } = await buildProperty(ctx, { spaces: [{ kind: 'bedroom' }] })
  const added = await office.call('POST', `/api/v1/properties/${id}/spaces`, {
    payload: { kind: 'bedroom', level: 1, hasFuelBurner: false },
  })
  expect(added.json()).toMatchObject({ name: 'Bedroom 2', level: 1, position: 1, version: 1 })
  const space = added.json().id as string
  const changed = await office.call('PATCH', `/api/v1/spaces/${space}`, {
    payload: { name: 'Blue bedroom', sleepingArea: 'upstairs' },
    headers: version(1),
  })
  expect(changed.json()).toMatchObject({
    name: 'Blue bedroom',
    sleepingArea: 'upstairs',
    level: 1,
    version: 2,
  })
  await buildEquipment(ctx, id, { spaceId: space })
  const end = (of: string, seen: number) =>
    office.call('DELETE', `/api/v1/spaces/${of}`, { headers: version(seen) })
  expect((await end(space, 1)).statusCode).toBe(412)
  expect((await end(space, 2)).json()).toEqual({ outcome: 'retired' })
  const other = (
    await office.call('POST', `/api/v1/properties/${id}/spaces`, { payload: { kind: 'attic-habitable' } })
  ).json()
  expect((await end(other.id, 1)).json()).toEqual({ outcome: 'removed' })
  expect((await read(id)).spaces.map((each) => [each.name, each.retiredOn])).toEqual([
    ['Bedroom', null],
    ['Blue bedroom', '2026-06-01'],
  ])
})

test('an alarm is kept with the day by which it must be replaced', async () => {
  const { id } = await buildProperty(ctx)
  const answer = await office.call('POST', `/api/v1/properties/${id}/equipment`, {
    payload: { kind: 'alarm', details: { senses: 'smoke', power: 'battery' }, manufacturedOn: '2018-03-14' },
  })
  expect(answer.statusCode, answer.body).toBe(201)
  // NFPA 72-2013 §14.4.7.1: ten years from the date of manufacture.
  expect(answer.json()).toMatchObject({ label: 'Alarm', replaceBy: '2028-03-14', replaceByAssumed: false })
  const changed = await office.call('PATCH', `/api/v1/equipment/${answer.json().id}`, {
    payload: { kind: 'alarm', details: { senses: 'smoke', makerLifeYears: 8 }, label: 'Hall alarm' },
    headers: version(1),
  })
  expect(changed.json()).toMatchObject({ label: 'Hall alarm', replaceBy: '2026-03-14', version: 2 })
  expect(changed.json().details).toEqual({ senses: 'smoke', makerLifeYears: 8 })
})

test('what was replaced hands its place and its parts to the new thing', async () => {
  const { id } = await buildProperty(ctx, { spaces: [{ kind: 'basement-unfinished' }] })
  const spaceId = (await read(id)).spaces[0]!.id
  const panel = await buildEquipment(ctx, id, { kind: 'panel', details: { busAmps: 100 }, spaceId })
  const circuit = await buildEquipment(ctx, id, { kind: 'circuit', details: {}, parentId: panel.id })
  const replacement = newId()
  const replace = () =>
    office.call('POST', `/api/v1/equipment/${panel.id}/replace`, {
      payload: { id: replacement, details: { busAmps: 200 }, replacedOn: '2026-05-01', reason: 'too small' },
      headers: version(1),
    })
  const answer = await replace()
  expect(answer.statusCode, answer.body).toBe(200)
  expect(answer.json()).toMatchObject({
    retired: { retiredOn: '2026-05-01', retiredReason: 'too small', replacedById: replacement },
    replacement: {
      id: replacement,
      kind: 'panel',
      spaceId,
      installedOn: '2026-05-01',
      details: { busAmps: 200 },
    },
  })
  const home = await read(id)
  expect(home.equipment.find((each) => each.id === circuit.id)).toMatchObject({ parentId: replacement })
  expect((await replace()).json().replacement.id).toBe(replacement)
  expect(await base.db.equipment.count({ where: { propertyId: id } })).toBe(3)
})

test('equipment that is retired leaves, once, with its reason', async () => {
  const { id } = await buildProperty(ctx)
  const alarm = await buildEquipment(ctx, id)
  const retire = (seen: number) =>
    office.call('POST', `/api/v1/equipment/${alarm.id}/retire`, {
      payload: { reason: 'wall gone' },
      headers: version(seen),
    })
  expect((await retire(1)).json()).toMatchObject({
    retiredOn: '2026-06-01',
    replaceBy: null,
    nextCheckOn: null,
  })
  const again = await retire(2)
  expect(again.statusCode).toBe(409)
  expect(again.json().detail).toBe('It has been out of use since June 1, 2026.')
})

test.each([
  [
    'a rating out of range',
    { kind: 'panel', details: { busAmps: 9000 } },
    '#/details/busAmps',
    'Bus rating: expected a whole number from 30 to 1200 A',
  ],
  [
    'a rating in letters',
    { kind: 'panel', details: { busAmps: '200' } },
    '#/details/busAmps',
    'Bus rating: expected a whole number from 30 to 1200 A',
  ],
  [
    'half an ampere',
    { kind: 'panel', details: { busAmps: 100.5 } },
    '#/details/busAmps',
    'Bus rating: expected a whole number from 30 to 1200 A',
  ],
  [
    'a word that is no choice',
    { kind: 'panel', details: { role: 'main' } },
    '#/details/role',
    'Role: expected one of service, sub-panel',
  ],
  [
    'a detail of another kind',
    { kind: 'alarm', details: { busAmps: 100 } },
    '#/details',
    'Unrecognized key: "busAmps"',
  ],
  [
    'a text for yes or no',
    { kind: 'alarm', details: { interconnected: 'yes' } },
    '#/details/interconnected',
    'Interconnected: expected yes (true) or no (false)',
  ],
  [
    'a label too long',
    { kind: 'alarm', details: { labelText: 'x'.repeat(61) } },
    '#/details/labelText',
    'Date as printed: expected 60 letters or fewer',
  ],
  [
    'a day that there is not',
    { kind: 'alarm', manufacturedOn: '2018-02-29' },
    '#/manufacturedOn',
    'expected a day that exists, such as 2026-03-31',
  ],
  [
    'a space of nowhere',
    { kind: 'alarm', spaceId: '01900000-0000-7000-8000-000000000000' },
    '#/spaceId',
    'this home has no such space',
  ],
])('equipment with %s is refused', async (_what, payload, pointer, detail) => {
  const { id } = await buildProperty(ctx)
  const answer = await office.call('POST', `/api/v1/properties/${id}/equipment`, { payload })
  expect(answer.statusCode).toBe(400)
  expect(answer.json().errors).toContainEqual({ pointer, detail })
  expect(await base.db.equipment.count({ where: { propertyId: id } })).toBe(0)
})

test('an unknown kind is refused with the known ones', async () => {
  const { id } = await buildProperty(ctx)
  const answer = await office.call('POST', `/api/v1/properties/${id}/equipment`, {
    payload: { kind: 'lift' },
  })
  expect(answer.statusCode).toBe(400)
  expect(answer.json().errors[0]).toMatchObject({
    pointer: '#/kind',
    detail: expect.stringContaining('surge-protector'),
  })
})

test('nothing hangs on itself, and a kind does not change', async () => {
  const { id } = await buildProperty(ctx)
  const panel = await buildEquipment(ctx, id, { kind: 'panel', details: {} })
  const circuit = await buildEquipment(ctx, id, { kind: 'circuit', details: {}, parentId: panel.id })
  const change = (payload: object) =>
    office.call('PATCH', `/api/v1/equipment/${panel.id}`, { payload, headers: version(1) })
  expect((await change({ kind: 'panel', parentId: circuit.id })).json().errors).toEqual([
    { pointer: '#/parentId', detail: 'it would hang on itself' },
  ])
  expect((await change({ kind: 'circuit' })).json().errors[0].pointer).toBe('#/kind')
})

test('a technician sees the homes of their own visits, without messages, and no others', async () => {
  const technician = await person('technician')
  const [mine, other] = [await buildProperty(ctx), await buildProperty(ctx)]
  await buildVisit(ctx, { propertyId: mine.id, customerId: mine.customerId, technicianId: technician.id })
  const seen = await read(mine.id, technician)
  expect(seen.messages).toEqual([])
  expect((await read(mine.id)).messages).toHaveLength(1)
  const refused = await technician.call('GET', `/api/v1/properties/${other.id}`)
  expect(refused.statusCode).toBe(403)
  const add = (id: string) =>
    technician.call('POST', `/api/v1/properties/${id}/spaces`, { payload: { kind: 'closet' } })
  expect((await add(mine.id)).statusCode).toBe(201)
  expect((await add(other.id)).statusCode).toBe(403)
  const alarm = await buildEquipment(ctx, other.id)
  const retire = await technician.call('POST', `/api/v1/equipment/${alarm.id}/retire`, {
    payload: { reason: 'x' },
    headers: version(1),
  })
  expect(retire.statusCode).toBe(403)
})

test.each([
  ['399 days', '2025-04-28T15:00:00Z', 200],
  ['401 days', '2025-04-26T15:00:00Z', 403],
])('a home is seen by its technician %s after the visit: %s', async (_days, startsAt, status) => {
  const technician = await person('technician')
  const home = await buildProperty(ctx)
  const start = new Date(startsAt)
  await base.db.visit.create({
    data: {
      id: newId(),
      propertyId: home.id,
      customerId: home.customerId,
      technicianId: technician.id,
      kind: 'inspection',
      state: 'finished',
      windowStartsAt: start,
      windowEndsAt: new Date(start.getTime() + 7_200_000),
      startsAt: start,
      endsAt: new Date(start.getTime() + 3_600_000),
      lengthMinutes: 60,
    },
  })
  expect((await technician.call('GET', `/api/v1/properties/${home.id}`)).statusCode).toBe(status)
})
