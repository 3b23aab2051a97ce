import type { Page } from 'playwright-core'
import { afterAll, expect, test } from 'vitest'
import { seedDemo } from '../../prisma/seed/main.ts'
import { newId } from '../../server/ids.ts'
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
const customer = await db.customer.findFirstOrThrow({
  where: { visits: { some: {} }, email: { not: null }, id: { not: message.customerId! } },
})
await db.suppressedAddress.createMany({
  data: [
    { email: customer.email!, reason: 'complained' },
    { email: 'nobody-any-more@example.com', reason: 'bounced', detail: '5.1.1 no such user' },
  ],
})
const draft = await db.estimate.findFirstOrThrow({ where: { state: 'draft' } })
const accepted = await db.estimate.findFirstOrThrow({ where: { state: 'accepted' } })

await db.homeownerAnswer.create({
  data: {
    id: newId(),
    linkId: newId(),
    customerId: customer.id,
    propertyId: home.id,
    act: 'replaced',
    said: { label: 'Hall alarm', on: '2026-05-30', manufacturedOn: '2026-01-15' },
    at: new Date(),
  },
})

const SCREENS: [string, string, RegExp][] = [
  ['today', '/today', /Waiting for a day/],
  ['visits', '/visits', /Arrival/],
  ['visit', `/visits/${visit.id}`, /Arrival window/],
  ['homes', '/homes', /Open findings/],
  ['home', `/homes/${home.id}`, /Ground-fault protection/],
  ['load', `/homes/${home.id}/load`, /What if/],
  ['customer', `/customers/${customer.id}`, /Private pages/],
  ['inspection-demo', `/inspections/${inspection.id}`, /How far it is/],
  ['due', '/due', /Choose all/],
  ['due-by-week', '/due?view=week', /Past their date/],
  ['due-by-street', '/due?view=street', /Past their date/],
  ['due-said', '/due?tab=answers', /was replaced on/],
  ['messages', '/messages', /Last 30 days/],
  ['message', `/messages/${message.id}`, /Its life/],
  ['prices', '/prices', /REC-10/],
  ['estimates', '/estimates', /Open until/],
  ['estimate-draft', `/estimates/${draft.id}`, /Add a free line/],
  ['estimate-accepted', `/estimates/${accepted.id}`, /name typed/],
  ['search', '/search?q=Breakwatr', /Breakwater/],
  ['account', '/account', /Where you are logged in/],
]
const ADMIN_SCREENS: [string, string, RegExp][] = [
  ['people', '/people', /Cal Dunmore/],
  ['settings', '/settings', /Codes in force/],
  ['wordings', '/settings/wording', /As it came/],
  ['wording', '/settings/wording/due-reminder/es', /Subject Hay/],
]

test('every screen of the office at phone and desk width', async () => {
  const faults: string[] = []
  const { page, context } = await openWindow(browser, PHONE, faults)
  const lookAtBoth = async (name: string) => {
    for (const viewport of [DESK, PHONE]) {
      await page.setViewportSize(viewport)
      await lookAt(page, name)
    }
  }
  await page.goto(`${url}/log-in`)
  await lookAtBoth('log-in')
  await logIn(page, url, 'admin@example.com')
  for (const [name, path, there] of [...SCREENS, ...ADMIN_SCREENS]) {
    await page.goto(url + path)
    await page.getByText(there).first().waitFor({ timeout: 20_000 })
    await lookAtBoth(name)
  }
  await context.close()
  expect(faults.filter(isFault)).toEqual([])
})

test.each([
  ['phone', PHONE],
  ['desk', DESK],
])('what the office does on them by keyboard, at %s width', async (_, viewport) => {
  const faults: string[] = []
  const { page, context } = await openWindow(browser, viewport, faults)
  await logIn(page, url, 'admin@example.com')
  await callInTwoKeys(page)
  await planOneTrip(page)
  await sendLetterAgain(page, viewport === DESK)
  await writeAgain(page, viewport === DESK)
  await writeEstimate(page, viewport === DESK)
  await context.close()
  expect(faults.filter(isFault)).toEqual([])
})

/** Before the log-in the page asks who is there, and is told: nobody. */
const isFault = (each: string) => !/401/.test(each)

/** The worklist by keys alone: into the list, one letter for the call, one for what came of it. */
async function callInTwoKeys(page: Page): Promise<void> {
  await page.goto(`${url}/due`)
  const first = page.getByRole('button', { name: /^Open / }).first()
  await first.focus()
  await page.keyboard.press('c')
  await page.getByText('Good day, this is').waitFor()
  await lookAt(page, 'due-call')
  const calls = await db.callNote.count({ where: { outcome: 'no-answer' } })
  await page.keyboard.press('n')
  await page.getByText('Written down: No answer.').first().waitFor()
  await page.getByRole('dialog').waitFor({ state: 'detached' })
  expect(await db.callNote.count({ where: { outcome: 'no-answer' } })).toBe(calls + 1)
  // Switched off, the letter does nothing: WCAG 2.2 SC 2.1.4.
  await page.getByLabel(/^Keys:/).uncheck()
  await first.focus()
  await page.keyboard.press('c')
  expect(await page.getByRole('dialog').count()).toBe(0)
  await page.getByLabel(/^Keys:/).check()
}

/** By keyboard: the link of a letter is asked about before it is withdrawn, and a new letter is asked about before it goes. */
async function sendLetterAgain(page: Page, isSent: boolean): Promise<void> {
  await page.goto(`${url}/messages/${message.id}`)
  await page.getByRole('button', { name: 'Withdraw its link' }).press('Enter')
  await page.getByRole('dialog').getByText('fell into other hands').waitFor()
  await lookAt(page, 'message-withdraw')
  await page.keyboard.press('Escape')
  await page.getByRole('button', { name: 'Send again with a new link' }).press('Enter')
  const dialog = page.getByRole('dialog')
  await dialog.getByText('gets the same kind of letter once more').waitFor()
  await lookAt(page, 'message-again')
  if (!isSent) return page.keyboard.press('Escape')
  await dialog.getByRole('button', { name: /^Send (it|at|on)/ }).press('Enter')
  await page.getByText('in place of an earlier letter').waitFor()
  await page.getByRole('link', { name: 'the other letter' }).press('Enter')
  await page.getByText('Its link was withdrawn').waitFor()
  expect(await page.getByRole('button', { name: /link$/ }).count()).toBe(0)
}

/** By keyboard: what was answered is shown before an address is written to again; a complaint asks for more than that. */
async function writeAgain(page: Page, isDone: boolean): Promise<void> {
  await page.goto(`${url}/messages`)
  const button = (email: string) => page.getByRole('button', { name: `Write to it again: ${email}` })
  await button('nobody-any-more@example.com').press('Enter')
  const dialog = page.getByRole('dialog')
  await dialog.getByText('The answer was: “5.1.1 no such user”.').waitFor()
  await lookAt(page, 'address-came-back')
  await page.keyboard.press('Escape')
  await page.goto(`${url}/customers/${customer.id}`)
  await button(customer.email!).press('Enter')
  await dialog.getByText('marked our mail as unwanted').waitFor()
  await lookAt(page, 'address-complained')
  if (!isDone) return page.keyboard.press('Escape')
  await dialog.getByLabel(/^Who asked for it/).fill('Robin Vale, by telephone today')
  await page.keyboard.press('Enter')
  await dialog.waitFor({ state: 'detached' })
  await button(customer.email!).waitFor({ state: 'detached' })
  expect(await db.suppressedAddress.count({ where: { email: customer.email! } })).toBe(0)
}

/** By keyboard: a line is typed and reckoned as it is typed, what cannot be read is said, and the offer goes out. */
async function writeEstimate(page: Page, isSent: boolean): Promise<void> {
  await page.goto(`${url}/estimates/${draft.id}`)
  await page.getByRole('button', { name: 'Write down their answer' }).press('Enter')
  await page.getByRole('dialog').getByLabel('Their answer').selectOption('They do not want it')
  await lookAt(page, 'estimate-told')
  await page.keyboard.press('Escape')
  await page.getByRole('button', { name: 'Add a free line' }).press('Enter')
  const line = page.getByRole('listitem', { name: /^Line / }).last()
  await line.getByLabel('What is done').fill('Two hours of work')
  await line.getByLabel('How many').fill('2.5')
  await line.getByLabel('Price without tax').fill('95,0')
  await page.getByRole('button', { name: 'Save', exact: true }).press('Enter')
  await line.getByText('such as 145.00').waitFor()
  await lookAt(page, 'estimate-fault')
  await line.getByLabel('Price without tax').fill('95.10')
  await line.getByText('$237.75').waitFor()
  if (!isSent) return
  await page.getByRole('button', { name: 'Save', exact: true }).press('Enter')
  await page.getByText(/^Estimate \d+ is saved/).waitFor()
  await page.getByRole('button', { name: 'Send', exact: true }).press('Enter')
  await lookAt(page, 'estimate-send')
  await page.getByRole('dialog').getByRole('button', { name: 'Send it' }).press('Enter')
  await page.getByText('is on its way').waitFor()
  expect((await db.estimate.findUniqueOrThrow({ where: { id: draft.id } })).state).toBe('sent')
  await page.goto(`${url}/prices`)
  await page.getByRole('button', { name: 'Change REC-10' }).press('Enter')
  await page.getByRole('dialog').getByLabel('Price without tax').fill('free')
  await page.getByRole('dialog').getByRole('button', { name: 'Save' }).press('Enter')
  await page.getByText('such as 145.00').waitFor()
  await lookAt(page, 'price-fault')
}

/** Far enough ahead that nobody is booked there. */
function wednesdayAhead(): string {
  const at = new Date(Date.now() + 60 * 86_400_000)
  at.setUTCDate(at.getUTCDate() + ((10 - at.getUTCDay()) % 7))
  return at.toISOString().slice(0, 10)
}

async function planOneTrip(page: Page): Promise<void> {
  for (const box of (await page.getByRole('checkbox', { name: /^Choose / }).all()).slice(0, 3))
    await box.check()
  await page.getByRole('button', { name: 'Book one trip' }).click()
  const trip = page.getByRole('dialog')
  await trip.getByLabel('Technician').selectOption({ index: 1 })
  await trip.getByLabel('Day').fill(wednesdayAhead())
  await trip
    .getByText(/begins|already|Nobody is named|minutes left/)
    .first()
    .waitFor()
  await lookAt(page, 'due-trip')
}

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
