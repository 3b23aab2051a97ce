import type { ReportContent } from '../content.ts'
import { dayWords, inARow, itemWords, leftOutByReason, replaceWords } from '../words.ts'
import { list, paragraph, part, words } from './blocks.ts'
import { branch, gap, keep, type Sheet, SOFT } from './sheet.ts'
import { type Column, heightOfTable, table } from './table.ts'

/** Title and first words of a part, in points; a little more than they take. */
const TITLE_HEIGHT = 76

/** A table under its title, which does not stay behind at the foot of a page. */
function tablePart<Row>(
  sheet: Sheet,
  title: string,
  lead: string,
  columns: readonly Column<Row>[],
  rows: readonly Row[],
): void {
  keep(sheet, TITLE_HEIGHT + heightOfTable(sheet, columns, rows))
  part(sheet, title)
  if (lead) paragraph(sheet, lead, { colour: SOFT, after: 8 })
  table(sheet, columns, rows)
}

/** Alarms and protective devices with their dates. */
export function devices(sheet: Sheet, { devices: rows }: ReportContent): void {
  if (rows.length === 0) return
  tablePart(
    sheet,
    'Alarms and protective devices',
    'Devices age even when they never have to act. These are the dates we keep for you.',
    [
      { title: 'Device', share: 0.24, text: (row) => row.name },
      { title: 'Where', share: 0.15, text: (row) => row.place },
      { title: 'Made', share: 0.19, text: (row) => (row.manufacturedOn ? dayWords(row.manufacturedOn) : '') },
      { title: 'Replace by', share: 0.21, text: replaceWords },
      { title: 'Look again', share: 0.21, text: (row) => (row.nextCheckOn ? dayWords(row.nextCheckOn) : '') },
    ],
    rows,
  )
}

/** Everything that was looked at and found good. */
export function good(sheet: Sheet, content: ReportContent): void {
  if (content.good.length === 0) return
  part(sheet, 'Looked at and found good')
  for (const { area, items } of content.good) {
    branch(sheet, 'Sect', (section) => {
      keep(sheet, 56)
      words(section, 'H3', area, { size: 11.5, font: 'strong', after: 3 })
      list(section, items.map(itemWords), { size: 10, columns: 2 })
      gap(sheet, 6)
    })
  }
}

/** Earlier findings that are put right or gone. */
export function settled(sheet: Sheet, { settled: rows }: ReportContent): void {
  if (rows.length === 0) return
  tablePart(
    sheet,
    'Settled since the last inspection',
    '',
    [
      { title: 'Found', share: 0.52, text: (row) => row.text },
      { title: 'On', share: 0.18, text: (row) => (row.foundOn ? dayWords(row.foundOn) : '') },
      { title: 'Now', share: 0.3, text: (row) => [row.outcome, row.note].filter(Boolean).join(': ') },
    ],
    rows,
  )
}

export function notInspected(sheet: Sheet, content: ReportContent): void {
  if (content.notInspected.length === 0) return
  tablePart(
    sheet,
    'What could not be inspected',
    'This report says nothing about the condition of these.',
    [
      { title: 'What', share: 0.36, text: (row) => row.title },
      { title: 'Where', share: 0.28, text: (row) => inARow(row.places) || row.area },
      { title: 'Why', share: 0.36, text: (row) => [row.reason, row.note].filter(Boolean).join(': ') },
    ],
    content.notInspected,
  )
}

export function leftOut(sheet: Sheet, content: ReportContent): void {
  if (content.leftOut.length === 0) return
  part(sheet, 'Not part of this home')
  const lines = leftOutByReason(content).map(
    ({ reason, titles }) => `${reason} Left out: ${inARow(titles)}.`,
  )
  list(sheet, lines, { size: 10 })
}

export function cautions(sheet: Sheet, content: ReportContent): void {
  part(sheet, 'Please keep in mind')
  list(sheet, content.cautions, { size: 10 })
}
