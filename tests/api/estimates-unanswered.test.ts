import { expect, test } from 'vitest'
import { notify } from '../../server/follow-ups/notify.ts'
import { planEverything } from '../../server/follow-ups/service.ts'
import { withdrawEstimate } from '../../server/estimates/changing.ts'
import { readEstimate } from '../../server/estimates/service.ts'
import { linkToken } from '../../server/links/service.ts'
import { buildTestApp } from '../build/app.ts'
import { buildSent, line, officeOf } from '../build/estimate.ts'
import { buildFinding, buildHousehold, type Household } from '../build/follow-up.ts'
import { fieldsOf, visitorOf } from '../build/visitor.ts'

const { app, base, ctx, clock } = await buildTestApp()
const { db, env } = base
const office = await officeOf(ctx)
const SIGNED = { act: 'accept', name: 'Robin Vale', understood: 'yes' }
const SENT = '2026-06-01T15:00:00Z'
/** A week later (policy), in the morning. */
const DUE = '2026-06-08T15:00:00Z'

const followUps = ({ propertyId }: Household) =>
  db.followUp.findMany({ where: { propertyId, kind: 'estimate-unanswered' } })
const letters = ({ propertyId }: Household) =>
  db.message.findMany({ where: { propertyId, kind: 'due-reminder' } })
const night = async (iso: string) => {
  clock.set(iso)
  await planEverything(ctx)
}

async function offered(change: object = {}) {
  clock.set(SENT)
  const home = await buildHousehold(ctx)
  const finding = await buildFinding(ctx, home, { severity: 'improve', text: 'Outlet is loose' })
  const estimate = await buildSent(office, home.propertyId, {
    lines: [line({ findingId: finding })],
    ...change,
  })
  return { home, finding, estimate }
}

test('unanswered for the days of the policy, a letter leads to the estimate, and its answer ends it', async () => {
  const { home, estimate } = await offered()
  await night('2026-06-07T15:00:00Z')
  expect(await followUps(home)).toEqual([])
  await night(DUE)
  expect(await followUps(home)).toMatchObject([
    { estimateId: estimate.id, state: 'planned', dueOn: new Date('2026-06-08') },
  ])
  await notify(ctx, { propertyId: home.propertyId })
  const [letter] = await letters(home)
  const page = `/h/${linkToken(env, letter!.id)}`
  const visitor = visitorOf(app)
  const due = (await visitor.get(page)).body
  const there = `${page}/estimates/${estimate.id}`
  expect(due).toContain(`href="${there}"`)
  expect(due).toContain(`We sent you estimate ${estimate.number} and have no answer yet.`)
  // It is declined on its own page, signed; here it can only wait.
  expect(due).not.toContain('name="understood"')
  const form = fieldsOf((await visitor.get(there)).body, there, 'accept')
  const answer = await visitor.post(there, { ...form, ...SIGNED })
  expect(answer.statusCode).toBe(303)
  expect(await followUps(home)).toMatchObject([
    { state: 'done', closedReason: 'The offer was answered, asked about or withdrawn, or has run out' },
  ])
})

test('who has asked something is asked again only days after that', async () => {
  const { home, estimate } = await offered()
  await night(DUE)
  await notify(ctx, { propertyId: home.propertyId })
  const [letter] = await letters(home)
  const there = `/h/${linkToken(env, letter!.id)}/estimates/${estimate.id}`
  const visitor = visitorOf(app)
  clock.set('2026-06-10T15:00:00Z')
  const form = fieldsOf((await visitor.get(there)).body, there, 'question')
  const asked = await visitor.post(there, { ...form, act: 'question', question: 'Is the cover of steel?' })
  expect(asked.statusCode).toBe(303)
  expect(await followUps(home)).toMatchObject([
    { state: 'done', closedReason: 'The offer was answered, asked about or withdrawn, or has run out' },
  ])
  await night('2026-06-16T15:00:00Z')
  await notify(ctx, { propertyId: home.propertyId })
  expect(await letters(home)).toHaveLength(1)
  await night('2026-06-17T15:00:00Z')
  await notify(ctx, { propertyId: home.propertyId })
  expect(await letters(home)).toHaveLength(2)
})

test('withdrawn, nobody is asked about it', async () => {
  const { home, estimate } = await offered()
  await night(DUE)
  await withdrawEstimate(office, estimate.id, estimate.version)
  await notify(ctx, { propertyId: home.propertyId })
  expect(await followUps(home)).toMatchObject([{ state: 'done' }])
  expect(await letters(home)).toEqual([])
})

test('past its last day it runs out by night, once, at the clock of the home', async () => {
  const { home, finding, estimate } = await offered({ expiresOn: '2026-06-12' })
  const later = await offered({ expiresOn: '2026-06-13' })
  const open = await offered({ expiresOn: null })
  await night(DUE)
  // Still the twelfth in New York.
  await night('2026-06-13T03:30:00Z')
  expect((await readEstimate(ctx, estimate.id)).state).toBe('sent')
  await night('2026-06-13T04:30:00Z')
  await night('2026-06-13T05:30:00Z')
  expect(await readEstimate(ctx, estimate.id)).toMatchObject({
    state: 'expired',
    version: estimate.version + 1,
  })
  expect((await db.finding.findUniqueOrThrow({ where: { id: finding } })).state).toBe('open')
  expect(await followUps(home)).toMatchObject([{ state: 'done' }])
  const entries = await db.auditEntry.findMany({ where: { action: 'estimate.expire' } })
  expect(entries).toMatchObject([{ subjectId: estimate.id, actorKind: 'system' }])
  for (const other of [later, open]) expect((await readEstimate(ctx, other.estimate.id)).state).toBe('sent')
})

test('a finding that another offer still holds stays on an estimate', async () => {
  const { home, finding } = await offered({ expiresOn: '2026-06-12' })
  await buildSent(office, home.propertyId, { lines: [line({ findingId: finding })] })
  await night('2026-06-14T15:00:00Z')
  expect((await db.finding.findUniqueOrThrow({ where: { id: finding } })).state).toBe('on-estimate')
})
