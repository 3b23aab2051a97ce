import type { Page } from 'playwright-core'
import { afterAll, expect, test } from 'vitest'
import { newId } from '../../server/ids.ts'
import { launchChromium } from '../setup/chromium.ts'
import { logIn, lookAt, openWindow, PHONE } from '../setup/pages.ts'
import { startFieldCompany, TECHNICIAN } from './helpers/field-company.ts'
import { allSent, drawPicture, takePicture } from './helpers/sheet.ts'

// In the sun, in the dark, with large letters, and with the phone held sideways: axe finds nothing, nothing sticks out.

const company = await startFieldCompany()
const { db, url } = company
const visit = await company.visitAt('28 Breakwater Road')
const browser = await launchChromium()
afterAll(() => browser.close())

const TABLET = { width: 820, height: 1180 }
const LOOKS = [
  ['light', PHONE, 'Light', '100%'],
  ['dark', PHONE, 'Dark', '100%'],
  ['contrast', PHONE, 'High contrast', '100%'],
  ['large', PHONE, 'Light', '200%'],
  ['landscape', { width: 844, height: 390 }, 'Light', '100%'],
  ['tablet', TABLET, 'High contrast', '100%'],
] as const
/** Typed once; what it unlocks is told in sheet.test.ts. */
const PIN = '482913'

test('the field pages in every light, size and direction', async () => {
  const faults: string[] = []
  const { page } = await openWindow(browser, PHONE, faults)
  await logIn(page, url, TECHNICIAN)
  const area = await withEverything(page)
  for (const [name, viewport, theme, letters] of LOOKS) {
    await page.setViewportSize(viewport)
    await page.goto(`${url}/field/sync`)
    await page.getByRole('button', { name: theme, exact: true }).click()
    const look = async (what: string) => {
      await page.evaluate((size) => (document.documentElement.style.fontSize = size), letters)
      await lookAt(page, `field-${what}-${name}`)
    }
    const show = async (path: string, words: RegExp, what: string) => {
      await page.goto(`${url}/field/${path}`)
      await page.getByText(words).first().waitFor()
      await look(what)
    }
    await show('', /28 Breakwater Road/, 'my-day')
    await show('sync', /Needs you/, 'sync')
    await page.getByRole('button', { name: 'Open and change' }).click()
    await look('mending')
    await show(`visit/${visit.id}`, /Next unanswered/, 'visit')
    await show(area, /Recorded twice/, 'area')
    await page.getByRole('button', { name: /Describe or draw/ }).click()
    await page.getByRole('dialog').getByRole('button', { name: 'Circle', exact: true }).click()
    await page
      .getByRole('status')
      .filter({ hasText: /Circle/ })
      .waitFor({ state: 'attached' })
    await look('photo')
    await page.getByRole('dialog').getByRole('button', { name: 'Remove this mark' }).click()
    await page.keyboard.press('Escape')
    await page.goto(`${url}/field/`)
    await page.getByRole('button', { name: 'Lock', exact: true }).click()
    await page.getByRole('heading', { name: 'Locked' }).waitFor()
    await look('locked')
    await page.getByLabel('PIN').fill(PIN)
    await page.getByRole('button', { name: 'Unlock' }).click()
    await page.getByRole('link', { name: '28 Breakwater Road' }).waitFor()
    // The choice is remembered: each of these was a new load of the page.
    expect(await page.evaluate(() => localStorage.getItem('theme'))).toBe(
      theme === 'High contrast' ? 'contrast' : theme.toLowerCase(),
    )
  }
  expect(faults.filter((each) => !/401/.test(each))).toEqual([])
})

/**
 * A visit with something of each: an answer that two recorded, a picture, a change that the office refused, and a PIN.
 * @returns where the line with the picture stands
 */
async function withEverything(page: Page): Promise<string> {
  await page.goto(`${url}/field/visit/${visit.id}`)
  await page.getByRole('button', { name: 'Begin the inspection' }).click()
  const first = page.locator('article').first()
  await first.getByRole('button', { name: 'Finding', exact: true }).click()
  await takePicture(page, await drawPicture(page))
  await page.getByRole('button', { name: /Describe or draw/ }).waitFor()
  await allSent(page)
  const answer = await db.answer.findFirstOrThrow()
  await db.alternative.create({
    data: {
      id: newId(),
      inspectionId: answer.inspectionId,
      subject: `answer:${answer.itemId}@${answer.subjectId ?? 'home'}`,
      kind: 'answer',
      record: {
        ...answer,
        result: 'ok',
        note: 'Seen from the street',
        answeredAt: answer.answeredAt.toISOString(),
      } as object,
      recordedAt: new Date(),
      replacedById: answer.answeredById,
      replacedAt: new Date(),
    },
  })
  const area = new URL(page.url())
  const line = await first.getAttribute('id')
  await refuseNext(page)
  await page.getByLabel('Note').first().fill('The seal is broken')
  await page.getByLabel('Note').first().blur()
  await page.getByRole('link', { name: /Sending: 1 need you/ }).click()
  await page.getByRole('button', { name: 'Set a PIN' }).click()
  await page.getByLabel(/^New PIN/).fill(PIN)
  await page.getByLabel('The same PIN again').fill(PIN)
  await page.getByRole('button', { name: 'Keep this PIN' }).click()
  await page.getByRole('button', { name: 'Change the PIN' }).waitFor()
  return `${area.pathname.replace('/field/', '')}#${encodeURIComponent(line!)}`
}

/** As the office would, had somebody issued the report meanwhile. */
async function refuseNext(page: Page): Promise<void> {
  await page.route(
    '**/field/operations',
    async (route) => {
      const { operations } = route.request().postDataJSON() as { operations: { id: string }[] }
      const problem = {
        type: '/problems/wrong-state',
        title: 'That cannot be done in its present state',
        detail: 'The report of this inspection has been issued; the office can issue a corrected one.',
      }
      const outcomes = operations.map(({ id }) => ({
        id,
        outcome: 'refused',
        replayed: false,
        problem,
        superseded: null,
        version: null,
      }))
      await route.fulfill({ json: { serverTime: new Date().toISOString(), outcomes } })
    },
    { times: 1 },
  )
}
