import { expect, test } from 'vitest'
import { withdrawEstimate } from '../../server/estimates/changing.ts'
import { type EstimateView, estimateView } from '../../server/estimates/schema.ts'
import { planEverything } from '../../server/follow-ups/service.ts'
import { buildTestApp } from '../build/app.ts'
import { buildEstimate, buildSent, line, officeOf } from '../build/estimate.ts'
import { buildFinding, buildHousehold } from '../build/follow-up.ts'
import { buildLink } from '../build/link.ts'

const { base, ctx, person, nobody, clock } = await buildTestApp()
const { db } = base
const desk = await person('office', 'Alex Reed')
const office = await officeOf(ctx)
const SAID = { state: 'accepted', name: 'Robin Vale', how: 'phone' }
const answer = ({ id, version }: EstimateView, payload: object, who = desk) =>
  who.call('POST', `/api/v1/estimates/${id}/answer`, { headers: { 'if-match': `"${version}"` }, payload })

test('who has no e-mail accepts on the telephone what was never sent', async () => {
  const home = await buildHousehold(ctx, { email: null })
  const finding = await buildFinding(ctx, home, { severity: 'repair', text: 'Outlet is loose' })
  const draft = await buildEstimate(office, home.propertyId, {
    lines: [
      line({ findingId: finding, taxBasisPoints: 550 }),
      line({ description: 'A second outlet', option: 'Second' }),
      line({ description: 'A third outlet', option: 'Third' }),
    ],
  })
  const said = await answer(draft, { ...SAID, options: ['Second'] })
  expect(said.statusCode, said.body).toBe(200)
  const after = estimateView.parse(said.json())
  expect(after).toMatchObject({
    state: 'accepted',
    sentAt: null,
    repairWaits: true,
    signature: { name: 'Robin Vale', address: null, told: { how: 'phone', to: 'Alex Reed' } },
  })
  expect(after.lines.map(({ decision }) => decision)).toEqual(['accepted', 'accepted', 'declined'])
  const [before, ...words] = after.signature!.statement.split('\n')
  expect(before).toBe('Robin Vale said on the telephone to Alex Reed of Kestrel Row Electric:')
  expect(words[0]).toMatch(/^I accept estimate \d+ \(version 2\) of Kestrel Row Electric for /)
  expect(words.at(-2)).toBe('I leave out: Third.')
  // 105.50 and 100.00.
  expect(words.at(-1)).toContain('with tax $205.50')
  expect((await db.finding.findUniqueOrThrow({ where: { id: finding } })).state).toBe('accepted')
  expect(await db.visitRequest.findUniqueOrThrow({ where: { id: draft.id } })).toMatchObject({
    kind: 'repair',
    source: 'phone',
    note: 'Work at the panel; A second outlet',
  })
  expect((await answer(after, SAID)).json()).toMatchObject({
    type: '/problems/wrong-state',
    detail: expect.stringContaining('only while it is draft or sent; this one is accepted') as unknown,
  })
})

test('what stays unsafe is told first; then it is kept as refused, and nobody is reminded', async () => {
  clock.set('2026-06-01T15:00:00Z')
  const home = await buildHousehold(ctx, { language: 'es' })
  const cover = await buildFinding(ctx, home, { severity: 'unsafe', text: 'Panel has no cover' })
  const sent = await buildSent(office, home.propertyId, { lines: [line({ findingId: cover })] })
  clock.set('2026-06-09T15:00:00Z')
  await planEverything(ctx)
  const reminder = { propertyId: home.propertyId, kind: 'estimate-unanswered' }
  expect(await db.followUp.count({ where: { ...reminder, closedAt: null } })).toBe(1)

  const no = { ...SAID, state: 'declined', how: 'in-person', reason: 'Too dear' }
  const unwarned = await answer(sent, no)
  expect([unwarned.statusCode, unwarned.json().errors]).toEqual([
    400,
    [{ pointer: '#/wasWarned', detail: 'tell them first that this stays unsafe: Panel has no cover' }],
  ])
  expect((await db.estimate.findUniqueOrThrow({ where: { id: sent.id } })).state).toBe('sent')

  const after = estimateView.parse((await answer(sent, { ...no, wasWarned: true })).json())
  expect(after).toMatchObject({ state: 'declined', signature: { reason: 'Too dear' } })
  expect(after.signature!.statement).toMatch(
    /^Robin Vale dijo en persona a Alex Reed de Kestrel Row Electric:\nNo acepto el presupuesto /,
  )
  const finding = await db.finding.findUniqueOrThrow({ where: { id: cover } })
  expect(finding.state).toBe('declined')
  expect(finding.refusal).toMatchObject({ name: 'Robin Vale', statement: after.signature!.statement })
  expect(await db.followUp.count({ where: { ...reminder, closedAt: null } })).toBe(0)

  const page = await nobody('GET', await buildLink(ctx, home, { purpose: 'estimate', subjectId: sent.id }))
  expect(page.statusCode).toBe(200)
  expect(page.body).toContain('Lo que nos dijo')
  expect(page.body).not.toContain('name="act" value="accept"')
})

test.each<[string, Record<string, unknown>, string]>([
  ['an option that it has not', { options: ['Fourth'] }, '#/options'],
  ['nothing of it', { options: [] }, '#/options'],
  ['nobody who said it', { options: ['Second'], name: ' ' }, '#/name'],
  ['no way in which it was said', { options: ['Second'], how: 'dream' }, '#/how'],
])('%s is refused, and nothing is written', async (_name, given, pointer) => {
  const { propertyId } = await buildHousehold(ctx)
  const sent = await buildSent(office, propertyId, { lines: [line({ option: 'Second' })] })
  const refused = await answer(sent, { ...SAID, ...given })
  expect(refused.statusCode, refused.body).toBe(400)
  expect(refused.json().errors).toMatchObject([{ pointer }])
  expect(await db.estimate.findUniqueOrThrow({ where: { id: sent.id } })).toMatchObject({
    state: 'sent',
    version: sent.version,
  })
})

test('neither of what was withdrawn or has run out, nor of another version, nor by a technician', async () => {
  clock.set('2026-06-01T15:00:00Z')
  const { propertyId } = await buildHousehold(ctx)
  const sent = await buildSent(office, propertyId, { lines: [line()] })
  expect((await answer({ ...sent, version: 1 }, SAID)).statusCode).toBe(412)
  expect((await answer(sent, SAID, await person('technician'))).statusCode).toBe(403)
  clock.set('2026-07-05T15:00:00Z')
  expect((await answer(sent, SAID)).json().detail).toMatch(/until July 1, 2026 only/)
  clock.set('2026-06-01T15:00:00Z')
  const gone = await withdrawEstimate(office, sent.id, sent.version)
  expect((await answer(gone, SAID)).statusCode).toBe(409)
})
