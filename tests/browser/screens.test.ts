import { afterAll, expect, test } from 'vitest'
import { seedDemo } from '../../prisma/seed/main.ts'
import { dayInZone } from '../../server/time.ts'
import { launchChromium } from '../setup/chromium.ts'
import { startCompany } from '../setup/company.ts'
import { DESK, logIn, lookAt, openWindow, PHONE } from '../setup/pages.ts'

// Every screen with the demo company on it, at phone and desk width: axe finds nothing, nothing sticks out, no error is
// logged. The pictures stay in artefacts/screens.

const company = await startCompany()
const { db, url } = company
await seedDemo(company.base, { today: dayInZone(new Date(), 'America/New_York') })
const browser = await launchChromium()
afterAll(() => browser.close())

const home = await db.property.findFirstOrThrow({
  where: { followUps: { some: { state: 'told' } }, inspections: { some: { state: 'issued' } } },
})
const inspection = await db.inspection.findFirstOrThrow({ where: { propertyId: home.id } })
const visit = await db.visit.findFirstOrThrow({ where: { state: 'booked' } })
const message = await db.message.findFirstOrThrow({ where: { kind: 'due-reminder', state: 'sent' } })
const customer = await db.customer.findFirstOrThrow({ where: { visits: { some: {} } } })

const SCREENS: [string, string, RegExp][] = [
  ['today', '/today', /Waiting for a day/],
  ['visits', '/visits', /Arrival/],
  ['visit', `/visits/${visit.id}`, /Arrival window/],
  ['homes', '/homes', /Open findings/],
  ['home', `/homes/${home.id}`, /Ground-fault protection/],
  ['load', `/homes/${home.id}/load`, /What if/],
  ['customer', `/customers/${customer.id}`, /Homes/],
  ['inspection-demo', `/inspections/${inspection.id}`, /How far it is/],
  ['due', '/due', /Due now/],
  ['messages', '/messages', /Last 30 days/],
  ['message', `/messages/${message.id}`, /Its life/],
  ['search', '/search?q=Breakwatr', /Breakwater/],
  ['account', '/account', /Where you are logged in/],
]
const ADMIN_SCREENS: [string, string, RegExp][] = [
  ['people', '/people', /Cal Dunmore/],
  ['settings', '/settings', /Codes in force/],
  ['wordings', '/settings/wording', /As it came/],
  ['wording', '/settings/wording/due-reminder/es', /Subject Hay/],
]

test.each([
  ['phone', PHONE],
  ['desk', DESK],
])('every screen of the office at %s width', async (_, viewport) => {
  const faults: string[] = []
  const { page, context } = await openWindow(browser, viewport, faults)
  await page.goto(`${url}/log-in`)
  await lookAt(page, 'log-in')
  await logIn(page, url, 'admin@example.com')
  for (const [name, path, there] of [...SCREENS, ...ADMIN_SCREENS]) {
    await page.goto(url + path)
    await page.getByText(there).first().waitFor({ timeout: 20_000 })
    await lookAt(page, name)
  }
  await context.close()
  // Before the log-in the page asks who is there, and is told: nobody.
  expect(faults.filter((each) => !/401/.test(each))).toEqual([])
})

test('the field app at phone and tablet width', async () => {
  const faults: string[] = []
  for (const viewport of [PHONE, { width: 820, height: 1180 }]) {
    const { page, context } = await openWindow(browser, viewport, faults)
    await logIn(page, url, 'technician@example.com')
    await page
      .getByRole('heading', { name: /Today|day/ })
      .first()
      .waitFor()
    await lookAt(page, 'field-my-day')
    await page.goto(`${url}/field/sync`)
    await page.getByText('The office has everything').waitFor()
    await lookAt(page, 'field-sync')
    await context.close()
  }
  expect(faults.filter((each) => !/401/.test(each))).toEqual([])
})
