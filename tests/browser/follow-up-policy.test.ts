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
  await lookAt(page, 'settings-follow-ups')
  await effect.getByRole('button', { name: 'Save the policy' }).press('Enter')
  await page.getByText('The policy is saved.').waitFor()
  const { policy } = await db.company.findUniqueOrThrow({ where: { id: 1 } })
  expect(JSON.stringify(policy)).toContain(`"days":${added.slice(0, 2)}`)
  await context.close()
  expect(faults).toEqual([])
})
