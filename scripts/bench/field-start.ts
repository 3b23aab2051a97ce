import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { type BrowserContext, chromium } from 'playwright-core'
import { CHROMIUM_ARGS, chromiumPath } from '../../tests/setup/chromium.ts'
import { buildWebWhenStale } from '../build-web.ts'
import { LOGIN, startFieldCompany } from './field-company.ts'
import type { Measurement } from './run.ts'

const ROUNDS = 9

/**
 * `field.start`: opens the field app without network in a browser that has just been started on a stored profile, until
 * the day is painted; against an empty page that its service worker keeps in the same way, each in a browser of its own.
 */
export async function run(): Promise<Measurement[]> {
  await buildWebWhenStale()
  const company = await startFieldCompany()
  const profile = mkdtempSync(join(tmpdir(), 'watchlamp-profile-'))
  const [ours, bare] = [`${company.url}/field/`, `${company.url}/bare/`]
  try {
    await keepBoth(profile, company.url, ours, bare)
    const rounds: { ours: number; bare: number }[] = []
    for (let round = 0; round < ROUNDS; round++) {
      // In turns, and each first as often as second: both feel the same machine.
      const order = round % 2 ? [bare, ours] : [ours, bare]
      const took = new Map<string, number>()
      for (const url of order) took.set(url, await coldStart(profile, url))
      rounds.push({ ours: took.get(ours)!, bare: took.get(bare)! })
    }
    const middle = rounds.toSorted((a, b) => a.ours / a.bare - b.ours / b.bare)[Math.floor(ROUNDS / 2)]!
    const round = (value: number, digits: number) => Number(value.toFixed(digits))
    return [
      {
        name: 'field.start',
        ours: round(middle.ours, 0),
        bare: round(middle.bare, 0),
        ratio: round(middle.ours / middle.bare, 2),
        aim: 3,
        unit: 'ms',
      },
    ]
  } finally {
    await company.stop()
    rmSync(profile, { recursive: true, force: true, maxRetries: 5 })
  }
}

function openBrowser(profile: string): Promise<BrowserContext> {
  return chromium.launchPersistentContext(profile, {
    executablePath: chromiumPath(),
    args: [...CHROMIUM_ARGS],
    viewport: { width: 390, height: 844 },
  })
}

/** Logs in, fetches the day, and lets both service workers keep their page. */
async function keepBoth(profile: string, url: string, ours: string, bare: string): Promise<void> {
  const context = await openBrowser(profile)
  const page = await context.newPage()
  await page.goto(`${url}/log-in`)
  await page.getByLabel('E-mail').fill(LOGIN.email)
  await page.getByLabel('Password').fill(LOGIN.password)
  await page.getByRole('button', { name: 'Log in' }).click()
  await page.waitForURL(/\/field/)
  for (const each of [ours, bare]) {
    await page.goto(each)
    await page
      .getByRole('heading', { name: /^Today/ })
      .first()
      .waitFor()
    await page.evaluate(() => navigator.serviceWorker.ready.then(() => true))
  }
  await context.close()
}

/** In the page, as text: what compiles this file puts helpers into functions that the page does not have. */
const NOTE_WHEN_SHOWN = `
  const look = () => {
    const isThere = [...document.querySelectorAll('main h2')].some((each) => /^Today/.test(each.textContent))
    // The frame after the one that drew it.
    requestAnimationFrame(isThere ? () => (window.shownAt = performance.now()) : look)
  }
  requestAnimationFrame(look)`

/** Milliseconds from the navigation until the heading of the day has been painted, in a browser just started. */
async function coldStart(profile: string, url: string): Promise<number> {
  const context = await openBrowser(profile)
  try {
    await context.setOffline(true)
    const page = await context.newPage()
    await page.addInitScript(NOTE_WHEN_SHOWN)
    await page.goto(url)
    const shown = await page.waitForFunction(() => (window as { shownAt?: number }).shownAt)
    return (await shown.jsonValue())!
  } finally {
    await context.close()
  }
}
