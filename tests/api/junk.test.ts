import fc from 'fast-check'
import { expect, test } from 'vitest'
import { ROUTE_ACCESS } from '../../server/access.ts'
import { newId } from '../../server/ids.ts'
import { buildTestApp } from '../build/app.ts'
import { buildEstimate, officeOf } from '../build/estimate.ts'
import { buildEquipment, buildProperty } from '../build/property.ts'
import { buildPrice } from '../build/price.ts'
import { buildRequest } from '../build/request.ts'
import { buildTechnician, buildVisit } from '../build/visit.ts'

// Whatever is sent to the routes of customers, homes, requests, visits, prices, estimates and search: a clear answer, never a 5xx.

const { app, base, ctx, person } = await buildTestApp()
const [admin, office, technician] = [
  await person('admin'),
  await person('office'),
  await person('technician'),
]

const OURS = /\/(customers|properties|spaces|equipment|requests|visits|my-day|prices|estimates|search)\b/

interface SchemaObject {
  properties?: Record<string, unknown>
  anyOf?: SchemaObject[]
  oneOf?: SchemaObject[]
}
interface Operation {
  requestBody?: { content: { 'application/json': { schema: SchemaObject } } }
  parameters?: { in: string; name: string }[]
}
const { paths } = app.swagger() as unknown as { paths: Record<string, Record<string, Operation>> }

/** Names of the fields that a body or a query may have, as the API's own document says. */
const fieldsOf = (schema: SchemaObject | undefined): string[] => [
  ...Object.keys(schema?.properties ?? {}),
  ...[...(schema?.anyOf ?? []), ...(schema?.oneOf ?? [])].flatMap(fieldsOf),
]
const routes = Object.keys(ROUTE_ACCESS)
  .map((each) => each.split(' ') as ['GET' | 'POST' | 'PATCH' | 'PUT' | 'DELETE', string])
  .filter(([, url]) => OURS.test(url))
  .map(([method, url]) => {
    const operation = paths[url.replace(':id', '{id}')]![method.toLowerCase()]!
    const body = [...new Set(fieldsOf(operation.requestBody?.content['application/json'].schema))]
    const query = (operation.parameters ?? []).filter((each) => each.in === 'query').map((each) => each.name)
    return { method, url, body, query }
  })

const home = await buildProperty(ctx, { spaces: [{ kind: 'kitchen' }] })
const alarm = await buildEquipment(ctx, home.id)
const request = await buildRequest(ctx)
const visit = await buildVisit(ctx)
const price = await buildPrice(ctx)
const estimate = await buildEstimate(await officeOf(ctx), home.id)
const bo = await buildTechnician(ctx)
const space = await base.db.space.findFirstOrThrow({ where: { propertyId: home.id } })
const FITTING: Readonly<Record<string, string>> = {
  customers: home.customerId,
  properties: home.id,
  spaces: space.id,
  equipment: alarm.id,
  requests: request.id,
  visits: visit.id,
  prices: price.id,
  estimates: estimate.id,
}
/** The id of a record that the route is about. */
const fittingId = (url: string) => FITTING[OURS.exec(url)?.[1] ?? ''] ?? home.id
const real = [
  home.id,
  home.customerId,
  alarm.id,
  request.id,
  visit.id,
  bo.id,
  space.id,
  price.id,
  estimate.id,
]

/** A right value for fields that the routes take: junk is put in the place of some. */
const sound: Record<string, unknown> = {
  name: 'Ana',
  email: 'ana@example.com',
  phone: '555-0123',
  line1: '1 Quay Lane',
  code: 'REC-1',
  priceCents: 14_500,
  lines: [{ id: newId(), description: 'Work', priceCents: 14_500 }],
  expiresOn: '2026-07-01',
  city: 'Port Ansel',
  yearBuilt: 1960,
  latitude: 40,
  longitude: -70,
  fuels: ['oil'],
  spaces: [{ kind: 'hall' }],
  parties: [{ customerId: home.customerId, role: 'owner', isContact: true }],
  soldOn: '2026-05-01',
  kind: 'alarm',
  details: { senses: 'smoke', makerLifeYears: 8 },
  manufacturedOn: '2020-01-01',
  spaceId: space.id,
  parentId: alarm.id,
  customerId: home.customerId,
  propertyId: home.id,
  requestId: request.id,
  technicianId: bo.id,
  day: '2026-06-03',
  windowStart: '09:00',
  windowEnd: '11:00',
  startsAt: '09:30',
  lengthMinutes: 60,
  note: 'n',
  reason: 'r',
  preferredDays: ['2026-06-03'],
  equipment: [{ kind: 'alarm', details: {} }],
  customer: { name: 'Ben' },
  property: { line1: '2 Quay Lane', city: 'Port Ansel' },
  level: 1,
  position: 1,
  replacedOn: '2026-05-01',
  limit: '5',
  q: 'quay',
  from: '2026-06-01',
  to: '2026-06-30',
  days: '7',
  length: '60',
}

/** The same word means different things on different routes. */
function valueFor(url: string, name: string): unknown {
  // Found or new, not both.
  if (url.endsWith('/requests') && /^(customer|property)Id$/.test(name)) return undefined
  if (name !== 'kind') return sound[name]
  return url.includes('equipment')
    ? 'alarm'
    : url.includes('customers')
      ? 'person'
      : url.includes('spaces')
        ? 'hall'
        : 'repair'
}

const text = fc.oneof(
  fc.string({ unit: 'binary', maxLength: 40 }),
  fc.constantFrom(
    '\0',
    '%',
    '_',
    "'; DROP TABLE visit; --",
    '\\',
    '9999-12-31',
    '0000-00-00',
    '25:61',
    '-1',
    '1e999',
  ),
  fc.constantFrom(...real),
  fc.string({ minLength: 5000, maxLength: 6000 }),
)
const junk: fc.Arbitrary<unknown> = fc.oneof(
  { weight: 3, arbitrary: text },
  fc.jsonValue({ maxDepth: 3 }),
  fc.constantFrom(null, true, [], {}, 0, -1, 2 ** 31, 2 ** 53, -(2 ** 63), 1.5, Number.MAX_VALUE, [null], {
    a: 1,
  }),
)
/** A call that is right but for one or two things, or in nothing. */
const call = fc.constantFrom(...routes).chain((route) => {
  const replaced = <Value>(names: readonly string[], values: fc.Arbitrary<Value>) =>
    fc.dictionary(fc.constantFrom(...names, 'colour', '__proto__', 'toString'), values, { maxKeys: 2 })
  return fc.record({
    route: fc.constant(route),
    by: fc.constantFrom(office, office, technician, admin),
    id: fc.oneof(
      { weight: 4, arbitrary: fc.constant(fittingId(route.url)) },
      { weight: 2, arbitrary: fc.constantFrom(...real) },
      fc.constant(newId()),
      text,
    ),
    missing: fc.subarray(route.body, { maxLength: Math.min(2, route.body.length) }),
    changed: replaced(route.body, junk),
    whole: fc.oneof({ weight: 12, arbitrary: fc.constant(null) }, junk),
    query: fc.oneof({ weight: 1, arbitrary: fc.constant({}) }, replaced(route.query, text)),
    headers: fc.record(
      {
        'if-match': fc.constantFrom('"1"', '"1"', '"2"', 'W/"1"', '"99999999999"', '*', '', 'x'),
        'idempotency-key': fc.oneof(
          { weight: 4, arbitrary: fc.uuid() },
          fc.constantFrom('key-of-junk', 'x', 'y'.repeat(200)),
        ),
      },
      { requiredKeys: [] },
    ),
  })
})

test('junk is answered with a problem that says something, and never with a 5xx', async () => {
  let answered = 0
  const seen = new Set<number>()
  await fc.assert(
    fc.asyncProperty(call, async ({ route, by, id, missing, changed, whole, query, headers }) => {
      const { method, url } = route
      const kept = route.body.filter((name) => name in sound && !missing.includes(name))
      const right = Object.fromEntries(kept.map((name) => [name, valueFor(url, name)]))
      const body = whole ?? { ...right, ...changed }
      const asked = Object.fromEntries(
        route.query.flatMap((name) => (name === 'day' ? [[name, '2026-06-03']] : [])),
      )
      const parameters = new URLSearchParams({ ...asked, ...(query as Record<string, string>) })
      const answer = await by.call(
        method,
        `${url.replace(':id', encodeURIComponent(id) || 'x')}?${parameters}`,
        {
          ...(method !== 'GET' && { payload: JSON.stringify(body) }),
          headers: { ...headers, 'content-type': 'application/json' },
          // Each from somewhere else, or the rate limit would answer for all the rest.
          remoteAddress: `10.${(answered >> 16) & 255}.${(answered >> 8) & 255}.${answered++ & 255}`,
        },
      )
      seen.add(answer.statusCode)
      expect(answer.statusCode, `${method} ${url} ${answer.body}`).toBeLessThan(500)
      if (answer.statusCode < 400) return
      expect(answer.headers['content-type']).toContain('application/problem+json')
      expect(answer.json().detail.length, answer.body).toBeGreaterThan(5)
    }),
    { numRuns: 600, seed: 20260601, endOnFailure: true },
  )
  // Not everything was refused at the door: some of it reached the database.
  expect([...seen]).toEqual(expect.arrayContaining([200, 201, 400, 403, 404, 412, 428]))
}, 120_000)
