import ICAL from 'ical.js'
import { simpleParser } from 'mailparser'
import type { Page } from 'playwright-core'
import { getDocument } from 'pdfjs-dist/legacy/build/pdf.mjs'
import { afterAll, beforeAll, expect, test, vi } from 'vitest'
import { addDays, addYears, partsOf } from '../../trade/dates.ts'
import { formatDay } from '../../web/shared/format.ts'
import { dayInZone } from '../../server/time.ts'
import { launchChromium } from '../setup/chromium.ts'
import { startCompany, zoneAtNoon } from '../setup/company.ts'
import { DESK, logIn, lookAt, openWindow, PHONE } from '../setup/pages.ts'
import { allSent, answerLines, drawPicture, takePicture } from './helpers/sheet.ts'
import { KESTREL_ROW } from '../../prisma/seed/company.ts'

// The whole job as people do it, on real services: PostgreSQL, Redis, SMTP, and two windows of a real browser.

const company = await startCompany()
const { db, mail, url } = company
const zone = zoneAtNoon()
const today = dayInZone(new Date(), zone)
const faults: string[] = []
const browser = await launchChromium()
afterAll(() => browser.close())

/** Three weeks past its ten years: the letter of the second week is the one that is due. */
const made = addDays(addYears(today, -10), -20)
const EMAIL = 'opal.thorne@example.com'

beforeAll(async () => {
  await db.company.create({ data: { ...KESTREL_ROW, timeZone: zone } })
  await company.person('office', 'office@example.com', 'Iris Calloway')
  await company.person('technician', 'technician@example.com', 'Cal Dunmore')
})

/** The next letter to that address whose subject fits, parsed by an independent MIME parser. */
async function letter(about: RegExp) {
  const id = await vi.waitFor(
    async () => {
      const caught = await mail.mailbox.list()
      const found = caught.find((each) => each.to.includes(EMAIL) && about.test(each.subject))
      if (!found)
        throw new Error(
          `no letter about ${about}; there are: ${caught.map((each) => each.subject).join(' | ')}`,
        )
      return found.id
    },
    { timeout: 30_000, interval: 250 },
  )
  return simpleParser((await mail.mailbox.get(id))!.source)
}

test('from the first call to the answered reminder', async () => {
  const office = (await openWindow(browser, DESK, faults)).page
  await logIn(office, url, 'office@example.com')
  await takeAndBook(office)

  const invitation = await letter(/^Your inspection on/)
  const calendar = invitation.attachments.find((each) => each.contentType.startsWith('text/calendar'))!
  const event = new ICAL.Event(
    new ICAL.Component(ICAL.parse(calendar.content.toString())).getFirstSubcomponent('vevent')!,
  )
  expect(event.uid).toMatch(/@/)
  expect(event.component.getFirstPropertyValue('sequence')).toBe(0)
  expect(event.attendees).toHaveLength(1)
  expect(invitation.text).toContain('28 Breakwater Road')

  const field = (await openWindow(browser, PHONE, faults)).page
  await logIn(field, url, 'technician@example.com')
  await fillTheSheet(field)

  const inspection = await vi.waitFor(
    async () =>
      db.inspection.findFirstOrThrow({
        where: { state: 'completed' },
        include: { answers: true, findings: true, photos: true },
      }),
    { timeout: 30_000, interval: 500 },
  )
  expect(inspection.answers.length).toBeGreaterThan(40)
  expect(inspection.findings).toHaveLength(1)
  expect(inspection.photos).toHaveLength(1)
  expect((await db.visit.findFirstOrThrow()).state).toBe('finished')

  await office.goto(`${url}/inspections/${inspection.id}`)
  await office.getByRole('heading', { name: 'Inspection, 28 Breakwater Road' }).waitFor()
  await lookAt(office, 'inspection')
  await office.getByRole('button', { name: 'Issue the report' }).click()
  await office.getByRole('button', { name: 'Issue and send' }).click()
  const reported = await letter(/report/i)
  const reportUrl = /http:\/\/localhost:\d+\/h\/[\w-]+/.exec(reported.text ?? '')![0]

  const homeowner = (await openWindow(browser, PHONE, faults)).page
  await homeowner.goto(reportUrl)
  await lookAt(homeowner, 'homeowner-report')
  expect(await homeowner.content()).toContain('Kestrel Row Electric')
  await readPdf(homeowner, reportUrl)

  const alarm = await db.equipment.findFirstOrThrow({ where: { kind: 'alarm' } })
  const due = await db.followUp.findFirstOrThrow({ where: { equipmentId: alarm.id } })
  // NFPA 72-2013 §14.4.7.1: ten years from the date of manufacture.
  expect(due.dueOn.toISOString().slice(0, 10)).toBe(addYears(made, 10))
  const reminder = await letter(/alarm|due|replace/i)
  expect(reminder.headers.get('auto-submitted')).toBe('auto-generated')
  expect(reminder.text).toContain('555-0100')
  const dueUrl = /http:\/\/localhost:\d+\/h\/[\w-]+/.exec(reminder.text ?? '')![0]
  await askForVisit(homeowner, dueUrl)
  const request = await vi.waitFor(
    () => db.visitRequest.findFirstOrThrow({ where: { source: 'private-link' } }),
    { timeout: 10_000 },
  )
  expect(request.state).toBe('waiting')
  expect(faults).toEqual([])
})

async function takeAndBook(office: Page): Promise<void> {
  await office.getByRole('link', { name: 'Take a request' }).first().click()
  const form = office.getByRole('main')
  await form.getByLabel(/^Name/).fill('Opal Thorne')
  await form.getByLabel('Phone').fill('555-0142')
  await form.getByLabel('E-mail').fill(EMAIL)
  await form.getByLabel('Street and number').fill('28 Breakwater Road')
  await form.getByLabel('Town').fill('Port Ansel')
  await office.getByText('What is known of the home').click()
  await form.getByLabel('Year built').fill('1968')
  await form.getByLabel('Bedroom').fill('2')
  await form.getByLabel('Bathroom').fill('1')
  await form.getByLabel('Kitchen').fill('1')
  await form.getByLabel('Reason').fill('Smoke alarm chirps and will not stop')
  await lookAt(office, 'new-request')
  await office.getByRole('button', { name: 'Keep the request' }).click()
  await office.getByRole('button', { name: 'Book 28 Breakwater Road' }).click()
  const booking = office.getByRole('dialog')
  await booking.getByLabel('Day', { exact: false }).first().fill(today)
  await booking.getByLabel('Arrives from').fill('00:15')
  await booking.getByLabel('until').fill('23:45')
  await booking.getByLabel(/^Technician/).selectOption({ label: 'Cal Dunmore' })
  await lookAt(office, 'book-visit')
  await office.getByRole('button', { name: 'Book the visit' }).click()
  await office.getByText('is booked for').waitFor()
}

/** Every line, with one thumb: an alarm that is too old is found, photographed and written down; all else is sound. */
async function fillTheSheet(field: Page): Promise<void> {
  await field.getByRole('link', { name: '28 Breakwater Road' }).click()
  await lookAt(field, 'field-visit')
  await field.getByRole('button', { name: 'Arrived' }).click()
  await addOldAlarm(field)
  await answerLines(field)
  await lookAt(field, 'field-finish')
  await field.getByRole('button', { name: 'Finish the inspection' }).click()
  await field.getByRole('heading', { name: 'This inspection is finished' }).waitFor()
  await allSent(field)
}

/** A layout that labels have: `2016 Nov. 05`. */
function asPrinted(): string {
  const { year, date } = partsOf(made)
  return `${year} ${formatDay(made, { month: 'short' })}. ${String(date).padStart(2, '0')}`
}

async function addOldAlarm(field: Page): Promise<void> {
  await field.getByRole('link', { name: /Smoke, carbon monoxide/ }).click()
  await field.getByRole('button', { name: 'Add: alarm' }).click()
  await field.getByRole('button', { name: 'Smoke', exact: true }).click()
  const label = field.getByLabel('Date as printed')
  await label.fill(asPrinted())
  await label.blur()
  await field.getByRole('button', { name: `Made ${formatDay(made)}` }).click()
  await field
    .getByText(/a smoke alarm serves 10 years/)
    .first()
    .waitFor()
  await field.getByRole('button', { name: 'Finding', exact: true }).click()
  await field.getByRole('button', { name: /^Write down: Overdue/ }).click()
  await field.getByLabel('What is wrong').waitFor()
  await takePicture(field, await drawPicture(field))
  await field.getByRole('img').first().waitFor()
  await lookAt(field, 'field-alarm')
}

async function readPdf(homeowner: Page, reportUrl: string): Promise<void> {
  const link = await homeowner.getByRole('link', { name: /PDF/ }).first().getAttribute('href')
  const pdf = await homeowner.request.get(new URL(link!, reportUrl).href)
  expect(pdf.headers()['content-type']).toContain('application/pdf')
  const document = await getDocument({ data: new Uint8Array(await pdf.body()) }).promise
  const pages = await Promise.all(
    Array.from({ length: document.numPages }, async (_, index) =>
      (await document.getPage(index + 1)).getTextContent(),
    ),
  )
  const text = pages.flatMap(({ items }) => items.map((item) => ('str' in item ? item.str : ''))).join(' ')
  expect(text).toContain('28 Breakwater Road')
  expect(text).toMatch(/smoke/i)
}

async function askForVisit(homeowner: Page, dueUrl: string): Promise<void> {
  await homeowner.goto(dueUrl)
  await lookAt(homeowner, 'homeowner-due')
  await homeowner.getByRole('radio').first().check()
  await homeowner.getByRole('button', { name: 'Ask for this visit' }).click()
  await homeowner.waitForURL(/thanks/)
  await lookAt(homeowner, 'homeowner-thanks')
}
