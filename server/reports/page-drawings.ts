import Handlebars from 'handlebars'
import type { Severity } from '../../trade/verdict.ts'
import type { Annotation } from '../photos/schema.ts'
import type { ReportPhoto } from './content.ts'

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
  const thick = Math.max(width, height) / 160
  const shapes = (annotations as unknown as Annotation[]).map((each) => shape(each, width, height, thick))
  return `<svg viewBox="0 0 ${width} ${height}" aria-hidden="true" focusable="false" fill="none" stroke-linecap="round">${shapes.join('')}</svg>`
}

function shape(drawn: Annotation, width: number, height: number, thick: number): string {
  const at = (point: { x: number; y: number }) => ({ x: point.x * width, y: point.y * height })
  // A light edge keeps the mark readable on any photo.
  const twice = (path: string) =>
    `<path d="${path}" stroke="#fff" stroke-width="${thick * 2}"/><path d="${path}" stroke="#c81e1e" stroke-width="${thick}"/>`
  switch (drawn.shape) {
    case 'arrow': {
      const [from, to] = [at(drawn.from), at(drawn.to)]
      const angle = Math.atan2(to.y - from.y, to.x - from.x)
      const barb = (turn: number) =>
        `${(to.x - 6 * thick * Math.cos(angle + turn)).toFixed(1)} ${(to.y - 6 * thick * Math.sin(angle + turn)).toFixed(1)}`
      return twice(`M${from.x} ${from.y}L${to.x} ${to.y}M${barb(0.45)}L${to.x} ${to.y}L${barb(-0.45)}`)
    }
    case 'circle': {
      const { x, y } = at(drawn.centre)
      const r = drawn.radius * width
      return twice(`M${x - r} ${y}a${r} ${r} 0 1 0 ${2 * r} 0a${r} ${r} 0 1 0 ${-2 * r} 0`)
    }
    case 'text': {
      const { x, y } = at(drawn.at)
      const size = thick * 5
      return `<text x="${x}" y="${y + size}" font-size="${size}" font-weight="600" fill="#9b1c1f" stroke="#fff" stroke-width="${thick}" paint-order="stroke">${escape(drawn.text)}</text>`
    }
  }
}
