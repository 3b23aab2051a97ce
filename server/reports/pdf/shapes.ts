import type { Severity } from '../../../trade/verdict.ts'
import { type Safety, SAFETY_COLOURS, SEVERITY_COLOURS, SIGN_OF_SAFETY } from '../colours.ts'

type Doc = PDFKit.PDFDocument

function polygon(doc: Doc, x: number, y: number, radius: number, corners: number, turn: number): Doc {
  const points = Array.from({ length: corners }, (_, i) => {
    const angle = turn + (i * 2 * Math.PI) / corners
    return [x + radius * Math.cos(angle), y + radius * Math.sin(angle)] as [number, number]
  })
  return doc.polygon(...points)
}

/** Each severity has a shape of its own, so that it is told apart without colour. Centred on x, y. */
export function drawSeverity(doc: Doc, severity: Severity, x: number, y: number, radius: number): void {
  const colour = SEVERITY_COLOURS[severity]
  switch (severity) {
    case 'unsafe':
      polygon(doc, x, y, radius, 8, Math.PI / 8).fill(colour)
      doc.rect(x - radius * 0.11, y - radius * 0.55, radius * 0.22, radius * 0.65).fill('#ffffff')
      doc.circle(x, y + radius * 0.42, radius * 0.14).fill('#ffffff')
      return
    case 'repair':
      polygon(doc, x, y + radius * 0.18, radius * 1.08, 3, -Math.PI / 2).fill(colour)
      return
    case 'investigate':
      polygon(doc, x, y, radius, 4, 0).fill(colour)
      return
    case 'improve':
      doc.rect(x - radius * 0.8, y - radius * 0.8, radius * 1.6, radius * 1.6).fill(colour)
      return
    case 'watch':
      doc.circle(x, y, radius * 0.82).lineWidth(radius * 0.28).stroke(colour)
      doc
        .moveTo(x, y - radius * 0.45)
        .lineTo(x, y)
        .lineTo(x + radius * 0.32, y + radius * 0.2)
        .lineWidth(radius * 0.2)
        .stroke(colour)
  }
}

/** The sign beside the answer: a stop for what is unsafe, a tick for what is sound. */
export function drawSafety(doc: Doc, safety: Safety, x: number, y: number, radius: number): void {
  const severity = SIGN_OF_SAFETY[safety]
  if (severity) return drawSeverity(doc, severity, x, y, radius)
  doc.circle(x, y, radius).fill(SAFETY_COLOURS.sound.ink)
  doc
    .moveTo(x - radius * 0.42, y + radius * 0.02)
    .lineTo(x - radius * 0.1, y + radius * 0.34)
    .lineTo(x + radius * 0.45, y - radius * 0.32)
    .lineWidth(radius * 0.2)
    .stroke('#ffffff')
}
