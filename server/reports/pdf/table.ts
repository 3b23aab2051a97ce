import { heightOf, set, type Setting } from './blocks.ts'
import { branch, keep, leaf, LEFT, LINE, ornament, printable, type Sheet, SOFT, TINT, WIDTH } from './sheet.ts'

export interface Column<Row> {
  title: string
  /** Of the whole width; all together 1. */
  share: number
  text: (row: Row) => string
}

const PAD = 5
const HEAD_HEIGHT = 20
const CELL: Setting = { size: 9.5 }
/** A table no higher than this, in points, is not broken over two pages. */
const SMALL_TABLE = 260
/** A longer text is cut short: a row must fit a page. */
const HIGHEST_CELL = 300

interface Cell {
  title: string
  x: number
  width: number
}

/** What must stand on one page, in points: the whole table, unless it is long. */
export function heightOfTable<Row>(sheet: Sheet, columns: readonly Column<Row>[], rows: readonly Row[]): number {
  const cells = cellsOf(columns)
  const heights = textsOf(columns, rows).map((row) => heightOfRow(sheet, cells, row))
  return Math.min(
    heights.reduce((sum, height) => sum + height, HEAD_HEIGHT),
    SMALL_TABLE,
  )
}

/**
 * A table whose first column names the row. Its head is drawn again on each page, and read once. Whoever calls it has kept
 * `heightOfTable` free.
 */
export function table<Row>(sheet: Sheet, columns: readonly Column<Row>[], rows: readonly Row[]): void {
  const { doc } = sheet
  const cells = cellsOf(columns)
  const texts = textsOf(columns, rows)
  const heights = texts.map((row) => heightOfRow(sheet, cells, row))
  branch(sheet, 'Table', (inside) => {
    head(inside, cells)
    texts.forEach((row, i) => {
      const { page } = doc
      keep(sheet, heights[i]!)
      if (doc.page !== page) headAgain(sheet, cells)
      const top = doc.y
      branch(inside, 'TR', (line) => rowOf(line, cells, row, top))
      doc.y = top + heights[i]!
      ornament(sheet, () =>
        doc.moveTo(LEFT, doc.y).lineTo(LEFT + WIDTH, doc.y).lineWidth(0.5).strokeColor(LINE).stroke(),
      )
    })
  })
  doc.y += 8
}

function textsOf<Row>(columns: readonly Column<Row>[], rows: readonly Row[]): string[][] {
  return rows.map((row) => columns.map((column) => printable(column.text(row)) || '–'))
}

function cellsOf(columns: readonly { title: string; share: number }[]): Cell[] {
  let x = LEFT
  return columns.map(({ title, share }) => {
    const cell = { title, x: x + PAD, width: share * WIDTH - 2 * PAD }
    x += share * WIDTH
    return cell
  })
}

function heightOfRow(sheet: Sheet, cells: readonly Cell[], texts: readonly string[]): number {
  const heights = texts.map((text, i) => heightOf(sheet, text, { ...styleOf(i), width: cells[i]!.width }))
  return Math.min(Math.max(...heights), HIGHEST_CELL) + 2 * PAD
}

const styleOf = (column: number): Setting => ({ ...CELL, font: column === 0 ? 'strong' : 'plain' })

function band(sheet: Sheet, top: number): void {
  ornament(sheet, () => sheet.doc.rect(LEFT, top, WIDTH, HEAD_HEIGHT).fill(TINT))
}

function title(sheet: Sheet, { title: text, x, width }: Cell, top: number): void {
  set(sheet, { size: 9, font: 'strong', colour: SOFT }).text(text, x, top + 5, { width, height: 12 })
}

function head(inside: Sheet, cells: readonly Cell[]): void {
  const top = inside.doc.y
  band(inside, top)
  branch(inside, 'TR', (line) => {
    for (const cell of cells) leaf(line, 'TH', () => title(line, cell, top), { scope: 'Column' })
  })
  inside.doc.y = top + HEAD_HEIGHT
}

function headAgain(sheet: Sheet, cells: readonly Cell[]): void {
  const top = sheet.doc.y
  band(sheet, top)
  ornament(sheet, () => cells.forEach((cell) => title(sheet, cell, top)))
  sheet.doc.y = top + HEAD_HEIGHT
}

function rowOf(line: Sheet, cells: readonly Cell[], texts: readonly string[], top: number): void {
  texts.forEach((text, i) => {
    const { x, width } = cells[i]!
    const draw = () =>
      set(line, styleOf(i)).text(text, x, top + PAD, { width, height: HIGHEST_CELL, lineGap: 1.5, ellipsis: true })
    leaf(line, i === 0 ? 'TH' : 'TD', draw, i === 0 ? { scope: 'Row' } : {})
  })
}
