import Handlebars from 'handlebars'
import type { Severity } from '../../trade/verdict.ts'
import {
  markPath,
  markText,
  markWords,
  type PhotoMark,
  type Size,
  thicknessOn,
} from '../../trade/inspection/photo-marks.ts'
import { SIGNATURE_BOX } from '../../trade/inspection/signature.ts'
import type { ReportPhoto, Signed } from './content.ts'

const octagon = '7.6,2 16.4,2 22,7.6 22,16.4 16.4,22 7.6,22 2,16.4 2,7.6'
const SHAPES: Readonly<Record<Severity, string>> = {
  unsafe: `<polygon points="${octagon}" fill="currentColor"/><rect x="10.9" y="6.5" width="2.2" height="7" fill="#fff"/><circle cx="12" cy="16.8" r="1.4" fill="#fff"/>`,
  repair: '<polygon points="12,2.5 22,20.5 2,20.5" fill="currentColor"/>',
  investigate: '<polygon points="12,1.5 22.5,12 12,22.5 1.5,12" fill="currentColor"/>',
  improve: '<rect x="3.5" y="3.5" width="17" height="17" fill="currentColor"/>',
  watch:
    '<g fill="none" stroke="currentColor"><circle cx="12" cy="12" r="9" stroke-width="2.8"/><path d="M12 7v5l3.4 2.2" stroke-width="2.2"/></g>',
}
const TICK =
  '<circle cx="12" cy="12" r="11" fill="currentColor"/><path d="M7.2 12.3l3.6 3.5 6-7.2" fill="none" stroke="#fff" stroke-width="2.2"/>'

/** A sign of its own shape for each severity; the tick for none. The word stands beside it. */
export function signSvg(severity: Severity | null): string {
  return `<svg class="sign" viewBox="0 0 24 24" aria-hidden="true" focusable="false">${severity ? SHAPES[severity] : TICK}</svg>`
}

const escape = (text: string) => Handlebars.escapeExpression(text)

/** What was drawn on a photo, laid over it at any size. */
export function drawnSvg({ annotations, width, height }: ReportPhoto): string {
  if (annotations.length === 0) return ''
  const size = { width, height }
  const shapes = (annotations as unknown as PhotoMark[]).map((each) => drawn(each, size))
  return `<svg viewBox="0 0 ${width} ${height}" aria-hidden="true" focusable="false" fill="none" stroke-linecap="round" stroke-linejoin="round">${shapes.join('')}</svg>`
}

/** A light edge keeps the mark readable on any photo. */
function drawn(mark: PhotoMark, size: Size): string {
  const thick = thicknessOn(size)
  if (mark.shape === 'text') {
    const { x, y, height } = markText(mark, size)
    return `<text x="${x}" y="${y}" font-size="${height}" font-weight="600" fill="#9b1c1f" stroke="#fff" stroke-width="${thick}" paint-order="stroke">${escape(mark.text)}</text>`
  }
  const path = markPath(mark, size)
  return `<path d="${path}" stroke="#fff" stroke-width="${thick * 2}"/><path d="${path}" stroke="#c81e1e" stroke-width="${thick}"/>`
}

/** What was drawn on the photo in words, for whoever does not see it. */
export function drawnWords({ annotations }: ReportPhoto): string {
  const words = (annotations as unknown as PhotoMark[]).map(markWords)
  return words.length > 0 ? ` Drawn on it: ${words.join('; ')}.` : ''
}

/** The strokes of a signature; empty where the name was only typed. */
export function signatureSvg({ drawing, name }: Signed): string {
  if (!drawing) return ''
  const { width, height } = SIGNATURE_BOX
  return `<svg class="signature" viewBox="0 0 ${width} ${height}" role="img" aria-label="${escape(`Signature of ${name}`)}" fill="none" stroke="currentColor" stroke-width="4" stroke-linecap="round" stroke-linejoin="round"><path d="${escape(drawing)}"/></svg>`
}
