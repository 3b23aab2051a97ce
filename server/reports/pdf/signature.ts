import { SIGNATURE_BOX } from '../../../trade/inspection/signature.ts'
import type { ReportContent, Signed } from '../content.ts'
import { signedBy } from '../words.ts'
import { heightOf, paragraph, part } from './blocks.ts'
import { branch, INK, keep, leaf, LEFT, LINE, type Sheet, SOFT } from './sheet.ts'

const WIDE = 180
const SCALE = WIDE / SIGNATURE_BOX.width
export const SIGNATURE_HEIGHT = SIGNATURE_BOX.height * SCALE + 8

/** The strokes of a signature over a line; nothing where the name was only typed. */
export function signature(sheet: Sheet, { drawing, name }: Signed, indent = 0): void {
  if (!drawing) return
  keep(sheet, SIGNATURE_HEIGHT)
  const { doc } = sheet
  const [x, y, height] = [LEFT + indent, doc.y, SIGNATURE_BOX.height * SCALE]
  leaf(
    sheet,
    'Figure',
    () => {
      doc.save().translate(x, y).scale(SCALE).lineCap('round').lineJoin('round').lineWidth(4)
      doc.path(drawing).stroke(INK).restore()
      doc.moveTo(x, y + height).lineTo(x + WIDE, y + height).lineWidth(0.5).stroke(LINE)
    },
    { alt: `Signature of ${name}`, bbox: [x, y, x + WIDE, y + height] },
  )
  doc.y = y + SIGNATURE_HEIGHT
}

/** Work that was offered and not wanted now, with the words that were signed. */
export function declined(sheet: Sheet, { workDeclined }: ReportContent): void {
  if (!workDeclined) return
  keep(sheet, 60 + heightOf(sheet, workDeclined.statement, {}) + SIGNATURE_HEIGHT)
  branch(sheet, 'Sect', (section) => {
    part(section, 'Work that was not wanted now')
    for (const line of workDeclined.statement.split('\n')) paragraph(section, line, { after: 3 })
    paragraph(section, `Signed by ${signedBy(workDeclined)}`, { colour: SOFT, after: 4 })
    signature(section, workDeclined)
  })
}
