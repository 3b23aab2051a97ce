import { cpSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import type { Page } from 'playwright-core'
import { afterAll, beforeEach, expect, test } from 'vitest'
import { logIn } from '../setup/pages.ts'
import { startFieldCompany, TECHNICIAN } from './helpers/field-company.ts'
import { onDevice, untilAppIsKept } from './helpers/field-device.ts'
import { allSent, answerLines } from './helpers/sheet.ts'

// Two windows on one device, and a new version that comes while they are open.

const webDir = mkdtempSync(join(tmpdir(), 'watchlamp-web-'))
cpSync('dist/web', webDir, { recursive: true })
afterAll(() => rmSync(webDir, { recursive: true, force: true }))
const company = await startFieldCompany({ webDir })
const { db, signal, url } = company

/** Puts another build in place of the one that is served: the page says which, and the service worker knows of it. */
function deploy(build: number): void {
  const [page, worker] = [join(webDir, 'field/index.html'), join(webDir, 'field/sw.js')]
  const html = readFileSync(page, 'utf8').replace(/<meta name="build"[^>]*>/, '')
  writeFileSync(page, html.replace('<title>', `<meta name="build" content="${build}"><title>`))
  const entry = /\{[^{}]*"\/field\/index\.html"[^{}]*\}/
  const renewed = readFileSync(worker, 'utf8').replace(entry, (found) =>
    found.replace(/[0-9a-f]{32}/, String(build).padStart(32, '0')),
  )
  writeFileSync(worker, renewed)
}
const buildOf = (page: Page) =>
  page.evaluate(() => document.querySelector('meta[name="build"]')?.getAttribute('content') ?? null)

beforeEach(() => void signal.find())

async function twoWindows(line1: string) {
  const visit = await company.visitAt(line1)
  const first = await company.phone().turnOn()
  await logIn(first, url, TECHNICIAN)
  await first.getByRole('link', { name: line1 }).waitFor()
  await untilAppIsKept(first)
  await first.goto(`${url}/field/visit/${visit.id}`)
  const second = await first.context().newPage()
  await second.goto(`${url}/field/visit/${visit.id}`)
  return { first, second, visit }
}

test('two windows agree, and nothing is sent twice', async () => {
  const { first, second, visit } = await twoWindows('9 Lantern Rise')
  const sent: string[] = []
  for (const page of [first, second]) {
    // What the office answered: an attempt without signal sends nothing.
    page.on('response', (answer) => {
      if (!answer.url().endsWith('/field/operations') || !answer.ok()) return
      const { operations } = answer.request().postDataJSON() as { operations: { id: string }[] }
      sent.push(...operations.map((each) => each.id))
    })
  }
  await first.getByRole('button', { name: 'Begin the inspection' }).click()
  await first.locator('article').first().getByRole('button', { name: 'OK', exact: true }).click()
  // The other window draws what this one kept, without being touched.
  await second.getByRole('button', { name: 'Next unanswered' }).waitFor()
  await allSent(first)
  await allSent(second)

  signal.lose()
  await answerLines(first, 3)
  await second.getByRole('button', { name: 'Next unanswered' }).click()
  await answerLines(second, 3)
  const { waiting } = await onDevice(first)
  expect(waiting.length).toBeGreaterThanOrEqual(6)
  await Promise.all([first, second].map((page) => page.goto(`${url}/field/sync`)))
  sent.length = 0
  signal.find()
  await Promise.all([first, second].map((page) => page.getByRole('button', { name: 'Send now' }).click()))
  for (const page of [first, second]) await allSent(page)

  expect([...sent].sort()).toEqual(waiting.map((each) => each.id).sort())
  const inspections = await db.inspection.findMany({ where: { visitId: visit.id } })
  expect(inspections).toHaveLength(1)
  const arrived = await db.operation.findMany({ where: { inspectionId: inspections[0]!.id } })
  expect(arrived.map((each) => each.id)).toEqual(expect.arrayContaining(waiting.map((each) => each.id)))
})

test('a new version waits until it is taken, and swaps under nobody’s hands', async () => {
  const { first, second, visit } = await twoWindows('11 Lantern Rise')
  deploy(2)
  // The browser asks for the service worker anew at each start of the app.
  await first.reload()
  const ready = (page: Page) => page.getByText('A new version is ready')
  await first.getByRole('button', { name: 'Begin the inspection' }).click()
  await first.evaluate(async () => {
    const { waiting, installing } = (await navigator.serviceWorker.getRegistration('/field/'))!
    if (waiting) return
    await new Promise<void>((resolve) => {
      installing?.addEventListener('statechange', () => installing.state === 'installed' && resolve())
      if (!installing) resolve()
    })
  })
  // On the sheet nothing appears and nothing moves; a start of the app is still the old version.
  expect(await ready(first).count()).toBe(0)
  expect(await buildOf(first)).toBe(null)
  await first.goto(`${url}/field/`)
  await ready(first).waitFor()
  expect(await buildOf(first)).toBe(null)

  await second.getByRole('button', { name: /Begin the inspection|Next unanswered/ }).click()
  await second.evaluate(() => Object.assign(window, { untouched: true }))
  await first.getByRole('button', { name: 'Take it now' }).click()
  await expect.poll(() => buildOf(first)).toBe('2')
  await first.getByRole('link', { name: '11 Lantern Rise' }).waitFor()

  // The other window goes on with the old version, and delivers what it holds.
  await second.locator('article').first().getByRole('button', { name: 'OK', exact: true }).click()
  await second.locator('article[data-result]').first().waitFor()
  await allSent(second)
  expect(await db.answer.count({ where: { inspection: { visitId: visit.id } } })).toBe(1)
  expect(await second.evaluate(() => 'untouched' in window)).toBe(true)
  await second.getByRole('link', { name: /^Sending/ }).click()
  await second.getByText('Another window took the new version').waitFor()
  await second.getByRole('button', { name: 'Show the new one' }).click()
  await expect.poll(() => buildOf(second).catch(() => null)).toBe('2')
})

test('left alone, the app takes a new version by itself, but not while something is unsent', async () => {
  const { first: page, second, visit } = await twoWindows('13 Lantern Rise')
  await second.close()
  deploy(3)
  await page.goto(`${url}/field/`)
  await page.getByText('A new version is ready').waitFor()
  signal.lose()
  await page.getByRole('link', { name: '13 Lantern Rise' }).click()
  await page.getByRole('button', { name: 'Arrived' }).click()
  await page.getByRole('link', { name: /Back to my day/ }).click()
  await page.getByText('A new version is ready').waitFor()
  await goOutOfSight(page)
  await page.waitForTimeout(1500)
  expect(await buildOf(page)).not.toBe('3')

  signal.find()
  await expect
    .poll(async () => (await db.visit.findFirstOrThrow({ where: { id: visit.id } })).state, {
      timeout: 20_000,
    })
    .toBe('on-site')
  await allSent(page)
  await goOutOfSight(page)
  await expect.poll(() => buildOf(page).catch(() => null), { timeout: 20_000 }).toBe('3')
})

/** As when the phone goes into a pocket. */
function goOutOfSight(page: Page): Promise<void> {
  return page.evaluate(() => {
    Object.defineProperty(document, 'visibilityState', { configurable: true, get: () => 'hidden' })
    document.dispatchEvent(new Event('visibilitychange'))
  })
}
