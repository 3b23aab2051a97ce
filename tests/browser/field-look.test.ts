import { afterAll, expect, test } from 'vitest'
import { launchChromium } from '../setup/chromium.ts'
import { logIn, lookAt, openWindow, PHONE } from '../setup/pages.ts'
import { startFieldCompany, TECHNICIAN } from './helpers/field-company.ts'

// In the sun, in the dark, with large letters, and with the phone held sideways: axe finds nothing, nothing sticks out.

const company = await startFieldCompany()
const { url } = company
const visit = await company.visitAt('28 Breakwater Road')
const browser = await launchChromium()
afterAll(() => browser.close())

const LOOKS = [
  ['light', PHONE, 'Light', '100%'],
  ['dark', PHONE, 'Dark', '100%'],
  ['contrast', PHONE, 'High contrast', '100%'],
  ['large', PHONE, 'Light', '200%'],
  ['landscape', { width: 844, height: 390 }, 'Light', '100%'],
  ['tablet', { width: 820, height: 1180 }, 'High contrast', '100%'],
] as const

test('the field pages in every light, size and direction', async () => {
  const faults: string[] = []
  const { page } = await openWindow(browser, PHONE, faults)
  await logIn(page, url, TECHNICIAN)
  for (const [name, viewport, theme, letters] of LOOKS) {
    await page.setViewportSize(viewport)
    await page.goto(`${url}/field/sync`)
    await page.getByRole('button', { name: theme, exact: true }).click()
    const show = async (path: string, words: RegExp, what: string) => {
      await page.goto(`${url}/field/${path}`)
      await page.getByText(words).first().waitFor()
      await page.evaluate((size) => (document.documentElement.style.fontSize = size), letters)
      await lookAt(page, `field-${what}-${name}`)
    }
    await show('', /28 Breakwater Road/, 'my-day')
    await show('sync', /On this device/, 'sync')
    await show(`visit/${visit.id}`, /Begin the inspection/, 'visit')
    // The choice is remembered: each of these was a new load of the page.
    expect(await page.evaluate(() => localStorage.getItem('theme'))).toBe(
      theme === 'High contrast' ? 'contrast' : theme.toLowerCase(),
    )
  }
  expect(faults.filter((each) => !/401/.test(each))).toEqual([])
})
