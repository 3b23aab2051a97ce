import { afterAll, expect, test } from 'vitest'
import { seedDemo } from '../../prisma/seed/main.ts'
import { dayInZone } from '../../server/time.ts'
import { launchChromium } from '../setup/chromium.ts'
import { startCompany } from '../setup/company.ts'
import { DESK, logIn, lookAt, openWindow, PHONE } from '../setup/pages.ts'

const company = await startCompany()
const { db, url } = company
const today = dayInZone(new Date(), 'America/New_York')
await seedDemo(company.base, { today })
const browser = await launchChromium()
afterAll(() => browser.close())

test.each([
  ['phone', PHONE],
  ['desk', DESK],
])(
  'a storm, letters by hand, wishes said on the phone and what has ended, at %s width',
  async (_, viewport) => {
    const faults: string[] = []
    const { page, context } = await openWindow(browser, viewport, faults)
    await logIn(page, url, 'admin@example.com')

    await page.goto(`${url}/due`)
    await page.getByRole('button', { name: 'A storm or surge came through…' }).press('Enter')
    const dialog = page.getByRole('dialog')
    await dialog.getByLabel('Day').fill(today)
    await dialog.getByLabel('Town').fill('Port Ansel')
    await dialog.getByRole('button', { name: 'Show whom it concerns' }).press('Enter')
    await dialog.getByRole('status').waitFor()
    await lookAt(page, 'due-storm')
    await page.keyboard.press('Escape')

    await page.getByRole('button', { name: /^Choose all/ }).press('Enter')
    await page.getByRole('button', { name: 'Write to them now…' }).press('Enter')
    await dialog.getByRole('status').waitFor()
    await lookAt(page, 'due-write-now')
    await page.keyboard.press('Escape')

    const { id } = await db.followUp.findFirstOrThrow({ where: { closedAt: null, state: 'planned' } })
    const ended = { state: 'done', closedAt: new Date(), closedReason: 'Replaced by themselves' }
    await db.followUp.update({ where: { id }, data: { ...ended, nextNoticeOn: null } })
    await page.goto(`${url}/due?tab=done`)
    await page
      .getByRole('button', { name: /^Open / })
      .first()
      .press('Enter')
    await dialog.getByRole('button', { name: 'Reopen' }).waitFor()
    await lookAt(page, 'due-ended')
    await page.keyboard.press('Escape')

    const customer = await db.customer.findFirstOrThrow({ where: { visits: { some: {} } } })
    await page.goto(`${url}/customers/${customer.id}`)
    const surge = page.getByLabel('The surge protector')
    await surge.click()
    await page.getByText('Their choice is saved.').first().waitFor()
    await page
      .getByText(/^Said to /)
      .first()
      .waitFor()
    await lookAt(page, 'customer-wishes')
    const word = await db.messagePreference.findFirst({
      where: { customerId: customer.id, category: 'about-surge' },
    })
    expect(word).toMatchObject({ source: 'office' })
    await context.close()
    expect(faults).toEqual([])
  },
)
