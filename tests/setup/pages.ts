import { mkdirSync, readFileSync } from 'node:fs'
import { createRequire } from 'node:module'
import { join } from 'node:path'
import type { Browser, BrowserContext, Page } from 'playwright-core'
import { expect } from 'vitest'
import { PASSWORD } from './company.ts'

const AXE = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8')
export const PHONE = { width: 390, height: 844 }
export const DESK = { width: 1440, height: 900 }
const SHOTS = 'artefacts/screens'

/** A window that fails the test when the page logs an error or asks another host. */
export async function openWindow(
  browser: Browser,
  viewport: { width: number; height: number },
  faults: string[],
): Promise<{ context: BrowserContext; page: Page }> {
  // axe is put into the page, which the page's own policy would refuse.
  const context = await browser.newContext({ viewport, bypassCSP: true, timezoneId: 'America/New_York' })
  const page = await context.newPage()
  page.on('pageerror', (error) => faults.push(`${page.url()}: ${error.message}`))
  page.on('console', (message) => {
    if (message.type() === 'error') faults.push(`${page.url()}: ${message.text()}`)
  })
  page.on('request', (request) => {
    const { hostname, protocol } = new URL(request.url())
    if (protocol.startsWith('http') && hostname !== 'localhost' && hostname !== '127.0.0.1')
      faults.push(`asked ${request.url()}`)
  })
  return { context, page }
}

export async function logIn(page: Page, url: string, email: string): Promise<void> {
  await page.goto(`${url}/log-in`)
  await page.getByLabel('E-mail').fill(email)
  await page.getByLabel('Password').fill(PASSWORD)
  await page.getByRole('button', { name: 'Log in' }).click()
  await page.waitForURL(/\/(today|field)/)
}

/** Leaves a picture of the screen as an artefact, and has axe find nothing on it. */
export async function lookAt(page: Page, name: string): Promise<void> {
  mkdirSync(SHOTS, { recursive: true })
  const width = page.viewportSize()!.width
  // A screen that is fetched when it is first needed shows a moment of nothing.
  await page.locator('h1').first().waitFor()
  await page.getByText('Loading…').first().waitFor({ state: 'detached' })
  await page.screenshot({ path: join(SHOTS, `${name}-${width}.png`), fullPage: true })
  // A page that was moved within keeps it.
  if (!(await page.evaluate(() => 'axe' in window))) await page.evaluate(AXE)
  const violations = await page.evaluate(async () => {
    const axe = (
      window as unknown as {
        axe: {
          run: (
            where: Document,
            options: object,
          ) => Promise<{ violations: { id: string; nodes: { html: string; failureSummary?: string }[] }[] }>
        }
      }
    ).axe
    const result = await axe.run(document, {
      resultTypes: ['violations'],
      runOnly: ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice'],
    })
    return result.violations.map(
      ({ id, nodes }) =>
        `${id}: ${nodes
          .slice(0, 3)
          .map((node) => node.html.slice(0, 160) + ' ' + (node.failureSummary ?? '').slice(0, 200))
          .join(' | ')}`,
    )
  })
  // Soft: one run shows what is wrong on every screen.
  expect.soft(violations, `${name} at ${width} px`).toEqual([])
  const overflow = await page.evaluate(
    () => document.documentElement.scrollWidth - document.documentElement.clientWidth,
  )
  expect.soft(overflow, `${name} at ${width} px is wider than the window`).toBeLessThanOrEqual(1)
}
