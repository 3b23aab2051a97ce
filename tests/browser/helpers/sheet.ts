import type { Page } from 'playwright-core'

// The field sheet as a technician's thumb uses it.

/** Answers the line that is unfolded: sound, or not there. */
export async function answerLine(field: Page): Promise<void> {
  // For a moment the line before it is unfolded still, and answered: an answer given there would undo it.
  const key = await field
    .locator('article:not([data-result])', { has: field.locator('button[aria-expanded="true"]') })
    .first()
    .getAttribute('id')
    .catch((error: unknown) => tellOfPage(field, error))
  const line = field.locator(`article[id="${key}"]`)
  // Counting does not wait: the line of another area is drawn a moment later.
  await line.getByRole('button', { name: 'OK', exact: true }).waitFor()
  const isAbsent = (await line.getByText(/is on record for this home yet/).count()) > 0
  // What must have been done before a cover comes off is confirmed, not skipped.
  for (const asked of await line
    .getByRole('group')
    .filter({ hasText: /tester proven|voltage test/i, has: field.getByRole('button', { name: 'Yes' }) })
    .all()) {
    await asked.getByRole('button', { name: 'Yes' }).click()
  }
  await line.getByRole('button', { name: isAbsent ? 'None here' : 'OK', exact: true }).click()
  await field.locator(`article[id="${key}"][data-result]`).waitFor()
}

/**
 * From a page of the sheet to the next unanswered line, again and again.
 * @param most stops after so many; without it, at the page that says that everything is answered
 * @returns how many lines were answered
 */
export async function answerLines(field: Page, most = 250): Promise<number> {
  for (let lines = 0; lines < most; lines++) {
    const next = field.getByRole('button', { name: /^(Next unanswered|All answered)/ })
    const words = await next.innerText()
    await next.click()
    if (words.startsWith('All answered')) {
      await field
        .getByRole('heading', { name: 'Everything is answered' })
        .waitFor({ timeout: 15_000 })
        .catch((error: unknown) => tellOfPage(field, error))
      return lines
    }
    await answerLine(field)
  }
  return most
}

/** What stood there when nothing went on: it is seen once in many runs, and the trace alone does not tell. */
async function tellOfPage(field: Page, cause: unknown): Promise<never> {
  const words = await field.evaluate(() =>
    [
      document.body.innerText.slice(0, 1500),
      ...[...document.querySelectorAll('article')].map(
        (line) =>
          `${line.id} ${line.dataset['result']} ${line.querySelector('[aria-expanded="true"]') !== null}`,
      ),
    ].join('\n'),
  )
  throw new Error(`it does not go on at ${field.url()}:\n${words}`, { cause })
}

/** Unfolds the first line of the area, unless it is. */
export async function unfold(field: Page): Promise<void> {
  const head = field.locator('article').first().locator('h2 button')
  if ((await head.getAttribute('aria-expanded')) === 'false') await head.click()
}

/** A JPEG drawn in the page. With `noise` it is as hard to compress as a photograph. */
export async function drawPicture(
  field: Page,
  { width = 640, height = 480, noise = false } = {},
): Promise<Buffer> {
  const base64 = await field.evaluate(
    ([wide, high, grainy]) => {
      const canvas = document.createElement('canvas')
      canvas.width = wide
      canvas.height = high
      const drawing = canvas.getContext('2d')!
      if (grainy) {
        const pixels = drawing.createImageData(wide, high)
        for (let i = 0; i < pixels.data.length; i++) pixels.data[i] = i % 4 === 3 ? 255 : Math.random() * 256
        drawing.putImageData(pixels, 0, 0)
      }
      drawing.fillRect(40, 40, 200, 200)
      return canvas.toDataURL('image/jpeg').split(',')[1]!
    },
    [width, height, noise] as const,
  )
  return Buffer.from(base64, 'base64')
}

/** Takes a picture at the first place on the page that asks for one. */
export async function takePicture(field: Page, buffer: Buffer, name = 'label.jpg'): Promise<void> {
  await field.locator('input[type=file]').first().setInputFiles({ name, mimeType: 'image/jpeg', buffer })
}

export async function allSent(field: Page, timeout = 30_000): Promise<void> {
  await field.getByRole('link', { name: /Sending: All sent/ }).waitFor({ timeout })
}
