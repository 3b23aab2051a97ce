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

/** Bulleted lines. */
export function list(sheet: Sheet, items: readonly string[], setting: Setting = {}): void {
  const { x = LEFT, width = WIDTH } = setting
  const inner = { ...setting, x: x + 13, width: width - 13 }
  branch(sheet, 'L', (whole) => {
    for (const item of items) {
      keep(sheet, Math.min(heightOf(sheet, item, inner), 60))
      branch(whole, 'LI', (line) => {
        const { y } = sheet.doc
        leaf(line, 'Lbl', () => set(sheet, { ...setting, colour: SOFT }).text('•', x + 2, y, { lineGap: 1.5 }))
        sheet.doc.y = y
        words(line, 'LBody', item, { after: 3, ...inner })
      })
    }
  })
}
