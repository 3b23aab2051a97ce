import { expect, test } from 'vitest'
import { customerPage, customerView, duplicatesView } from '../../server/customers/schema.ts'
import { newId } from '../../server/ids.ts'
import { buildTestApp } from '../build/app.ts'
import { buildCustomer } from '../build/customer.ts'
import { buildProperty } from '../build/property.ts'

const { base, ctx, person } = await buildTestApp()
const office = await person('office')

const list = async (query: string) => {
  const answer = await office.call('GET', `/api/v1/customers?${query}`)
  expect(answer.statusCode, answer.body).toBe(200)
  return customerPage.parse(answer.json())
}
const names = async (query: string) => (await list(query)).items.map((each) => each.name)

test('a customer is put on record, and the change is in the audit trail', async () => {
  const answer = await office.call('POST', '/api/v1/customers', {
    payload: { name: ' Ana Reyes ', email: 'Ana.Reyes@example.com', phone: '(555) 555-0123' },
  })
  expect(answer.statusCode, answer.body).toBe(201)
  expect(answer.headers.etag).toBe('"1"')
  expect(answer.json()).toMatchObject({ name: 'Ana Reyes', kind: 'person', language: 'en', version: 1 })
  const entry = await base.db.auditEntry.findFirst({ where: { subjectId: answer.json().id } })
  expect(entry).toMatchObject({ action: 'customer.add', actorId: office.id })
})

test('the same id again is the same customer, left as it is', async () => {
  const id = newId()
  const add = (name: string) => office.call('POST', '/api/v1/customers', { payload: { id, name } })
  await add('First Word')
  const again = await add('Second Word')
  expect(again.statusCode).toBe(201)
  expect(again.json().name).toBe('First Word')
  expect(await base.db.auditEntry.count({ where: { subjectId: id } })).toBe(1)
})

test('the same Idempotency-Key gives the same answer and makes one customer', async () => {
  const add = () =>
    office.call('POST', '/api/v1/customers', {
      payload: { name: 'Only Once' },
      headers: { 'idempotency-key': 'key-only-once' },
    })
  const [first, second] = [await add(), await add()]
  expect(second.json()).toEqual(first.json())
  expect(await base.db.customer.count({ where: { name: 'Only Once' } })).toBe(1)
})

test('a change names the version seen; a stale one gets both versions', async () => {
  const { id } = await buildCustomer(ctx, { name: 'Ben Ode' })
  const change = (version: string | null, payload: object) =>
    office.call('PATCH', `/api/v1/customers/${id}`, {
      payload,
      headers: version === null ? {} : { 'if-match': version },
    })
  expect((await change(null, { name: 'X' })).statusCode).toBe(428)
  const changed = await change('"1"', { notes: 'Rings twice.', phone: null })
  expect(changed.json()).toMatchObject({ name: 'Ben Ode', notes: 'Rings twice.', phone: null, version: 2 })
  const stale = await change('"1"', { notes: 'Never rings.' })
  expect(stale.statusCode).toBe(412)
  expect(stale.json()).toMatchObject({ seen: 1, current: { version: 2, notes: 'Rings twice.' } })
})

test('of two changes at once, one is told about the other', async () => {
  const { id } = await buildCustomer(ctx)
  const change = (notes: string) =>
    office.call('PATCH', `/api/v1/customers/${id}`, { payload: { notes }, headers: { 'if-match': '"1"' } })
  const answers = await Promise.all(['a', 'b', 'c'].map(change))
  expect(answers.map((each) => each.statusCode).sort()).toEqual([200, 412, 412])
})

test('an archived customer leaves the lists, and comes back', async () => {
  const { id } = await buildCustomer(ctx, { name: 'Cleo Archived' })
  const archived = await office.call('POST', `/api/v1/customers/${id}/archive`, {
    headers: { 'if-match': '"1"' },
  })
  expect(archived.json().archivedAt).toBe('2026-06-01T15:00:00.000Z')
  expect(await names('q=Cleo')).not.toContain('Cleo Archived')
  expect(await names('q=Cleo&archived=yes')).toContain('Cleo Archived')
  await office.call('POST', `/api/v1/customers/${id}/restore`, { headers: { 'if-match': '"2"' } })
  expect(await names('q=Cleo')).toContain('Cleo Archived')
})

test('a list is walked page by page, each customer once', async () => {
  for (let i = 0; i < 12; i++) await buildCustomer(ctx, { name: `Walker ${i % 3}` })
  const seen: string[] = []
  let cursor = ''
  for (let page = 0; page < 10; page++) {
    const { items, next } = await list(`q=Walker&limit=5${cursor}`)
    seen.push(...items.map((each) => each.id))
    if (!next) break
    cursor = `&cursor=${next}`
  }
  expect(seen).toHaveLength(12)
  expect(new Set(seen).size).toBe(12)
})

test.each([
  ['a cursor that is none', 'cursor=x', '?cursor'],
  ['a cursor of another list', `cursor=${Buffer.from('[1,2]').toString('base64url')}`, '?cursor'],
  ['a limit too large', 'limit=500', '?limit'],
  ['a filter that there is not', 'colour=red', '?'],
  ['yes and no in other words', 'archived=maybe', '?archived'],
])('%s is refused with its name', async (_what, query, pointer) => {
  const answer = await office.call('GET', `/api/v1/customers?${query}`)
  expect(answer.statusCode).toBe(400)
  expect(answer.json().errors[0].pointer).toBe(pointer)
})

test.each([
  ['as it is written', 'Johnson', 'Maria Johnson'],
  ['two letters swapped', 'Jhonson', 'Maria Johnson'],
  ['a letter missing', 'Jonson', 'Maria Johnson'],
  ['a letter too many', 'Johnnson', 'Maria Johnson'],
  ['first names swapped about', 'johnson maria', 'Maria Johnson'],
  ['an accent left out', 'Munoz', 'José Muñoz'],
  ['an accent put in', 'Jóse Munoz', 'José Muñoz'],
  ['two short words with a slip', 'Jsoe Muñoz', 'José Muñoz'],
  ['part of an e-mail', 'maria.j@', 'Maria Johnson'],
  ['a phone in other writing', '(555) 555 0177', 'Maria Johnson'],
  ['a phone with its country', '+1 555.555.0177', 'Maria Johnson'],
  ['the end of a phone', '0177', 'Maria Johnson'],
  ['two digits of a phone swapped', '5550717', 'Maria Johnson'],
])('search forgives: %s', async (_what, typed, expected) => {
  if (!(await base.db.customer.findFirst({ where: { name: 'José Muñoz' } }))) {
    await buildCustomer(ctx, { name: 'José Muñoz', email: 'jose@example.com', phone: '555-0188' })
    await buildCustomer(ctx, { name: 'Maria Johnson', email: 'maria.j@example.com', phone: '555-555-0177' })
  }
  expect((await names(`q=${encodeURIComponent(typed)}`))[0]).toBe(expected)
})

test('search does not find everybody', async () => {
  expect(await names('q=Zwyczajny')).toEqual([])
  expect(await names(`q=${encodeURIComponent('100%')}`)).toEqual([])
  expect(await names('q=_')).toEqual([])
})

test('the export is the list, safe to open in a spreadsheet', async () => {
  await buildCustomer(ctx, { name: '=HYPERLINK("http://x")', notes: 'export' })
  const answer = await office.call('GET', '/api/v1/customers/export.csv?q=hyperlink')
  expect(answer.headers['content-type']).toBe('text/csv; charset=utf-8')
  const [head, row] = answer.body.replace('\uFEFF', '').trim().split('\r\n')
  expect(head).toBe('Name,Kind,E-mail,Phone,Homes,Address,Customer since,Archived,Id')
  expect(row).toMatch(/^"'=HYPERLINK\(""http:\/\/x""\)",person,/)
})

test('a customer is shown with their homes and messages', async () => {
  const home = await buildProperty(ctx, { line1: '14 Quay Lane' })
  const answer = await office.call('GET', `/api/v1/customers/${home.customerId}`)
  const view = customerView.parse(answer.json())
  expect(answer.headers.etag).toBe('"1"')
  expect(view.homes).toMatchObject([
    { line1: '14 Quay Lane', roles: ['owner'], isContact: true, current: true },
  ])
  expect(view.messages).toMatchObject({ total: 0, failed: 0, lastSentAt: null, latest: [] })
  expect(view.visits).toEqual([])
})

const duplicates = async (query: Record<string, string>) => {
  const answer = await office.call('GET', `/api/v1/customers/duplicates?${new URLSearchParams(query)}`)
  expect(answer.statusCode, answer.body).toBe(200)
  return duplicatesView.parse(answer.json())
}

test('duplicates are noticed by phone, e-mail and address, however they are written', async () => {
  const owner = await buildCustomer(ctx, {
    name: 'Dora Dup',
    email: 'dora@example.com',
    phone: '+1 555 201 0142',
  })
  await buildProperty(ctx, {
    line1: '27 Harbour Street',
    postcode: '00777',
    parties: [{ customerId: owner.id, role: 'owner' }],
  })
  const shares = async (query: Record<string, string>) =>
    (await duplicates(query)).customers.filter((each) => each.id === owner.id).flatMap((each) => each.shares)
  expect(await shares({ phone: '(555) 201-0142' })).toEqual(['phone'])
  expect(await shares({ phone: '2010142' })).toEqual(['phone'])
  expect(await shares({ email: 'DORA@example.com' })).toEqual(['email'])
  expect(await shares({ line1: '27 harbour st', postcode: '00777' })).toEqual(['address'])
  expect(await shares({ line1: '27 Harbor Street' })).toEqual(['address'])
  expect(await shares({ line1: '72 Harbour Street', postcode: '00777' })).toEqual([])
  expect(await shares({ line1: '27 Harbour Street', postcode: '00778' })).toEqual([])
  expect(await shares({ phone: '555-201-0142', email: 'dora@example.com' })).toEqual(['phone', 'email'])
  expect(await shares({ phone: '0142' })).toEqual([])
  const edited = await duplicates({ phone: '555-201-0142', exceptId: owner.id })
  expect(edited.customers).toEqual([])
})

test.each([
  ['no name', { name: '' }, '#/name', 'must not be empty'],
  ['a name too long', { name: 'x'.repeat(201) }, '#/name', 'expected 200 letters or fewer'],
  ['a name that is a number', { name: 7 }, '#/name', 'expected text'],
  ['a zero byte', { name: 'a\0b' }, '#/name', 'contains a zero byte, which cannot be stored'],
  [
    'no e-mail address',
    { name: 'A', email: 'ana at home' },
    '#/email',
    'expected an e-mail address, such as ana@example.com',
  ],
  [
    'a phone of letters',
    { name: 'A', phone: 'ring me' },
    '#/phone',
    'expected a phone number of five digits or more, such as 555-0123',
  ],
  ['an unknown language', { name: 'A', language: 'xx' }, '#/language', 'expected en or es'],
  ['an unknown field', { name: 'A', colour: 'red' }, '#/', 'Unrecognized key: "colour"'],
  ['an id that is none', { id: '7', name: 'A' }, '#/id', 'expected an id (UUID)'],
])('a customer with %s is refused', async (_what, payload, pointer, detail) => {
  const before = await base.db.customer.count()
  const answer = await office.call('POST', '/api/v1/customers', { payload })
  expect(answer.statusCode).toBe(400)
  expect(answer.json().errors).toContainEqual({ pointer, detail })
  expect(await base.db.customer.count()).toBe(before)
})

test('an unknown customer is not found, and one of no id is refused', async () => {
  expect((await office.call('GET', `/api/v1/customers/${newId()}`)).statusCode).toBe(404)
  expect((await office.call('GET', '/api/v1/customers/nobody')).statusCode).toBe(400)
})

test('the customer base is not for technicians', async () => {
  const technician = await person('technician')
  const { id } = await buildCustomer(ctx)
  for (const url of ['customers', `customers/${id}`, 'customers/export.csv', 'customers/duplicates']) {
    expect((await technician.call('GET', `/api/v1/${url}`)).statusCode).toBe(403)
  }
})
