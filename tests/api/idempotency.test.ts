import { expect, test } from 'vitest'
import { buildTestApp } from '../build/app.ts'

const { base, person } = await buildTestApp()
const office = await person('office')

const add = (name: string, key: string) =>
  office.call('POST', '/api/v1/customers', { payload: { name }, headers: { 'idempotency-key': key } })

test('of many calls with one key at once, one does the work, and later ones get its answer', async () => {
  const answers = await Promise.all(Array.from({ length: 8 }, () => add('At Once', 'key-at-once')))
  const statuses = answers.map((each) => each.statusCode)
  expect(statuses.filter((status) => status !== 201 && status !== 409)).toEqual([])
  expect(await base.db.customer.count({ where: { name: 'At Once' } })).toBe(1)
  const later = await add('At Once', 'key-at-once')
  expect(later.statusCode).toBe(201)
  expect(later.headers).toMatchObject({ 'idempotency-replayed': 'true', etag: '"1"' })
})

test('a call that is refused at the door leaves the claim of the one at work alone', async () => {
  const claim = { userId: office.id, key: 'key-at-work' }
  await base.db.idempotencyKey.create({
    data: { ...claim, route: '/x', requestHash: Buffer.alloc(32), status: 0, createdAt: base.now() },
  })
  const invalid = await add('', 'key-at-work')
  expect(invalid.statusCode).toBe(400)
  const waiting = await add('Still At It', 'key-at-work')
  expect(waiting.statusCode).toBe(409)
  expect(await base.db.idempotencyKey.findFirst({ where: claim })).toMatchObject({ status: 0 })
})

test.each(['short', 'x'.repeat(101)])('a key of another length is refused as a problem: %s', async (key) => {
  const answer = await add('Never', key)
  expect(answer.statusCode).toBe(400)
  expect(answer.headers['content-type']).toContain('application/problem+json')
})

test('an address that is too long or badly encoded is answered with a problem', async () => {
  for (const id of ['x'.repeat(5000), '%E0%A4%A']) {
    const answer = await office.call('GET', `/api/v1/customers/${id}`)
    expect(answer.statusCode).toBe(400)
    expect(answer.headers['content-type']).toContain('application/problem+json')
  }
})
