import type { Page } from 'playwright-core'
import { CHECKLIST, findItem } from '../../trade/checklist/checklist.ts'
import { expect, test } from 'vitest'
import { PASSWORD } from '../setup/company.ts'
import { logIn } from '../setup/pages.ts'
import { startFieldCompany, TECHNICIAN } from './helpers/field-company.ts'
import { onDevice, untilAppIsKept } from './helpers/field-device.ts'
import { allSent, answerLines, drawPicture, takePicture, unfold } from './helpers/sheet.ts'

// A day in basements: the app opens and works without signal, and a dead battery takes nothing of what was kept.

const company = await startFieldCompany()
const { db, signal, url } = company
const HOME = '28 Breakwater Road'

test('an inspection filled in without signal outlives two dead batteries and reaches the office once', async () => {
  const visit = await company.visitAt(HOME)
  const phone = company.phone()
  let page = await phone.turnOn()
  await logIn(page, url, TECHNICIAN)
  await page.getByRole('link', { name: HOME }).waitFor()
  await untilAppIsKept(page)
  await phone.turnOff()

  // A cold start in the basement: page, scripts, styles and the day come from the device.
  signal.lose()
  page = await phone.turnOn()
  await page.goto(`${url}/field/`)
  await page.getByRole('link', { name: HOME }).click()
  await page.getByRole('button', { name: 'Arrived' }).click()
  await page.getByRole('button', { name: 'Begin the inspection' }).click()
  // The first line is answered by hand: the buttons of the sheet below lead on from the second.
  const first = page.locator('article').first()
  await first.getByRole('button', { name: 'OK', exact: true }).click()
  await first.locator('xpath=self::*[@data-result]').waitFor()
  await addNoteAndPicture(page, 'Meter hums')
  await answerLines(page, 8)
  const keptBefore = await onDevice(page)
  await phone.die()

  page = await phone.turnOn()
  await page.goto(`${url}/field/visit/${visit.id}`)
  await page.getByRole('button', { name: 'Next unanswered' }).waitFor()
  expect(await onDevice(page)).toEqual(keptBefore)
  expect(keptBefore.photos).toHaveLength(1)
  await answerLines(page)
  await page.getByRole('button', { name: 'Finish the inspection' }).click()
  await page.getByRole('heading', { name: 'This inspection is finished' }).waitFor()
  const made = await onDevice(page)
  await phone.die()

  page = await phone.turnOn()
  await page.goto(`${url}/field/visit/${visit.id}/finish`)
  await page.getByRole('heading', { name: 'This inspection is finished' }).waitFor()
  expect(await onDevice(page)).toEqual(made)
  expect(await db.inspection.count()).toBe(0)

  signal.find()
  await page.goto(`${url}/field/`)
  await allSent(page)
  // Every change made on the phone arrived, each once.
  const arrived = await db.operation.findMany()
  expect(arrived.map((each) => each.id).sort()).toEqual(made.waiting.map((each) => each.id).sort())
  expect(arrived.every((each) => each.outcome === 'applied')).toBe(true)
  expect(signal.passed.filter(({ what }) => /^PUT .*\/photos\//.test(what))).toHaveLength(1)

  const office = await officeSession()
  const [inspection] = await db.inspection.findMany({ select: { id: true } })
  const seen = await office<Seen>(`/inspections/${inspection!.id}`)
  expect(seen.state).toBe('completed')
  const answered = made.waiting.filter((each) => each.command === 'answer-item').map((each) => each.line)
  const lineOf = (each: Seen['answers'][number]) => `${each.itemId} ${each.subjectId ?? ''}`
  const atOffice = seen.answers.map(lineOf)
  expect(atOffice).toEqual(expect.arrayContaining([...new Set(answered)]))
  expect(new Set(atOffice).size).toBe(atOffice.length)
  // What the office has besides follows from the technician's own answers: this home has no panel and no disconnect, so
  // there is nothing behind their covers either.
  const added = seen.answers.filter((each) => !answered.includes(lineOf(each)))
  for (const each of added) {
    const cover = findItem(each.itemId)!.behind
    const opened = seen.answers.filter(({ itemId }) => itemId === cover)
    expect([each.result, ...opened.map(({ result }) => result)], each.itemId).toEqual(['absent', 'absent'])
  }
  const coversAbsent = new Set(added.map(({ itemId }) => findItem(itemId)!.behind))
  expect(added.map(({ itemId }) => itemId).sort()).toEqual(
    CHECKLIST.areas
      .flatMap(({ items }) => items)
      .filter((each) => coversAbsent.has(each.behind) && !answered.includes(`${each.id} `))
      .map((each) => each.id)
      .sort(),
  )
  expect(seen.answers.length).toBeGreaterThan(40)
  expect(seen.answers.map((each) => each.note).filter(Boolean)).toEqual(['Meter hums'])
  expect(seen.photos).toHaveLength(1)
  expect((await onDevice(page)).waiting).toEqual([])
})

interface Seen {
  state: string
  answers: { itemId: string; subjectId: string | null; result: string; note: string }[]
  photos: unknown[]
}

async function addNoteAndPicture(page: Page, note: string): Promise<void> {
  await unfold(page)
  await page.getByLabel('Note').first().fill(note)
  await page.getByLabel('Note').first().blur()
  await takePicture(page, await drawPicture(page, { width: 1600, height: 1200, noise: true }))
  await page.getByText('On this device').first().waitFor()
}

/** The office's own eyes: the API, as somebody who logs in there. */
async function officeSession() {
  await company.person('office', 'office@example.com', 'Iris Calloway')
  const answer = await fetch(`${url}/api/v1/log-in`, {
    method: 'POST',
    headers: { 'content-type': 'application/json', origin: url },
    body: JSON.stringify({ email: 'office@example.com', password: PASSWORD }),
  })
  const cookie = answer.headers
    .getSetCookie()
    .map((each) => each.split(';')[0])
    .join('; ')
  return async <Answer>(path: string) =>
    (await (await fetch(`${url}/api/v1${path}`, { headers: { cookie } })).json()) as Answer
}
