import { SEVERITY_COLOURS } from '../colours.ts'
import type { ReportContent, ReportFinding } from '../content.ts'
import { headingOf, remarksOf, SEVERITY_NAMES } from '../words.ts'
import { heightOf, labelled, paragraph, part, words } from './blocks.ts'
import { heightOfPhotos, type Pictures, photos } from './photos.ts'
import { drawSeverity } from './shapes.ts'
import { signature, SIGNATURE_HEIGHT } from './signature.ts'
import { branch, gap, keep, LEFT, LINE, ornament, type Sheet, SOFT, WIDTH } from './sheet.ts'

const INDENT = 30
const INSET = { x: LEFT + INDENT, width: WIDTH - INDENT }

/** What was found, gravest first, each with its photos, why it matters and what is proposed. */
export function findings(sheet: Sheet, content: ReportContent, pictures: Pictures): void {
  if (content.findings.length === 0) return
  const first = content.findings[0]!.findings[0]!
  keep(sheet, 34 + HEAD + heightOfFinding(sheet, first))
  part(sheet, 'What we found')
  for (const group of content.findings) {
    branch(sheet, 'Sect', (section) => {
      keep(sheet, HEAD + heightOfFinding(sheet, group.findings[0]!))
      words(section, 'H3', group.title, {
        size: 12.5,
        font: 'strong',
        colour: SEVERITY_COLOURS[group.severity],
        after: 0,
      })
      paragraph(section, group.meaning, { colour: SOFT, after: 8 })
      for (const finding of group.findings) branch(section, 'Sect', (one) => write(one, finding, pictures))
    })
  }
}

/** Name and meaning of a severity, in points. */
const HEAD = 50
/** What may be kept together: more would leave half a page empty. */
const TOGETHER = 470

/** What must stand on one page, in points: the whole finding, unless it is very long. */
function heightOfFinding(sheet: Sheet, finding: ReportFinding): number {
  const text = finding.text ? heightOf(sheet, finding.text, INSET) + 7 : 0
  const remarks = remarksOf(finding).map(([label, words]) => heightOf(sheet, `${label}  ${words}`, INSET) + 4)
  const signed = finding.refusal?.drawing ? SIGNATURE_HEIGHT : 0
  const whole = 40 + signed + text + heightOfPhotos(finding, INDENT) + remarks.reduce((a, b) => a + b, 0)
  return Math.min(whole, TOGETHER)
}

function write(sheet: Sheet, finding: ReportFinding, pictures: Pictures): void {
  const { doc } = sheet
  keep(sheet, heightOfFinding(sheet, finding))
  const top = doc.y
  ornament(sheet, () => drawSeverity(doc, finding.severity, LEFT + 10, top + 9, 9))
  doc.y = top
  words(sheet, 'H4', `${finding.number}. ${headingOf(finding)}`, { ...INSET, size: 12, font: 'strong', after: 0 })
  const kind = [SEVERITY_NAMES[finding.severity], finding.area].filter(Boolean).join(' · ')
  paragraph(sheet, kind, { ...INSET, size: 9.5, colour: SEVERITY_COLOURS[finding.severity], after: 4 })
  if (finding.text) paragraph(sheet, finding.text, { ...INSET, after: 7 })
  photos(sheet, finding, pictures, INDENT)
  for (const [label, text] of remarksOf(finding)) {
    const isFine = label === 'Rule'
    const setting = { ...INSET, size: isFine ? 9 : 10.5, colour: isFine ? SOFT : undefined, after: 4 }
    keep(sheet, Math.min(heightOf(sheet, `${label}  ${text}`, setting), 80))
    labelled(sheet, label, text, setting)
  }
  if (finding.refusal) signature(sheet, finding.refusal, INDENT)
  gap(sheet, 6)
  ornament(sheet, () =>
    doc.moveTo(LEFT + INDENT, doc.y).lineTo(LEFT + WIDTH, doc.y).lineWidth(0.5).strokeColor(LINE).stroke(),
  )
  gap(sheet, 12)
}
