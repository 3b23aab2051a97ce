import { afterAll, expect, test } from 'vitest'
import { seedDemo } from '../../prisma/seed/main.ts'
import { dayInZone } from '../../server/time.ts'
import { launchChromium } from '../setup/chromium.ts'
import { startCompany } from '../setup/company.ts'
import { DESK, logIn, lookAt, openWindow, PHONE } from '../setup/pages.ts'

const company = await startCompany()
const { db, url } = company
await seedDemo(company.base, { today: dayInZone(new Date(), 'America/New_York') })
const browser = await launchChromium()
afterAll(() => browser.close())

test.each([
  ['phone', PHONE, '45 mail'],
  ['desk', DESK, '50 mail'],
])('the admin sees what a change does before it is saved, at %s width', async (_, viewport, added) => {
  const faults: string[] = []
  const { page, context } = await openWindow(browser, viewport, faults)
  await logIn(page, url, 'admin@example.com')
  await page.goto(`${url}/settings`)
  await page.getByText('Notices of each kind').click()
  const alarms = page.getByLabel('Alarm at the end of its life')
  await alarms.fill('-90 mail, soon')
  await page.getByText('“soon” is no notice').waitFor()
  await alarms.fill(`-150 mail, -30 mail, 0 mail, ${added}`)
  await page.getByRole('button', { name: 'Show what would change' }).press('Enter')
  const effect = page.getByRole('region', { name: 'What would change' })
  await effect.getByText('With the next round').waitFor({ timeout: 60_000 })
  await effect.scrollIntoViewIfNeeded()
  await effect.getByText('Two simulated years').waitFor()
  await effect.getByText(/The busiest day: \d+ letters on/).waitFor()
  await lookAt(page, 'settings-follow-ups')
  await effect.getByRole('button', { name: 'Save the policy' }).press('Enter')
  await page.getByText('The policy is saved.').waitFor()
  const { policy } = await db.company.findUniqueOrThrow({ where: { id: 1 } })
  expect(JSON.stringify(policy)).toContain(`"days":${added.slice(0, 2)}`)
  await context.close()
  expect(faults).toEqual([])
})

test.each([
  ['phone', PHONE],
  ['desk', DESK],
])('the admin changes a letter and puts it back, by keyboard, at %s width', async (_, viewport) => {
  const faults: string[] = []
  const { page, context } = await openWindow(browser, viewport, faults)
  await logIn(page, url, 'admin@example.com')
  if (viewport === DESK) await page.emulateMedia({ colorScheme: 'dark' })
  await page.goto(`${url}/settings/wording`)
  await page.getByText('Reminder of a visit').waitFor()
  await lookAt(page, 'wordings')
  await page.getByRole('link', { name: 'Visit booked, English' }).press('Enter')
  const [subject, text] = [page.getByLabel('Subject'), page.getByLabel('Text', { exact: true })]
  const letter = page.frameLocator('iframe[title="The letter"]')
  await letter.getByRole('heading', { name: 'We are coming' }).waitFor()
  await text.fill((await text.inputValue()).replace('We are coming', 'See you on {{visit.dya}}'))
  await page.getByText('Line 1: there is no field “visit.dya” here').waitFor()
  await lookAt(page, 'wording-fault')
  await text.fill((await text.inputValue()).replace('visit.dya', 'visit.day'))
  await letter.getByRole('heading', { name: 'See you on Thursday, June 4, 2026' }).waitFor()
  await subject.fill('Soon: {{visit.day}}')
  await page.getByLabel('Why you change it').fill('Friendlier')
  await page.getByRole('button', { name: 'Send me a test' }).press('Enter')
  await page.getByText('A test is on its way to admin@example.com.').first().waitFor()
  await page.getByRole('button', { name: 'Save', exact: true }).press('Enter')
  await page.getByText('Saved. Letters from now on have these words.').first().waitFor()
  await lookAt(page, 'wording-saved')
  // Somebody else was quicker: what was written stays until the person says which to keep.
  const { version } = await db.wording.findFirstOrThrow({
    where: { kind: 'visit-booked' },
    orderBy: { version: 'desc' },
  })
  const row = { id: crypto.randomUUID(), kind: 'visit-booked', language: 'en', byId: crypto.randomUUID() }
  await db.wording.create({ data: { ...row, version: version + 1, source: null } })
  await subject.fill('Mine: {{visit.day}}')
  await page.getByRole('button', { name: 'Save', exact: true }).press('Enter')
  await page.getByText(`saved version ${version + 1} while you were writing`).waitFor()
  await page.getByRole('button', { name: 'Save mine over it' }).press('Enter')
  await page.getByText(`Your own words, version ${version + 2}`).waitFor()
  expect(await subject.inputValue()).toBe('Mine: {{visit.day}}')
  await page.getByRole('button', { name: 'Look at it: as it came' }).press('Enter')
  await page.getByRole('dialog').getByText('Your {{visit.kind}} on {{visit.day}}').waitFor()
  await page.getByRole('button', { name: 'Put it back' }).press('Enter')
  await letter.getByRole('heading', { name: 'We are coming' }).waitFor()
  await context.close()
  // Words that cannot be sent are answered 422, a version that was overtaken 412; the browser logs both.
  expect(faults.filter((each) => !/status of (422|412)/.test(each))).toEqual([])
})
