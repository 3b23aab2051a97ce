import type { AddressInfo } from 'node:net'
import { afterAll, beforeAll, expect, test } from 'vitest'
import type { Browser } from 'playwright-core'
import { day } from '../../trade/dates.ts'
import { planDue } from '../../server/follow-ups/plan.ts'
import { newId } from '../../server/ids.ts'
import { unsubscribeToken } from '../../server/links/unsubscribe.ts'
import { buildTestApp } from '../build/app.ts'
import { buildSent, line, officeOf } from '../build/estimate.ts'
import {
  buildAlarm,
  buildFinding,
  buildHousehold,
  buildTechnician,
  buildVisit,
  buildProtector,
} from '../build/follow-up.ts'
import { buildLink } from '../build/link.ts'
import { launchChromium } from '../setup/chromium.ts'
import { DESK, lookAt, openWindow, PHONE } from '../setup/pages.ts'

// Every page behind a private link, looked at in a browser without scripts, in light and dark, on a phone and a desk.
const { app, ctx, clock } = await buildTestApp()
const { db, env } = ctx
clock.set('2026-06-01T15:00:00Z')
await buildTechnician(ctx)

let browser: Browser
let origin: string
const pages: Record<string, string> = {}

beforeAll(async () => {
  browser = await launchChromium()
  await app.listen({ port: 0, host: '127.0.0.1' })
  origin = `http://127.0.0.1:${(app.server.address() as AddressInfo).port}`
  const home = await buildHousehold(ctx, { line1: '14 Quay Lane' })
  await buildAlarm(ctx, home, day('2026-05-20'), 'Hall alarm')
  await buildAlarm(ctx, home, day('2026-06-20'), 'Bedroom alarm')
  await buildFinding(ctx, home, { severity: 'unsafe', text: 'Bare live conductor behind the dryer outlet' })
  await buildProtector(ctx, home, { installedOn: day('2024-06-01'), lastCheckedOn: day('2025-06-10') })
  await planDue(ctx, db, {})
  const visitId = await buildVisit(ctx, home, new Date('2026-06-10T14:00:00Z'))
  const spanish = await buildHousehold(ctx, { language: 'es', line1: '3 Gull Row' })
  await buildAlarm(ctx, spanish, day('2026-06-20'), 'Pasillo')
  await planDue(ctx, db, { propertyId: spanish.propertyId })
  pages['due'] = await buildLink(ctx, home)
  pages['due-es'] = await buildLink(ctx, spanish)
  pages['due-nothing'] = await buildLink(ctx, await buildHousehold(ctx))
  pages['visit'] = await buildLink(ctx, home, { purpose: 'visit', subjectId: visitId })
  const estimateFor = async (household: typeof home, more: object = {}) => {
    const lines = [
      line({
        description: 'New outlet',
        findingId: await buildFinding(ctx, household, { text: 'Outlet loose' }),
      }),
      line({
        description: 'New cover of the panel',
        option: 'Cover',
        taxBasisPoints: 550,
        findingId: await buildFinding(ctx, household, { severity: 'unsafe', text: 'Panel has no cover' }),
      }),
    ]
    const note = 'As agreed on the phone.'
    const { id } = await buildSent(await officeOf(ctx), household.propertyId, { lines, note })
    await db.estimate.update({ where: { id }, data: more })
    return buildLink(ctx, household, { purpose: 'estimate', subjectId: id })
  }
  pages['estimate'] = await estimateFor(home)
  pages['estimate-es'] = await estimateFor(spanish)
  const signature = {
    name: 'Robin Vale',
    address: null,
    statement: 'I accept estimate 41.',
    statementHash: '',
  }
  const accepted = { state: 'accepted', decidedAt: clock.now, signature }
  pages['estimate-accepted'] = await estimateFor(await buildHousehold(ctx), accepted)
  pages['preferences'] = `${pages['due']}/preferences`
  pages['thanks'] = `${pages['due']}/thanks?for=requested`
  pages['unsubscribe'] = `/u/${unsubscribeToken(env, home.customerId, 'reminder')}`
  pages['expired'] = await buildLink(ctx, home, { expiresAt: clock.now })
  // An answer with everything on its page, and the way back of somebody who said that the home is not theirs.
  const left = await buildHousehold(ctx, { line1: '5 Gull Row' })
  pages['left'] = await buildLink(ctx, left)
  const of = { linkId: newId(), at: clock.now, customerId: left.customerId, propertyId: left.propertyId }
  const said = {
    thanks: 'not-mine',
    address: '5 Gull Row, Port Ansel',
    until: '2026-07-01',
    isVisitBooked: true,
  }
  const answer = { ...of, id: newId(), act: 'not-mine', said, before: { roles: [] } }
  await db.homeownerAnswer.create({ data: answer })
  await db.propertyParty.updateMany({ where: { propertyId: left.propertyId }, data: { until: clock.now } })
  pages['answered'] = `${pages['left']}/thanks?for=not-mine&answer=${answer.id}`
}, 60_000)
afterAll(() => browser?.close())

const NAMES = [
  'due',
  'due-es',
  'due-nothing',
  'visit',
  'estimate',
  'estimate-es',
  'estimate-accepted',
  'preferences',
  'thanks',
  'unsubscribe',
  'expired',
  'left',
  'answered',
]

const LOOKS = [
  [PHONE, 'light'],
  [DESK, 'dark'],
] as const

for (const [viewport, colorScheme] of LOOKS) {
  test(`every page at ${viewport.width} px in ${colorScheme}: axe finds nothing, nothing sticks out`, async () => {
    const faults: string[] = []
    const { context, page } = await openWindow(browser, viewport, faults)
    await page.emulateMedia({ colorScheme })
    page.on('requestfailed', (request) => faults.push(request.url()))
    page.on('response', (answer) => answer.status() >= 500 && faults.push(answer.url()))
    for (const name of NAMES) {
      await page.goto(`${origin}${pages[name]}`)
      await page.locator('details').evaluateAll((all) => all.forEach((each) => each.setAttribute('open', '')))
      await lookAt(page, `homeowner-${name}`)
    }
    // A link that has run out answers 410, and the icon comes with the built pages: the console notes both.
    expect(faults.filter((each) => !/Failed to load resource/.test(each))).toEqual([])
    await context.close()
  }, 60_000)
}

test('a visit is asked for with the keyboard alone', async () => {
  const context = await browser.newContext({ javaScriptEnabled: false })
  const page = await context.newPage()
  await page.goto(`${origin}${pages['due-es']}`)
  const radio = page.locator('input[name="window"]').first()
  await radio.focus()
  await page.keyboard.press('Space')
  for (let n = 0; n < 3; n++) await page.keyboard.press('Tab')
  await page.keyboard.press('Enter')
  await page.waitForURL('**/thanks?for=requested')
  expect(await page.locator('h1').textContent()).toBe('Gracias')
  await context.close()
})
