import type { Locator, Page } from 'playwright-core'
import { afterAll, beforeAll, expect, test, vi } from 'vitest'
import { newId } from '../../server/ids.ts'
import { dayInZone } from '../../server/time.ts'
import { systemCtx } from '../../server/ctx.ts'
import { buildInspectableHome } from '../build/inspection.ts'
import { launchChromium } from '../setup/chromium.ts'
import { startCompany, zoneAtNoon } from '../setup/company.ts'
import { logIn, lookAt, openWindow, PHONE } from '../setup/pages.ts'
import { KESTREL_ROW } from '../../prisma/seed/company.ts'

// The field sheet as a technician with gloves uses it: one home, one phone, each way of being quick and careful.

const company = await startCompany()
const { db, url } = company
const zone = zoneAtNoon()
const browser = await launchChromium()
afterAll(() => browser.close())
const faults: string[] = []
let field: Page
let visitId: string

beforeAll(async () => {
  await db.company.create({ data: { ...KESTREL_ROW, timeZone: zone } })
  const technicianId = await company.person('technician', 'technician@example.com', 'Cal Dunmore')
  await company.person('office', 'office@example.com', 'Iris Calloway')
  const { property } = await buildInspectableHome(systemCtx(company.base), {
    timeZone: zone,
    line1: '28 Breakwater Road',
  })
  const startsAt = new Date(`${dayInZone(new Date(), zone)}T12:00:00Z`)
  const visit = await db.visit.create({
    data: {
      id: newId(),
      propertyId: property.id,
      customerId: property.customerId,
      technicianId,
      kind: 'inspection',
      state: 'on-site',
      windowStartsAt: startsAt,
      windowEndsAt: new Date(startsAt.getTime() + 7_200_000),
      startsAt,
      lengthMinutes: 120,
      endsAt: new Date(startsAt.getTime() + 7_200_000),
    },
  })
  visitId = visit.id
  field = (await openWindow(browser, PHONE, faults)).page
  await logIn(field, url, 'technician@example.com')
  await field.getByRole('link', { name: '28 Breakwater Road' }).waitFor()
})

const openArea = async (area: string, first: RegExp) => {
  await field.goto(`${url}/field/visit/${visitId}/area/${area}`)
  await field.getByRole('article', { name: first }).first().waitFor()
}
const line = (name: string | RegExp) => field.getByRole('article', { name })
const focused = () => field.evaluate(() => document.activeElement?.textContent ?? '')
const answersOf = async (itemId: string) =>
  db.answer.findMany({ where: { itemId }, orderBy: { answeredAt: 'asc' } })
const untilSent = () => field.getByRole('link', { name: /Sending: All sent/ }).waitFor({ timeout: 30_000 })

test('the others of an area are sound in one tap, what needs more stays, and it can be taken back', async () => {
  await openArea('switches', /Kitchen/)
  await field.getByRole('button', { name: /^Other \d+ here are sound$/ }).click()
  const told = field.getByRole('region', { name: 'Answered in one tap' })
  await told.waitFor()
  expect(await focused()).toMatch(/lines are answered OK/)
  expect(
    await line(/Kitchen/)
      .first()
      .getAttribute('data-result'),
  ).toBe('ok')
  await lookAt(field, 'field-all-sound')
  await told.getByRole('button', { name: 'Take that back' }).click()
  await field.locator('article:not([data-result])', { hasText: 'Kitchen' }).first().waitFor()
  await untilSent()
  expect(await answersOf('switches.room')).toEqual([])

  await openArea('alarms', /Hall alarm/)
  // It is older than its ten years: a rule speaks against it, so no sweep may answer it.
  await field
    .getByText(/serves 10 years/)
    .first()
    .waitFor()
  expect(await line(/Hall alarm/).getAttribute('data-result')).toBeNull()
})

test('who answers a line and at once opens another stays at the other', async () => {
  await openArea('switches', /Kitchen/)
  await unfold(line(/Kitchen/))
  const hall = await line(/Hall/).getAttribute('id')
  // Both taps before the device has kept the answer.
  const ok = line(/Kitchen/).getByRole('button', { name: 'OK', exact: true })
  await ok.evaluate((button: HTMLElement, other) => {
    button.click()
    document.getElementById(other!)!.querySelector('button')!.click()
  }, hall)
  await field.locator('article[data-result="ok"]', { hasText: 'Kitchen' }).waitFor()
  await untilSent()
  expect(await field.locator('article:has(button[aria-expanded="true"])').getAttribute('id')).toBe(hall)
})

test('a shaky thumb answers one line, not the one that comes under it', async () => {
  await openArea('lighting', /./)
  const open = field.locator('article:not([data-result])')
  const before = await open.count()
  await unfold(open.first())
  const ok = field.getByRole('button', { name: 'OK', exact: true })
  await ok.click()
  await field.locator('article[data-result="ok"]').first().waitFor()
  const { x, y, width, height } = (await ok.boundingBox())!
  await field.mouse.move(x + width / 2, y + height / 2)
  await field.mouse.down({ clickCount: 2 })
  await field.mouse.up({ clickCount: 2 })
  await untilSent()
  expect(await open.count()).toBe(before - 1)
})

test('the way on stays where it is when the others are sound', async () => {
  await openArea('switches', /Kitchen/)
  const next = field.getByRole('button', { name: /^Next unanswered/ })
  const sweep = field.getByRole('button', { name: /^Other \d+ here are sound$/ })
  const there = await next.boundingBox()
  await sweep.click()
  await field.getByRole('region', { name: 'Answered in one tap' }).waitFor()
  await sweep.waitFor({ state: 'detached' })
  const { x, width } = (await next.boundingBox())!
  expect({ x, width }).toEqual({ x: there!.x, width: there!.width })
  await field.getByRole('button', { name: 'Take that back' }).click()
  await sweep.waitFor()
})

test('the readings of the last room are said, and taken over with one tap', async () => {
  await openArea('receptacles', /Kitchen/)
  const kitchen = line(/sampled: Kitchen/)
  await unfold(kitchen)
  await kitchen.getByLabel('Tester pattern').selectOption('correct')
  await kitchen.getByLabel(/^Voltage, no load/).fill('121,5 V')
  await kitchen.getByLabel(/^Voltage, no load/).blur()
  await kitchen
    .getByText(/121.5|122 V without load/)
    .first()
    .waitFor()
  const hall = line(/sampled: Hall/)
  await unfold(hall)
  await hall.getByRole('button', { name: 'Same as Kitchen' }).click()
  await expect.poll(() => hall.getByLabel(/^Voltage, no load/).inputValue()).toBe('121.5')
  await untilSent()
  expect((await answersOf('receptacles.room')).map(({ readings }) => readings)).toEqual([
    { pattern: 'correct', volts: 121.5 },
    { pattern: 'correct', volts: 121.5 },
  ])
  await lookAt(field, 'field-readings')
})

test('a voltage drop is located between two outlets of the circuit', async () => {
  await openArea('receptacles', /Hall/)
  const kitchen = line(/sampled: Kitchen/)
  await unfold(kitchen)
  await kitchen.getByText('Locate a voltage drop along the circuit').click()
  for (const [i, [name, volts, loaded]] of [
    ['Door', '120', '118'],
    ['Sofa wall', '120', '106'],
  ].entries()) {
    await kitchen.getByLabel(`Outlet ${i + 1}`).fill(name!)
    await kitchen.getByLabel('No load V').nth(i).fill(volts!)
    await kitchen.getByLabel('Loaded V').nth(i).fill(loaded!)
  }
  await kitchen.getByText(/lost between Door and Sofa wall/).waitFor()
  await lookAt(field, 'field-voltage-along')
  await kitchen.getByRole('button', { name: 'Put this into the note' }).click()
  await untilSent()
  await expect
    .poll(async () => (await answersOf('receptacles.room')).map(({ note }) => note).join(), {
      timeout: 15_000,
    })
    .toMatch(/lost between Door and Sofa wall/)
})

test('marks are drawn on a picture by keys, kept beside it, and seen by the office', async () => {
  await openArea('panel-cover-on', /Hall panel/)
  const panel = line(/Location: Hall panel/)
  await unfold(panel)
  await panel.getByRole('button', { name: 'Finding', exact: true }).click()
  await panel.getByRole('button', { name: 'Write down a finding' }).click()
  await panel.getByRole('button', { name: 'Unsafe' }).click()
  await panel.getByLabel('What is wrong').fill('The cover is live.')
  await panel.getByLabel('What is wrong').blur()
  await panel
    .locator('input[type=file]')
    .first()
    .setInputFiles(await picture())
  await panel.getByRole('button', { name: /Describe or draw/ }).press('Enter')
  const dialog = field.getByRole('dialog')
  await dialog.getByRole('button', { name: 'Arrow', exact: true }).press('Enter')
  const tip = dialog.getByRole('button', { name: /^Arrow, tip: 50 % across, 50 % down/ })
  await expect.poll(() => tip.evaluate((each) => each === document.activeElement)).toBe(true)
  await field.keyboard.press('Shift+ArrowRight')
  await field.keyboard.press('ArrowUp')
  await dialog.getByRole('button', { name: /^Arrow, tip: 55 % across, 49 % down/ }).waitFor()
  await dialog.getByRole('button', { name: 'Words', exact: true }).click()
  await dialog.getByLabel('Words on the picture').fill('live')
  await dialog.getByLabel('What it shows').fill('The cover, from the left')
  await lookAt(field, 'field-marks')
  await field.keyboard.press('Escape')
  await dialog.waitFor({ state: 'hidden' })
  await panel.getByRole('button', { name: /The cover, from the left/ }).waitFor()
  await untilSent()
  const photo = await vi.waitFor(() => db.photo.findFirstOrThrow(), { timeout: 15_000 })
  await expect
    .poll(async () => (await db.photo.findUniqueOrThrow({ where: { id: photo.id } })).caption, {
      timeout: 15_000,
    })
    .toBe('The cover, from the left')
  const { annotations } = await db.photo.findUniqueOrThrow({ where: { id: photo.id } })
  expect(annotations).toMatchObject([
    { shape: 'arrow', to: { x: 0.55, y: 0.49 } },
    { shape: 'text', text: 'live' },
  ])
})

test('a refusal is signed by hand, declined work by a typed name; the office reads both', async () => {
  await openArea('panel-cover-on', /Hall panel/)
  const panel = line(/Location: Hall panel/)
  await unfold(panel)
  await panel.getByRole('button', { name: 'The owner refuses to have it made safe' }).click()
  await panel.getByLabel('Name of the owner').fill('Robin Vale')
  const sign = panel.getByRole('button', { name: 'Sign as Robin Vale' })
  expect(await sign.isDisabled()).toBe(true)
  await draw(panel.getByRole('img', { name: /^Empty signature field/ }))
  await lookAt(field, 'field-signature')
  await sign.click()
  await panel.getByText('Declined by Robin Vale').waitFor()

  await field.goto(`${url}/field/visit/${visitId}/finish`)
  await field.getByRole('button', { name: 'Have it signed that work is declined' }).click()
  await field.getByRole('checkbox', { name: /The cover is live/ }).check()
  await field.getByLabel('Name of the customer').fill('Ida Vale')
  await field.getByRole('button', { name: 'Type the name only' }).click()
  await field.getByRole('button', { name: 'Sign as Ida Vale' }).click()
  await field.getByText('Work declined by Ida Vale').waitFor()
  await lookAt(field, 'field-work-declined')
  await untilSent()

  const { id } = await db.inspection.findFirstOrThrow()
  const office = (await openWindow(browser, PHONE, faults)).page
  await logIn(office, url, 'office@example.com')
  await office.goto(`${url}/inspections/${id}`)
  await office.getByText(/Making safe was declined by/).waitFor()
  await office.getByRole('img', { name: 'Signature of Robin Vale' }).waitFor()
  await office.getByText(/Work was declined by/).waitFor()
  await office
    .getByRole('img', { name: /The cover, from the left\. Drawn on it: Arrow pointing at 55 % across/ })
    .waitFor()
  await lookAt(office, 'inspection-signed')
  await office.context().close()
})

test('the sheet is walked by keys alone, and where one stands is always seen', async () => {
  await field.goto(`${url}/field/`)
  await field.getByRole('link', { name: '28 Breakwater Road' }).waitFor()
  await tabTo(/^28 Breakwater Road/)
  await field.keyboard.press('Enter')
  await field.getByRole('button', { name: /^Next unanswered/ }).waitFor()
  await tabTo(/^Next unanswered/)
  await field.keyboard.press('Enter')
  // The line that comes next has the focus already.
  const head = field.locator('article button[aria-expanded="true"]')
  await expect.poll(() => head.evaluate((each) => each === document.activeElement)).toBe(true)
  const key = (await field
    .locator('article', { has: field.locator('button[aria-expanded="true"]') })
    .getAttribute('id'))!
  await tabTo(/Not reached$/)
  await field.keyboard.press('Space')
  await field.locator(`article[id="${key}"][data-result="not-reached"]`).waitFor()
  await untilSent()
  await tabTo(/^Note/)
  await field.keyboard.type('Snow before the door')
  // What is only in the field yet is not at the office.
  await field.getByRole('link', { name: 'Sending: 1 waiting' }).waitFor({ timeout: 2000 })
  await tabTo(/^Next unanswered/)
  await field.keyboard.press('Enter')
  await untilSent()
  const answer = await db.answer.findFirstOrThrow({ where: { note: 'Snow before the door' } })
  expect(answer).toMatchObject({ result: 'not-reached' })
  await tabTo(/^Back to/, 'Shift+Tab')
  await field.keyboard.press('Enter')
  await field.getByRole('heading', { name: '28 Breakwater Road' }).waitFor()
})

/** Presses Tab until something of that name has the focus, which shows on everything that had it on the way. */
async function tabTo(name: RegExp, key: 'Tab' | 'Shift+Tab' = 'Tab', most = 80): Promise<void> {
  const passed: string[] = []
  for (let presses = 0; presses < most; presses++) {
    await field.keyboard.press(key)
    const at = await field.evaluate(() => {
      const here = document.activeElement as HTMLElement & { labels?: NodeListOf<HTMLElement> | null }
      // A file field is drawn as its label.
      const drawn = here.matches('.visually-hidden') ? (here.labels?.[0] ?? here) : here
      const { outlineStyle, outlineWidth, boxShadow } = getComputedStyle(drawn)
      const words = here.getAttribute('aria-label') ?? here.labels?.[0]?.textContent ?? here.textContent
      return {
        words: (words ?? '').trim(),
        isSeen:
          here === document.body ||
          (outlineStyle !== 'none' && outlineWidth !== '0px') ||
          boxShadow !== 'none',
      }
    })
    expect(at.isSeen, at.words).toBe(true)
    if (name.test(at.words)) return
    passed.push(at.words.slice(0, 40))
  }
  expect.fail(`no ${name} among ${passed.join(' | ')}`)
}

test('the screen locks with a PIN, opens without signal, and slows down who guesses', async () => {
  await field.goto(`${url}/field/sync`)
  await field.getByRole('button', { name: 'Set a PIN' }).click()
  await field.getByLabel(/^New PIN/).fill('482913')
  await field.getByLabel('The same PIN again').fill('482913')
  await field.getByRole('button', { name: 'Keep this PIN' }).click()
  await field.getByRole('button', { name: 'Change the PIN' }).waitFor()
  await lookAt(field, 'field-pin')
  await field.getByRole('button', { name: 'Lock', exact: true }).click()
  await field.getByRole('heading', { name: 'Locked' }).waitFor()
  expect(await field.getByText('28 Breakwater Road').count()).toBe(0)
  await lookAt(field, 'field-locked')
  await field.context().setOffline(true)
  const tryPin = async (pin: string) => {
    await field.getByLabel('PIN').fill(pin)
    await field.getByRole('button', { name: 'Unlock' }).click()
    await field.getByRole('button', { name: 'One moment…' }).waitFor({ state: 'hidden' })
  }
  for (const left of [9, 8, 7]) {
    await tryPin('111111')
    await field.getByText(`Wrong. ${left} more`).waitFor()
  }
  await field.getByText(/Wait \d s/).waitFor()
  await field.getByLabel('PIN').fill('482913')
  expect(await field.getByRole('button', { name: 'Unlock' }).isDisabled()).toBe(true)
  await field.getByRole('button', { name: 'Unlock', disabled: false }).click({ timeout: 15_000 })
  await field.getByRole('heading', { name: 'PIN for this screen' }).waitFor()
  await field.context().setOffline(false)
  await field.getByRole('button', { name: 'Take the PIN away' }).click()
  // Whoever finds the screen open cannot take the lock away.
  await field.getByLabel('The present PIN').fill('111111')
  await field.getByRole('button', { name: 'Take it away' }).click()
  await field.getByText('The present PIN is not right.').waitFor()
  await lookAt(field, 'field-pin-away')
  await field.getByLabel('The present PIN').fill('482913')
  await field.getByRole('button', { name: 'Take it away' }).click()
  await field.getByRole('button', { name: 'Set a PIN' }).waitFor()
  // Without a connection the browser itself writes that a request failed.
  expect(faults.filter((each) => !/ERR_INTERNET_DISCONNECTED|401/.test(each))).toEqual([])
})

async function unfold(card: Locator): Promise<void> {
  const head = card.getByRole('button').first()
  if ((await head.getAttribute('aria-expanded')) !== 'true') await head.click()
  await card.getByRole('group', { name: /^Result/ }).waitFor()
}

async function draw(paper: Locator): Promise<void> {
  await paper.scrollIntoViewIfNeeded()
  // 300 is what a canvas has before the pen is there.
  await expect.poll(() => paper.evaluate((each) => (each as HTMLCanvasElement).width)).not.toBe(300)
  const box = (await paper.boundingBox())!
  await field.mouse.move(box.x + 20, box.y + 40)
  await field.mouse.down()
  for (let i = 1; i <= 12; i++) await field.mouse.move(box.x + 20 + i * 14, box.y + 40 + 20 * Math.sin(i))
  await field.mouse.up()
}

async function picture() {
  const jpeg = await field.evaluate(() => {
    const canvas = document.createElement('canvas')
    canvas.width = 800
    canvas.height = 600
    canvas.getContext('2d')!.fillRect(100, 80, 300, 200)
    return canvas.toDataURL('image/jpeg').split(',')[1]!
  })
  return { name: 'panel.jpg', mimeType: 'image/jpeg', buffer: Buffer.from(jpeg, 'base64') }
}
