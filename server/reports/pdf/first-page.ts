import { SAFETY_COLOURS, SEVERITY_COLOURS } from '../colours.ts'
import type { ReportContent } from '../content.ts'
import { addressWords, countsOf, factsOf, headingOf, inBrief, TITLE } from '../words.ts'
import { heightOf, paragraph, words } from './blocks.ts'
import { drawSafety, drawSeverity } from './shapes.ts'
import { ACCENT, branch, FONTS, gap, INK, keep, leaf, LEFT, LINE, ornament, type Sheet, SOFT, WIDTH } from './sheet.ts'
import { shortened } from '../../shortened.ts'

/** Who writes, about which home, and the one thing that people want to know first. */
export function firstPage(sheet: Sheet, content: ReportContent): void {
  letterhead(sheet, content)
  words(sheet, 'H1', TITLE, { size: 24, font: 'heavy', after: 0 })
  paragraph(sheet, addressWords(content), { size: 13, colour: SOFT, after: 12 })
  answer(sheet, content)
  counts(sheet, content)
  facts(sheet, content)
}

function letterhead(sheet: Sheet, { company }: ReportContent): void {
  const { doc } = sheet
  doc.y = 46
  leaf(sheet, 'P', () =>
    doc.font(FONTS.heavy).fontSize(15).fillColor(ACCENT).text(company.name, LEFT, 46, { width: WIDTH * 0.5 }),
  )
  const under = doc.y
  leaf(sheet, 'P', () =>
    doc
      .font(FONTS.plain)
      .fontSize(9)
      .fillColor(SOFT)
      .text([...company.addressLines, `${company.phone} · ${company.email}`].join('\n'), LEFT + WIDTH * 0.5, 48, {
        width: WIDTH * 0.5,
        align: 'right',
        lineGap: 1,
      }),
  )
  doc.y = Math.max(under, doc.y) + 8
  ornament(sheet, () => {
    doc.rect(LEFT, doc.y, WIDTH, 2).fill(ACCENT)
  })
  gap(sheet, 22)
}

/** The answer in a box of its own, with what to see to first. */
function answer(sheet: Sheet, content: ReportContent): void {
  const { doc } = sheet
  const { safety, headline, limits, first } = content.answer
  const { ink, tint } = SAFETY_COLOURS[safety]
  const x = LEFT + 62
  const width = WIDTH - 62 - 18
  const headlineSetting = { size: 16, font: 'heavy' as const, colour: ink, x, width, after: 4 }
  const text = { x, width, after: 4 }
  const firstLines = content.findings
    .flatMap((group) => group.findings)
    .filter((finding) => first.includes(finding.number))
    .map((finding) => `${finding.number}. ${headingOf(finding)}: ${shortened(inBrief(finding), SHORT)}`)
  const height =
    heightOf(sheet, headline, headlineSetting) +
    (limits ? heightOf(sheet, limits, text) + 4 : 0) +
    (firstLines.length > 0 ? 24 : 0) +
    firstLines.reduce((sum, line) => sum + heightOf(sheet, line, { ...text, width: width - 13 }) + 3, 0) +
    34
  const top = doc.y
  ornament(sheet, () => {
    doc.roundedRect(LEFT, top, WIDTH, height, 6).fill(tint)
    doc.roundedRect(LEFT, top, 5, height, 2.5).fill(ink)
    drawSafety(doc, safety, LEFT + 34, top + 30, 15)
  })
  doc.y = top + 16
  words(sheet, 'P', headline, headlineSetting)
  if (limits) paragraph(sheet, limits, text)
  if (firstLines.length > 0) {
    gap(sheet, 3)
    paragraph(sheet, 'See to this first', { ...text, font: 'strong', after: 2 })
    branch(sheet, 'L', (list) => {
      for (const line of firstLines) {
        branch(list, 'LI', (item) => words(item, 'LBody', line, { ...text, after: 3 }))
      }
    })
  }
  doc.y = top + height + 16
}

const SHORT = 180

/** How many of each severity, by word, number and shape. */
function counts(sheet: Sheet, content: ReportContent): void {
  const { doc } = sheet
  const each = countsOf(content)
  if (each.length === 0) return
  keep(sheet, 60)
  const top = doc.y
  const width = WIDTH / Math.max(each.length, 3)
  branch(sheet, 'L', (list) => {
    each.forEach(({ severity, count, name }, i) => {
      const x = LEFT + i * width
      ornament(sheet, () => drawSeverity(doc, severity, x + 11, top + 13, 10))
      branch(list, 'LI', (item) =>
        leaf(item, 'LBody', () => {
          doc.font(FONTS.heavy).fontSize(17).fillColor(SEVERITY_COLOURS[severity])
          const digits = doc.widthOfString(`${count} `)
          doc.text(`${count} `, x + 28, top + 1, { lineBreak: false })
          // Two sizes on one base line.
          doc.font(FONTS.strong).fontSize(11).text(name, x + 28 + digits, top + 6.7, { lineBreak: false })
        }),
      )
    })
  })
  doc.y = top + 34
  ornament(sheet, () =>
    doc.moveTo(LEFT, doc.y).lineTo(LEFT + WIDTH, doc.y).lineWidth(0.5).strokeColor(LINE).stroke(),
  )
  gap(sheet, 12)
}

const LABEL_WIDTH = 118

function facts(sheet: Sheet, content: ReportContent): void {
  const { doc } = sheet
  for (const [label, value] of factsOf(content)) {
    leaf(sheet, 'P', () => {
      const { y } = doc
      doc.font(FONTS.plain).fontSize(10).fillColor(SOFT).text(`${label} `, LEFT, y, { width: LABEL_WIDTH })
      doc.fillColor(INK).text(value, LEFT + LABEL_WIDTH, y, { width: WIDTH - LABEL_WIDTH, lineGap: 1.5 })
    })
    gap(sheet, 3)
  }
  const { note } = content.inspection
  if (note) {
    gap(sheet, 6)
    paragraph(sheet, note)
  }
}
