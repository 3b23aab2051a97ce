import type { Page } from 'playwright-core'
import { beforeEach, expect, onTestFinished, test, vi } from 'vitest'
import { launchChromium } from '../setup/chromium.ts'
import { DESK, logIn, lookAt, openWindow, PHONE } from '../setup/pages.ts'
import { startFieldCompany, TECHNICIAN } from './helpers/field-company.ts'
import { onDevice, untilAppIsKept } from './helpers/field-device.ts'
import { allSent, answerLines, drawPicture, takePicture, unfold } from './helpers/sheet.ts'

// What goes wrong in a working day: the disk is full, the server answers 500 half of the time, the signal crawls.

const company = await startFieldCompany()
const { db, signal, url } = company

beforeEach(() => {
  signal.find()
  signal.mend()
})

/** On the first line of a visit of its own, inspection begun, with the browser's own controls. */
async function atFirstLine(line1: string) {
  const visit = await company.visitAt(line1)
  const phone = company.phone()
  const page = await phone.turnOn()
  await logIn(page, url, TECHNICIAN)
  await page.getByRole('link', { name: line1 }).click()
  await untilAppIsKept(page)
  await page.getByRole('button', { name: 'Begin the inspection' }).click()
  await page.locator('article').first().getByRole('button', { name: 'OK', exact: true }).click()
  await page.locator('article[data-result]').first().waitFor()
  return { phone, page, controls: await page.context().newCDPSession(page), visitId: visit.id }
}

test('a full disk is told, and takes nothing that was typed or kept', async () => {
  const begun = await atFirstLine('3 Lantern Rise')
  await allSent(begun.page)
  signal.lose()
  const before = await onDevice(begun.page)
  const picture = await drawPicture(begun.page, { width: 2000, height: 1500, noise: true })
  const here = begun.page.url()
  // The browser asks how much room there is when it first opens the database: so it is started anew.
  await begun.phone.turnOff()
  const page = await begun.phone.turnOn()
  const controls = await page.context().newCDPSession(page)
  await controls.send('Storage.overrideQuotaForOrigin', { origin: url, quotaSize: 1000 })
  await page.goto(here)
  await unfold(page)

  await takePicture(page, picture)
  await page.getByText('This device is full: the picture was not kept').waitFor()
  expect((await onDevice(page)).photos).toEqual(before.photos)
  const note = page.getByLabel('Note').first()
  await note.fill('The neutral bar is warm')
  await note.blur()
  const bar = page.getByRole('alert').filter({ hasText: 'This device is full: the last change was not kept' })
  await bar.waitFor()
  await expect.poll(() => note.inputValue()).toBe('The neutral bar is warm')
  expect(await onDevice(page)).toEqual(before)

  // Room again: what is still in its field is kept by leaving it, as the words said.
  await controls.send('Storage.overrideQuotaForOrigin', { origin: url })
  await bar.getByRole('button', { name: 'I have read it' }).click()
  await vi.waitFor(
    async () => {
      await note.focus()
      await note.blur()
      expect((await onDevice(page)).waiting).toHaveLength(before.waiting.length + 1)
    },
    { timeout: 40_000, interval: 1000 },
  )
  signal.find()
  await page.goto(`${url}/field/`)
  await allSent(page)
  const { note: atOffice } = await db.answer.findFirstOrThrow({ where: { note: { not: '' } } })
  expect(atOffice).toBe('The neutral bar is warm')
})

test('a server that answers 500 half of the time gets everything, once', async () => {
  const { page, visitId } = await atFirstLine('5 Lantern Rise')
  await allSent(page)
  signal.lose()
  const sentBefore = new Set((await db.operation.findMany({ select: { id: true } })).map((each) => each.id))
  const picture = await drawPicture(page)
  await page.goto(`${url}/field/visit/${visitId}`)
  await page.getByRole('button', { name: 'Next unanswered' }).click()
  for (let taken = 0; taken < 3; taken++) await takePicture(page, picture, `${taken}.jpg`)
  await expect.poll(async () => (await onDevice(page)).photos.length).toBe(3)
  await answerLines(page, 6)
  const made = await onDevice(page)

  // Half of all requests fail: before the server has heard them, or after, when only the answer is lost.
  const toss = tosses(500)
  signal.breakAt(({ url: path }) => {
    if (!path?.startsWith('/api/') || toss() < 0.5) return null
    return toss() < 0.5 ? 'unheard' : 'heard'
  })
  signal.passed.length = 0
  await watchHeadings(page)
  await page.goto(`${url}/field/sync`)
  await page.getByRole('heading', { name: /on this device, not yet at the office/ }).waitFor()
  // Also before the device has looked it up, it does not say that all is well.
  expect(await headingsSeen(page)).not.toContain('The office has everything')
  signal.find()
  await vi.waitFor(
    async () => {
      const button = page.getByRole('button', { name: 'Send now' })
      if (await button.isVisible()) await button.click()
      expect(await page.getByRole('heading', { name: 'The office has everything' }).isVisible()).toBe(true)
    },
    { timeout: 60_000, interval: 300 },
  )
  signal.mend()

  expect(signal.passed.filter(({ status }) => status === 500).length).toBeGreaterThanOrEqual(2)
  const arrived = (await db.operation.findMany()).filter((each) => !sentBefore.has(each.id))
  expect(arrived.map((each) => each.id).sort()).toEqual(made.waiting.map((each) => each.id).sort())
  expect(arrived.every((each) => each.outcome === 'applied')).toBe(true)
  const inspection = await db.inspection.findFirstOrThrow({ where: { visitId }, include: { photos: true } })
  expect(inspection.photos.map((each) => each.id).sort()).toEqual(made.photos.map((each) => each.id).sort())
})

/** From the next page on, keeps every heading that was ever drawn, however short. */
async function watchHeadings(page: Page): Promise<void> {
  await page.addInitScript(() => {
    const seen = new Set<string>()
    Object.assign(window, { headingsSeen: seen })
    new MutationObserver(() => {
      for (const each of document.querySelectorAll('h1, h2')) seen.add(each.textContent)
    }).observe(document, { childList: true, subtree: true, characterData: true })
  })
}
const headingsSeen = (page: Page) =>
  page.evaluate(() => [...(window as unknown as { headingsSeen: Set<string> }).headingsSeen])

/** The same tosses at each run: a linear congruential generator with the constants of Numerical Recipes. */
function tosses(seed: number): () => number {
  let state = seed
  return () => (state = (Math.imul(state, 1_664_525) + 1_013_904_223) >>> 0) / 2 ** 32
}

/** "Slow 3G" of Chromium's own developer tools: 400 kbit/s, and two seconds until the first byte. */
const SLOW_3G = { offline: false, latency: 2000, downloadThroughput: 50_000, uploadThroughput: 50_000 }

test('over slow 3G pictures trickle in while the work goes on, also across a reload', async () => {
  const { page, controls, visitId } = await atFirstLine('7 Lantern Rise')
  await allSent(page)
  const picture = await drawPicture(page, { width: 700, height: 500, noise: true })
  await page.goto(`${url}/field/visit/${visitId}`)
  await page.getByRole('button', { name: 'Next unanswered' }).click()
  await controls.send('Network.enable')
  await controls.send('Network.emulateNetworkConditions', SLOW_3G)
  const began = performance.now()
  for (let taken = 0; taken < 2; taken++) await takePicture(page, picture, `${taken}.jpg`)
  await expect.poll(async () => (await onDevice(page)).photos.length).toBe(2)
  const tapped = performance.now()
  await answerLines(page, 3)
  expect((await onDevice(page)).photos.every((each) => each.state === 'waiting')).toBe(true)
  const tapping = performance.now() - tapped
  await page.reload()
  await allSent(page, 60_000)
  const seconds = (performance.now() - began) / 1000

  const { photos } = await onDevice(page)
  const bytes = photos.reduce((sum, each) => sum + each.bytes, 0)
  // It really was slow: no faster than the line allows; and nobody waited for it while tapping.
  expect(seconds).toBeGreaterThan(bytes / SLOW_3G.uploadThroughput)
  expect(tapping / 1000).toBeLessThan(seconds)
  const inspection = await db.inspection.findFirstOrThrow({ where: { visitId }, include: { photos: true } })
  expect(inspection.photos.map((each) => each.id).sort()).toEqual(photos.map((each) => each.id).sort())
})

test('a lost phone is removed by an admin, who is told what that means, and holds nothing after its next contact', async () => {
  // Those of the tests before are no devices of this story.
  await db.session.updateMany({ data: { revokedAt: new Date() } })
  const { page: lost } = await atFirstLine('9 Lantern Rise')
  await allSent(lost)
  // Out of reach, with work on it that nobody has got.
  await lost.context().setOffline(true)
  await answerLines(lost, 2)

  await company.person('admin', 'admin@example.com', 'Ada Marsh')
  const browser = await launchChromium()
  onTestFinished(() => browser.close())
  const { page: desk } = await openWindow(browser, DESK, [])
  await logIn(desk, url, 'admin@example.com')
  await desk.goto(`${url}/people`)
  await desk.getByRole('button', { name: 'Devices of Cal Dunmore' }).click()
  const dialog = desk.getByRole('dialog')
  await dialog.getByText('Logged in').first().waitFor()
  await lookAt(desk, 'people-devices')
  await dialog
    .getByRole('button', { name: /^Remove / })
    .first()
    .click()
  await dialog.getByText('What it has not sent by now is lost').waitFor()
  for (const viewport of [PHONE, DESK]) {
    await desk.setViewportSize(viewport)
    await lookAt(desk, 'people-device-remove')
  }
  await dialog.getByRole('button', { name: 'Remove from this device' }).click()
  await dialog.getByText('Deleted at its next contact').waitFor()

  await lost.context().setOffline(false)
  await lost.goto(`${url}/field/sync`)
  await lost.getByText('what it held was deleted').waitFor({ timeout: 60_000 })
  expect(await onDevice(lost)).toMatchObject({ waiting: [], sent: [], photos: [] })
  await dialog.getByRole('button', { name: 'Close' }).click()
  await desk.getByRole('button', { name: 'Devices of Cal Dunmore' }).click()
  await dialog.getByText(/Never sent: [2-9] changes, 0 pictures/).waitFor()
})
