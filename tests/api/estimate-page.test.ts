import { createHash } from 'node:crypto'
import { expect, test } from 'vitest'
import { changeEstimate, withdrawEstimate } from '../../server/estimates/changing.ts'
import { changeEstimateBody, type EstimateView } from '../../server/estimates/schema.ts'
import { readEstimate } from '../../server/estimates/service.ts'
import { buildTestApp } from '../build/app.ts'
import { buildSent, line, officeOf } from '../build/estimate.ts'
import { buildFinding, buildHousehold, type Household } from '../build/follow-up.ts'
import { buildLink } from '../build/link.ts'
import { fieldsOf, visitorOf } from '../build/visitor.ts'

const { app, base, ctx, clock, person } = await buildTestApp()
const { db } = base
const office = await officeOf(ctx)
const text = (html: string) =>
  html
    .replace(/<style[\s\S]*?<\/style>|<[^>]+>/g, ' ')
    .replace(/&#x27;/g, '’')
    .replace(/&#x3D;/g, '=')
    .replace(/\s+/g, ' ')

interface Offered {
  home: Household
  estimate: EstimateView
  page: string
  there: string
  finding: string
  danger: string
  visitor: ReturnType<typeof visitorOf>
}

/** An offer with one part for a loose outlet and an option for something unsafe: $100.00, and $200.00 with 8 % tax. */
async function offered(
  more: Parameters<typeof buildHousehold>[1] = {},
  change: object = {},
): Promise<Offered> {
  const home = await buildHousehold(ctx, more)
  const finding = await buildFinding(ctx, home, { text: 'Outlet is loose' })
  const danger = await buildFinding(ctx, home, { severity: 'unsafe', text: 'Panel has no cover' })
  const lines = [
    line({ findingId: finding, description: 'New outlet' }),
    line({
      findingId: danger,
      description: 'New cover',
      option: 'Cover',
      priceCents: 20_000,
      taxBasisPoints: 800,
    }),
  ]
  const estimate = await buildSent(office, home.propertyId, { lines, ...change })
  const page = await buildLink(ctx, home, { purpose: 'estimate', subjectId: estimate.id })
  const there = `${page}/estimates/${estimate.id}`
  return { home, estimate, page, there, finding, danger, visitor: visitorOf(app) }
}
const stateOf = async (id: string) => (await db.finding.findUniqueOrThrow({ where: { id } })).state
const now = ({ estimate }: Offered) => readEstimate(ctx, estimate.id)

/** Presses the button of the form that is on the page, with what was ticked before. */
async function press(
  { visitor, there }: Offered,
  act: 'accept' | 'decline' | 'question',
  fields: Record<string, string>,
  ticked = '',
) {
  const { body } = await visitor.get(`${there}${ticked && `?option=${ticked}`}`)
  return visitor.post(there, {
    ...fieldsOf(body, there, act),
    act,
    ...(act === 'accept' && ticked && { option: ticked }),
    ...fields,
  })
}
const SIGNED = { name: 'Robin Vale', understood: 'yes' }

test('the page says in plain words what is offered, for what, and changes nothing', async () => {
  const offer = await offered({}, { note: 'As agreed on the phone.' })
  const before = await db.estimate.findUniqueOrThrow({ where: { id: offer.estimate.id } })
  const { statusCode, body } = await offer.visitor.get(offer.page)
  expect(statusCode).toBe(200)
  const words = text(body)
  expect(words).toContain(`Our estimate ${offer.estimate.number}`)
  expect(words).toContain('It waits for your answer.')
  expect(words).toContain('You can accept it until July 1, 2026.')
  expect(words).toContain('As agreed on the phone.')
  expect(words).toContain('New outlet Puts right: Outlet is loose 1 × $100.00 $100.00')
  expect(words).toContain('New cover Puts right: Panel has no cover 1 × $200.00 $200.00 With tax $216.00')
  expect(words).toContain('Your total with what is ticked Without tax $100.00 Tax $0.00 With tax $100.00')
  expect(await db.estimate.findUniqueOrThrow({ where: { id: offer.estimate.id } })).toEqual(before)
})

test('what is ticked is reckoned by the server, without a script', async () => {
  const offer = await offered()
  const form = fieldsOf((await offer.visitor.get(offer.page)).body, offer.there, 'accept')
  const reckoned = await offer.visitor.post(offer.there, { ...form, act: 'reckon', option: 'Cover' })
  expect([reckoned.statusCode, reckoned.headers.location]).toEqual([303, `${offer.there}?option=Cover#total`])
  const ticked = text((await offer.visitor.get(`${offer.there}?option=Cover`)).body)
  expect(ticked).toContain('Without tax $300.00 Tax $16.00 With tax $316.00')
  expect(ticked).toContain('Accept: $316.00')
  const unknown = text((await offer.visitor.get(`${offer.there}?option=Boat&option=%00`)).body)
  expect(unknown).toContain('With tax $100.00')
  expect((await now(offer)).state).toBe('sent')
})

test('accepted with a name: the words that were read are kept, findings go along, and a repair waits for a day', async () => {
  const offer = await offered()
  const answer = await press(offer, 'accept', SIGNED, 'Cover')
  expect(answer.statusCode, answer.body).toBe(303)
  const thanks = text((await offer.visitor.get(String(answer.headers.location))).body)
  expect(thanks).toContain(`You accepted estimate ${offer.estimate.number} for $316.00 with tax.`)
  const estimate = await now(offer)
  expect(estimate).toMatchObject({
    state: 'accepted',
    decidedAt: clock.now.toISOString(),
    repairWaits: true,
  })
  expect(estimate.lines.map(({ decision }) => decision)).toEqual(['accepted', 'accepted'])
  const { statement, statementHash, name, address } = estimate.signature!
  expect([name, address]).toEqual(['Robin Vale', expect.stringMatching(/^192\.0\.2\./)])
  expect(statementHash).toBe(createHash('sha256').update(statement).digest('hex'))
  expect(statement).toContain('2. New cover (1 × $200.00 = $200.00)')
  expect(statement).toContain('with tax $316.00')
  expect([await stateOf(offer.finding), await stateOf(offer.danger)]).toEqual(['accepted', 'accepted'])
  const request = await db.visitRequest.findFirstOrThrow({ where: { propertyId: offer.home.propertyId } })
  expect(request).toMatchObject({
    id: offer.estimate.id,
    kind: 'repair',
    state: 'waiting',
    reason: `Estimate ${offer.estimate.number} was accepted`,
    note: 'New outlet; New cover',
    source: 'private-link',
  })
  const entry = await db.auditEntry.findFirstOrThrow({ where: { action: 'estimate.accept' } })
  expect(entry).toMatchObject({ actorKind: 'homeowner', subjectId: offer.estimate.id })
  const desk = await person('office')
  const said = (
    await desk.call('GET', `/api/v1/homeowner-answers?propertyId=${offer.home.propertyId}`)
  ).json()
  expect(said.items).toMatchObject([
    {
      words: `Robin Vale accepted estimate ${offer.estimate.number} for $316.00 with tax.`,
      todo: 'Book the repair: it waits on Today.',
    },
  ])
  const after = text((await offer.visitor.get(offer.page)).body)
  expect(after).toContain('You accepted it on June 1, 2026.')
  expect(after).toContain(text(statement).trim())
  expect(after).not.toContain('Your full name')
})

test('accepted with other ticks than the total was for, the new total is shown before anything is signed', async () => {
  const offer = await offered()
  const late = await press(offer, 'accept', { ...SIGNED, option: 'Cover' })
  expect([late.statusCode, (await now(offer)).state]).toEqual([400, 'sent'])
  expect(text(late.body)).toContain('You ticked other parts than the total was for.')
  expect(text(late.body)).toContain('Accept: $316.00')
})

test('the same form sent twice is one answer', async () => {
  const offer = await offered()
  const { body } = await offer.visitor.get(offer.page)
  const form = { ...fieldsOf(body, offer.there, 'decline'), ...SIGNED }
  const [first, second] = [
    await offer.visitor.post(offer.there, form),
    await offer.visitor.post(offer.there, form),
  ]
  expect(second.headers.location).toBe(first.headers.location)
  expect(await db.homeownerAnswer.count({ where: { propertyId: offer.home.propertyId } })).toBe(1)
  expect((await now(offer)).version).toBe(offer.estimate.version + 1)
})

test('two answers at once: one holds, the other is shown what became of it', async () => {
  const offer = await offered()
  const answers = await Promise.all([
    press(offer, 'accept', SIGNED, 'Cover'),
    press(offer, 'decline', SIGNED),
  ])
  expect(answers.map(({ statusCode }) => statusCode).sort()).toEqual([303, 400])
  expect(text(answers.find(({ statusCode }) => statusCode === 400)!.body)).toMatch(
    /changed or answered while this page was open|can no longer be answered here/,
  )
  expect(await db.homeownerAnswer.count({ where: { propertyId: offer.home.propertyId } })).toBe(1)
})

test('an option left out stays undone; unsafe, it has to be acknowledged and is kept as refused', async () => {
  const offer = await offered()
  const without = await press(offer, 'accept', { name: 'Robin Vale' })
  expect([without.statusCode, text(without.body)]).toEqual([
    400,
    expect.stringContaining('Please tick the box'),
  ])
  expect(without.body).toContain('value="Robin Vale"')
  expect((await press(offer, 'accept', SIGNED)).statusCode).toBe(303)
  const estimate = await now(offer)
  expect(estimate.lines.map(({ decision }) => decision)).toEqual(['accepted', 'declined'])
  expect(estimate.signature!.statement).toContain('I leave out: Cover.')
  expect(estimate.signature!.statement).toContain(
    'unsafe and can cause shock, burn or fire: “Panel has no cover”',
  )
  expect(await stateOf(offer.finding)).toBe('accepted')
  expect(await db.finding.findUniqueOrThrow({ where: { id: offer.danger } })).toMatchObject({
    state: 'declined',
    refusal: { name: 'Robin Vale', statement: estimate.signature!.statement },
  })
  // Asked about again after the recheck time, as one that was refused on site.
  const open = await db.followUp.findFirst({
    where: { findingId: offer.danger, kind: 'open-finding', closedAt: null },
  })
  expect(open?.dueOn.toISOString().slice(0, 10) ?? 'later').not.toBe('2026-06-01')
})

test('declined with a reason, the office reads it; what is unsafe asks for the box', async () => {
  const offer = await offered()
  const reason = 'Too dear for me'
  const boxless = await press(offer, 'decline', { name: 'Robin Vale', reason })
  expect([boxless.statusCode, boxless.body.includes(reason)]).toEqual([400, true])
  const nameless = await press(offer, 'decline', { understood: 'yes', reason })
  expect(text(nameless.body)).toContain('Please give your name.')
  expect((await press(offer, 'decline', { ...SIGNED, reason })).statusCode).toBe(303)
  const estimate = await now(offer)
  expect(estimate).toMatchObject({ state: 'declined', signature: { reason, name: 'Robin Vale' } })
  expect([await stateOf(offer.finding), await stateOf(offer.danger)]).toEqual(['declined', 'declined'])
  expect(await db.visitRequest.count({ where: { propertyId: offer.home.propertyId } })).toBe(0)
  const desk = await person('office')
  const said = (
    await desk.call('GET', `/api/v1/homeowner-answers?propertyId=${offer.home.propertyId}`)
  ).json()
  expect(said.items[0]).toMatchObject({
    words: `Robin Vale declined estimate ${offer.estimate.number}. Their reason: ${reason}`,
    todo: 'Phone them: somebody could get hurt.',
  })
})

test('what changed since the page was opened is shown again before it is signed', async () => {
  const offer = await offered()
  const { body } = await offer.visitor.get(`${offer.there}?option=Cover`)
  const { id, version } = offer.estimate
  const [first] = offer.estimate.lines
  await changeEstimate(
    office,
    id,
    version,
    changeEstimateBody.parse({ lines: [line({ findingId: first!.finding!.id, priceCents: 15_000 })] }),
  )
  const late = await offer.visitor.post(offer.there, {
    ...fieldsOf(body, offer.there, 'accept'),
    ...SIGNED,
    act: 'accept',
  })
  expect(late.statusCode).toBe(400)
  expect(text(late.body)).toContain('Here it is as it stands now: please look at it again.')
  expect(text(late.body)).toContain('Accept: $150.00')
  expect((await now(offer)).state).toBe('sent')
  expect(
    (
      await offer.visitor.post(offer.there, {
        ...fieldsOf(late.body, offer.there, 'accept'),
        ...SIGNED,
        act: 'accept',
      })
    ).statusCode,
  ).toBe(303)
})

test('a question goes to the office, and nothing is decided by it', async () => {
  const offer = await offered()
  expect(text((await press(offer, 'question', { question: ' ' })).body)).toContain(
    'Please write your question.',
  )
  const asked = await press(offer, 'question', { question: 'Is the wall repaired too?' })
  expect(asked.statusCode).toBe(303)
  const desk = await person('office')
  const said = (
    await desk.call('GET', `/api/v1/homeowner-answers?propertyId=${offer.home.propertyId}`)
  ).json()
  expect(said.items[0].words).toBe(
    `About estimate ${offer.estimate.number} they ask: Is the wall repaired too?`,
  )
  expect((await now(offer)).state).toBe('sent')
})

test('withdrawn or past its last day it says so, and takes no answer', async () => {
  const [gone, over] = [await offered(), await offered({}, { expiresOn: '2026-06-01' })]
  const forms = await Promise.all(
    [gone, over].map(async ({ visitor, page, there }) =>
      fieldsOf((await visitor.get(page)).body, there, 'accept'),
    ),
  )
  await withdrawEstimate(office, gone.estimate.id, gone.estimate.version)
  clock.set('2026-06-02T15:00:00Z')
  expect(text((await gone.visitor.get(gone.page)).body)).toContain('We withdrew this estimate.')
  expect(text((await over.visitor.get(over.page)).body)).toContain('It could be accepted until June 1, 2026.')
  for (const [offer, form] of [
    [gone, forms[0]!],
    [over, forms[1]!],
  ] as const) {
    const late = await offer.visitor.post(offer.there, { ...form, ...SIGNED, act: 'accept' })
    expect([late.statusCode, text(late.body)]).toEqual([
      400,
      expect.stringContaining('can no longer be answered here'),
    ])
  }
  expect(await stateOf(over.finding)).toBe('on-estimate')
  clock.set('2026-06-01T15:00:00Z')
})

test('nobody reads another person’s estimate, or a draft', async () => {
  const [mine, theirs] = [await offered(), await offered()]
  const there = `${mine.page}/estimates/${theirs.estimate.id}`
  expect((await mine.visitor.get(there)).statusCode).toBe(404)
  const { body } = await mine.visitor.get(mine.page)
  const form = { ...fieldsOf(body, mine.there, 'accept'), ...SIGNED }
  expect((await mine.visitor.post(there, form)).statusCode).toBe(404)
  const forged = await mine.visitor.post(mine.there, { ...form, form: 'x' })
  expect([forged.statusCode, (await now(mine)).state]).toEqual([400, 'sent'])
  await db.estimate.update({ where: { id: mine.estimate.id }, data: { state: 'draft' } })
  expect((await mine.visitor.get(mine.page)).statusCode).toBe(404)
})

test('in Spanish, with the office’s words as a quotation', async () => {
  const offer = await offered({ language: 'es' })
  const words = text((await offer.visitor.get(offer.page)).body)
  expect(words).toContain('Espera su respuesta.')
  expect(words).toContain('Puede aceptarlo hasta el 1 de julio de 2026.')
  expect(words).toContain('Sin impuestos $100.00')
  expect((await press(offer, 'accept', SIGNED, 'Cover')).statusCode).toBe(303)
  expect((await now(offer)).signature!.statement).toContain('Acepto el presupuesto')
})
