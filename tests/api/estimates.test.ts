import { expect, test } from 'vitest'
import { estimatePage, type EstimateView, estimateView } from '../../server/estimates/schema.ts'
import { newId } from '../../server/ids.ts'
import { cancelVisit, finish, startTravel, arrive } from '../../server/visits/steps.ts'
import { buildTestApp } from '../build/app.ts'
import { buildEstimate, buildSent, line, officeOf } from '../build/estimate.ts'
import { buildFinding, buildHousehold } from '../build/follow-up.ts'
import { buildPrice } from '../build/price.ts'
import { buildVisit } from '../build/visit.ts'

const { base, ctx, person, rung, clock } = await buildTestApp()
const { db } = base
const desk = await person('office')
const office = await officeOf(ctx)
const version = (number: number) => ({ 'if-match': `"${number}"` })
const draft = (payload: object) => desk.call('POST', '/api/v1/estimates', { payload })
const change = ({ id, version: seen }: EstimateView, payload: object) =>
  desk.call('PATCH', `/api/v1/estimates/${id}`, { headers: version(seen), payload })
const step = ({ id, version: seen }: EstimateView, what: string) =>
  desk.call('POST', `/api/v1/estimates/${id}/${what}`, { headers: version(seen) })
const stateOf = async (findingId: string) =>
  (await db.finding.findUniqueOrThrow({ where: { id: findingId } })).state

test('a draft proposes what usually corrects the open findings, and else their own words', async () => {
  const home = await buildHousehold(ctx)
  const price = await buildPrice(ctx, { correctsItems: ['receptacles.device'], taxBasisPoints: 550 })
  await buildPrice(ctx, { correctsItems: ['switches.device'] })
  const loose = await buildFinding(ctx, home, { severity: 'repair', text: 'Outlet is loose' })
  await db.finding.update({ where: { id: loose }, data: { itemId: 'receptacles.device' } })
  const cover = await buildFinding(ctx, home, { severity: 'unsafe', text: 'Panel has no cover' })
  await buildFinding(ctx, home, { state: 'accepted', text: 'Settled' })
  const id = newId()
  const answer = await draft({ id, propertyId: home.propertyId })
  expect(answer.statusCode, answer.body).toBe(201)
  const estimate = estimateView.parse(answer.json())
  expect(estimate).toMatchObject({
    id,
    state: 'draft',
    customerId: home.customerId,
    expiresOn: '2026-07-01',
    sentAt: null,
    version: 1,
    createdByName: desk.name,
  })
  expect(estimate.lines).toMatchObject([
    {
      finding: { id: cover, severity: 'unsafe' },
      priceItem: null,
      description: expect.stringMatching(/^Work on: \S/) as unknown,
      priceCents: 0,
    },
    {
      finding: { id: loose },
      priceItem: { id: price.id, code: price.code },
      description: price.name,
      priceCents: 14_500,
      taxBasisPoints: 550,
      quantityThousandths: 1000,
      decision: 'undecided',
    },
  ])
  // A draft promises nothing.
  expect([await stateOf(cover), await stateOf(loose)]).toEqual(['open', 'open'])
  expect((await draft({ id, propertyId: home.propertyId })).json()).toEqual(estimate)
  const only = await draft({ propertyId: home.propertyId, findingIds: [loose] })
  expect(only.json().lines).toHaveLength(1)
})

test('whoever pays is offered it, and only somebody of the home can be', async () => {
  const home = await buildHousehold(ctx)
  const payer = await buildHousehold(ctx)
  await db.propertyParty.create({
    data: { propertyId: home.propertyId, customerId: payer.customerId, role: 'payer' },
  })
  const estimate = (await draft({ propertyId: home.propertyId })).json() as EstimateView
  expect(estimate.customerId).toBe(payer.customerId)
  const stranger = await buildHousehold(ctx)
  const wrong = await draft({ propertyId: home.propertyId, customerId: stranger.customerId })
  expect([wrong.statusCode, wrong.json().errors[0].pointer]).toEqual([400, '#/customerId'])
  const back = await change(estimate, { customerId: home.customerId })
  expect(back.json()).toMatchObject({ customerId: home.customerId })
  expect((await change(back.json(), { customerId: stranger.customerId })).statusCode).toBe(400)
})

test.each<[string, (home: { propertyId: string }) => Promise<object>, string]>([
  [
    'of another home',
    async () => ({ findingIds: [await buildFinding(ctx, await buildHousehold(ctx))] }),
    '#/findingIds/0',
  ],
  ['for a home that is not there', async () => ({ propertyId: newId() }), '#/propertyId'],
])('no draft for findings %s', async (_, wrong, pointer) => {
  const { propertyId } = await buildHousehold(ctx)
  const answer = await draft({ propertyId, ...(await wrong({ propertyId })) })
  expect([answer.statusCode, answer.json().errors?.[0].pointer]).toEqual([400, pointer])
})

test('lines are written as a whole, in their order, and checked one by one', async () => {
  const home = await buildHousehold(ctx)
  const finding = await buildFinding(ctx, home)
  const estimate = await buildEstimate(office, home.propertyId)
  const lines = [
    line({ findingId: finding, quantityThousandths: 2500, taxBasisPoints: 825 }),
    line({ option: 'Surge protector', description: 'Protector', priceCents: 38_500 }),
    line({ option: 'Surge protector', description: 'Both at once', priceCents: -2000 }),
  ]
  const changed = estimateView.parse(
    (await change(estimate, { lines, note: 'As agreed', expiresOn: null })).json(),
  )
  expect(changed).toMatchObject({ note: 'As agreed', expiresOn: null, version: 2 })
  expect(changed.lines.map(({ id }) => id)).toEqual(lines.map(({ id }) => id))
  const turned = (await change(changed, { lines: [...lines].reverse() })).json() as EstimateView
  expect(turned.lines.map(({ id }) => id)).toEqual(lines.map(({ id }) => id).reverse())
  const elsewhere = await buildFinding(ctx, await buildHousehold(ctx))
  const wrong = await change(turned, {
    lines: [line({ findingId: elsewhere }), line({ priceItemId: newId() }), lines[0], lines[0]],
  })
  expect(wrong.statusCode).toBe(400)
  expect(wrong.json().errors.map(({ pointer }: { pointer: string }) => pointer)).toEqual([
    '#/lines/0/findingId',
    '#/lines/1/priceItemId',
    '#/lines/3/id',
  ])
  const taken = await change(await buildEstimate(office, home.propertyId), { lines: [lines[0]] })
  expect([taken.statusCode, taken.json().detail]).toEqual([400, 'a line of another estimate is among them'])
  const late = await change(estimate, { note: 'Late' })
  expect([late.statusCode, late.json().current.version]).toEqual([412, 3])
})

test.each<[Record<string, unknown>, RegExp]>([
  [{ quantityThousandths: 0 }, /2500 is two and a half/],
  [{ quantityThousandths: 1.5 }, /2500 is two and a half/],
  [{ priceCents: 0.5 }, /whole cents/],
  [{ description: '' }, /empty/],
  [{ decision: 'accepted' }, /decision/],
])('a line with %j is refused', async (wrong, words) => {
  const estimate = await buildEstimate(office, (await buildHousehold(ctx)).propertyId)
  const answer = await change(estimate, { lines: [line(wrong)] })
  expect(answer.statusCode).toBe(400)
  expect(answer.body).toMatch(words)
})

test('sent, its findings are on an estimate and a letter with a page of its own goes out', async () => {
  const home = await buildHousehold(ctx)
  const finding = await buildFinding(ctx, home, { text: 'Outlet is loose' })
  const estimate = await buildEstimate(office, home.propertyId, { lines: [line({ findingId: finding })] })
  const sent = (await step(estimate, 'send')).json() as EstimateView
  expect(sent).toMatchObject({ state: 'sent', sentAt: clock.now.toISOString() })
  expect(sent.lines[0]!.finding!.state).toBe('on-estimate')
  const letter = await db.message.findFirstOrThrow({
    where: { kind: 'estimate-sent', propertyId: home.propertyId },
  })
  expect(letter).toMatchObject({ state: 'planned', category: 'report', customerId: home.customerId })
  expect(await db.privateLink.findUniqueOrThrow({ where: { id: letter.id } })).toMatchObject({
    purpose: 'estimate',
    subjectId: estimate.id,
  })
  expect(rung).toContainEqual({ name: 'send-message', payload: { messageId: letter.id } })
  const again = await step(estimate, 'send')
  expect([again.statusCode, again.json().detail]).toEqual([
    409,
    'An estimate can be sent only while it is draft; this one is sent. Copy it to offer it anew.',
  ])
  const actions = await db.auditEntry.findMany({ where: { subjectId: estimate.id }, orderBy: { id: 'asc' } })
  expect(actions.map(({ action }) => action)).toEqual(['estimate.draft', 'estimate.change', 'estimate.send'])
})

test('put right after it was sent, findings come onto it and leave it', async () => {
  const home = await buildHousehold(ctx)
  const [first, second] = [await buildFinding(ctx, home), await buildFinding(ctx, home)]
  const sent = await buildSent(office, home.propertyId, { lines: [line({ findingId: first })] })
  const changed = (await change(sent, { lines: [line({ findingId: second })] })).json() as EstimateView
  expect([await stateOf(first), await stateOf(second)]).toEqual(['open', 'on-estimate'])
  const empty = await change(changed, { lines: [] })
  expect([empty.statusCode, empty.json().detail]).toEqual([409, 'It has no lines yet; add what is offered.'])
  expect(await stateOf(second)).toBe('on-estimate')
  const other = await change(changed, { customerId: (await buildHousehold(ctx)).customerId })
  expect(other.json().detail).toMatch(/copy it to offer it to somebody else/)
})

test.each<[string, Record<string, unknown>, RegExp]>([
  ['without lines', { lines: [] }, /no lines yet/],
  ['below nothing', { lines: [line(), line({ priceCents: -20_000 })] }, /less than nothing/],
  [
    'after its last day',
    { lines: [line()], expiresOn: '2026-05-31' },
    /May 31, 2026 only; choose a later day/,
  ],
])('%s it is not sent', async (_, given, words) => {
  const estimate = await buildEstimate(office, (await buildHousehold(ctx)).propertyId, given)
  const answer = await step(estimate, 'send')
  expect([answer.statusCode, answer.json().type]).toEqual([409, '/problems/wrong-state'])
  expect(answer.json().detail).toMatch(words)
  expect(await db.message.count({ where: { propertyId: estimate.propertyId } })).toBe(0)
})

test('nothing is sent to nobody, nor what is settled', async () => {
  const silent = await buildHousehold(ctx, { email: null })
  const one = await step(await buildEstimate(office, silent.propertyId, { lines: [line()] }), 'send')
  expect(one.json().detail).toBe('It cannot be sent to Robin Vale. There is no e-mail address; phone them.')
  const home = await buildHousehold(ctx)
  const finding = await buildFinding(ctx, home, { text: 'Outlet is loose' })
  const estimate = await buildEstimate(office, home.propertyId, { lines: [line({ findingId: finding })] })
  await db.finding.update({ where: { id: finding }, data: { state: 'corrected' } })
  const two = await step(estimate, 'send')
  expect(two.json().detail).toBe(
    '“Outlet is loose” cannot be offered any more: corrected. Take its line out.',
  )
})

test('withdrawn, what nobody else offers is open again, and a copy begins anew', async () => {
  const home = await buildHousehold(ctx)
  const [shared, own] = [await buildFinding(ctx, home), await buildFinding(ctx, home)]
  const lines = () => [line({ findingId: shared }), line({ findingId: own, option: 'Later' })]
  await buildSent(office, home.propertyId, { lines: [line({ findingId: shared })] })
  const sent = await buildSent(office, home.propertyId, { lines: lines(), note: 'As agreed' })
  const withdrawn = (await step(sent, 'withdraw')).json() as EstimateView
  expect(withdrawn.state).toBe('withdrawn')
  expect([await stateOf(shared), await stateOf(own)]).toEqual(['on-estimate', 'open'])
  await db.finding.update({ where: { id: shared }, data: { state: 'corrected' } })
  const id = newId()
  const copied = await desk.call('POST', `/api/v1/estimates/${sent.id}/copy`, { payload: { id } })
  const copy = estimateView.parse(copied.json())
  expect(copy).toMatchObject({ id, state: 'draft', note: 'As agreed', expiresOn: '2026-07-01' })
  expect(copy.number).toBeGreaterThan(sent.number)
  expect(copy.lines.map(({ finding, option }) => [finding?.id ?? null, option])).toEqual([
    [null, ''],
    [own, 'Later'],
  ])
  expect((await change(withdrawn, { note: 'x' })).statusCode).toBe(409)
})

test('a visit for repairs books what was accepted, and called off, it waits again', async () => {
  const home = await buildHousehold(ctx)
  const finding = await buildFinding(ctx, home, { state: 'accepted' })
  const { propertyId, customerId } = home
  await buildVisit(ctx, { propertyId, customerId, day: '2026-06-10' })
  expect(await stateOf(finding)).toBe('accepted')
  const visit = await buildVisit(ctx, { propertyId, customerId, kind: 'repair', day: '2026-06-11' })
  expect(await stateOf(finding)).toBe('booked')
  await cancelVisit(office, visit.id, 'Ill')
  expect(await stateOf(finding)).toBe('accepted')
  const next = await buildVisit(ctx, { propertyId, customerId, kind: 'repair', day: '2026-06-12' })
  await startTravel(office, next.id)
  await arrive(office, next.id)
  await finish(office, next.id)
  expect(await stateOf(finding)).toBe('booked')
})

test('the list tells the day of the home, not of the server', async () => {
  const home = await buildHousehold(ctx, { name: 'Late Evening' })
  clock.set('2026-06-02T02:00:00Z')
  await buildSent(office, home.propertyId, { lines: [line()] })
  clock.set('2026-06-01T15:00:00Z')
  const csv = await desk.call('GET', '/api/v1/estimates/export.csv?q=late+evening')
  expect(csv.body).toContain(',2026-07-01,2026-06-01,')
})

test('the list goes from the latest on, by state and by what was typed, with sums of cents', async () => {
  const home = await buildHousehold(ctx, { name: 'Odile Marchbanks' })
  const price = { quantityThousandths: 2500, priceCents: 9500, taxBasisPoints: 825 }
  for (const more of [{}, { option: 'Later' }, {}])
    await buildEstimate(office, home.propertyId, { lines: [line({ ...price, ...more })] })
  const list = async (query: string) =>
    estimatePage.parse((await desk.call('GET', `/api/v1/estimates?${query}`)).json())
  const first = await list('q=marchbanks&limit=2')
  const second = await list(`q=marchbanks&limit=2&cursor=${first.next}`)
  const numbers = [...first.items, ...second.items].map(({ number }) => number)
  expect(numbers).toEqual([...numbers].sort((a, b) => b - a))
  expect(numbers).toHaveLength(3)
  expect(first.items[0]).toMatchObject({
    totalCents: 25_709,
    customerName: 'Odile Marchbanks',
    state: 'draft',
  })
  expect((await list('q=marchbanks&state=sent')).items).toEqual([])
  const csv = await desk.call('GET', '/api/v1/estimates/export.csv?q=marchbanks')
  expect(csv.body).toContain('$257.09')
  expect((await desk.call('GET', '/api/v1/estimates?cursor=x')).statusCode).toBe(400)
  const technician = await person('technician')
  expect((await technician.call('GET', '/api/v1/estimates')).statusCode).toBe(403)
})
