import { branch, FONTS, INK, keep, leaf, LEFT, LINE, ornament, printable, type Sheet, SOFT, WIDTH } from './sheet.ts'

export interface Setting {
  size?: number
  font?: keyof typeof FONTS
  colour?: string
  x?: number
  width?: number
  after?: number
}

export function set({ doc }: Sheet, { size = 10.5, font = 'plain', colour = INK }: Setting) {
  return doc.font(FONTS[font]).fontSize(size).fillColor(colour)
}

export function heightOf(sheet: Sheet, text: string, setting: Setting): number {
  return set(sheet, setting).heightOfString(printable(text), { width: setting.width ?? WIDTH, lineGap: 1.5 })
}

/** Text under a tag of its own; longer than the page, it goes on over the next. */
export function words(sheet: Sheet, tag: string, text: string, setting: Setting = {}): void {
  const { x = LEFT, width = WIDTH, after = 6 } = setting
  leaf(sheet, tag, () => set(sheet, setting).text(printable(text), x, sheet.doc.y, { width, lineGap: 1.5 }))
  sheet.doc.y += after
}

export const paragraph = (sheet: Sheet, text: string, setting: Setting = {}) => words(sheet, 'P', text, setting)

/** `What we propose: Replace the breaker.` with the first words strong. */
export function labelled(sheet: Sheet, label: string, text: string, setting: Setting = {}): void {
  const { x = LEFT, width = WIDTH, after = 5 } = setting
  leaf(sheet, 'P', () => {
    set(sheet, { ...setting, font: 'strong' }).text(`${label}  `, x, sheet.doc.y, { width, lineGap: 1.5, continued: true })
    set(sheet, setting).text(printable(text), { width, lineGap: 1.5 })
  })
  sheet.doc.y += after
}

/** A part of the report, with a bookmark; never alone at the foot of a page. */
export function part(sheet: Sheet, title: string): void {
  keep(sheet, 110)
  sheet.doc.y += 14
  words(sheet, 'H2', title, { size: 15, font: 'strong', colour: '#0d4a5a', after: 3 })
  ornament(sheet, () => {
    const { doc } = sheet
    doc.moveTo(LEFT, doc.y).lineTo(LEFT + WIDTH, doc.y).lineWidth(0.75).strokeColor(LINE).stroke()
  })
  sheet.doc.outline.addItem(title)
  sheet.doc.y += 9
}

const BULLET = 13
const BETWEEN = 16

/** Bulleted lines, in one column or, where they are short, side by side in two. */
export function list(
  sheet: Sheet,
  items: readonly string[],
  { columns = 1, ...setting }: Setting & { columns?: 1 | 2 } = {},
): void {
  const { doc } = sheet
  const { x = LEFT, width = WIDTH } = setting
  const each = (width - (columns - 1) * BETWEEN) / columns
  const text = { ...setting, width: each - BULLET }
  branch(sheet, 'L', (inside) => {
    for (let from = 0; from < items.length; from += columns) {
      const row = items.slice(from, from + columns)
      const height = Math.max(...row.map((item) => heightOf(sheet, item, text)))
      keep(sheet, Math.min(height, columns > 1 ? 300 : 60))
      const top = doc.y
      row.forEach((item, i) => {
        const left = x + i * (each + BETWEEN)
        branch(inside, 'LI', (line) => {
          leaf(line, 'Lbl', () => set(sheet, { ...setting, colour: SOFT }).text('•', left + 2, top, { lineGap: 1.5 }))
          doc.y = top
          words(line, 'LBody', item, { ...text, x: left + BULLET, after: 0 })
        })
      })
      // A line longer than the page has gone on over the next.
      doc.y = Math.max(doc.y, row.length > 1 ? top + height : 0) + 3
    }
  })
}
