/** A drawn signature is kept as strokes in a box of this size. */
export const SIGNATURE_BOX = { width: 600, height: 200 } as const
/** Longest path that is kept, in characters. */
const MOST = 60_000

interface Point {
  x: number
  y: number
}

/** SVG path data of strokes that were drawn on a surface of that size. A tap is a dot. */
export function signaturePath(
  strokes: readonly (readonly Point[])[],
  surface: { width: number; height: number },
): string {
  const scale = Math.min(SIGNATURE_BOX.width / surface.width, SIGNATURE_BOX.height / surface.height)
  const fit = (value: number, most: number) => Math.min(most, Math.max(0, Math.round(value * scale)))
  const written = (every: number) =>
    strokes
      .filter((points) => points.length > 0)
      .map((points) => {
        const kept = points.filter((_, i) => i % every === 0 || i === points.length - 1)
        const all = kept.length > 1 ? kept : [kept[0]!, kept[0]!]
        const places = all.map(({ x, y }) => `${fit(x, SIGNATURE_BOX.width)} ${fit(y, SIGNATURE_BOX.height)}`)
        return `M${places.join('L')}`
      })
      .join('')
  for (let every = 1; ; every *= 2) {
    const path = written(every)
    if (path.length <= MOST || every > 64) return path
  }
}

/** Where it was signed, at the end of every statement. */
interface Where {
  line1: string
  city: string
}
const at = ({ line1, city }: Where) => `${line1}, ${city}.`

/** Read out and signed when the owner will not have something unsafe made safe. */
export function refusalStatement(finding: { text: string }, where: Where): string {
  return (
    `The electrician explained to me that the following is unsafe and can cause shock, burn or fire: “${finding.text.trim().replace(/\.$/, '')}”. ` +
    'I was offered to have it made safe now and decline. I understand that it should not be used until it is corrected. ' +
    at(where)
  )
}

/** Read out and signed when offered work is not wanted now. */
export function declinedStatement(
  findings: readonly { text: string; correction?: string | null }[],
  where: Where,
): string {
  const list = findings.map(({ text, correction }, i) => {
    const offered = correction?.trim() ? ` Offered: ${correction.trim()}` : ''
    return `${i + 1}. ${text.trim()}${offered}`
  })
  return (
    'The electrician showed and explained to me the following findings and the work that is proposed for them:\n' +
    `${list.join('\n')}\n` +
    'I do not want this work done now. I may ask for it later. I understand what can happen when it is not done. ' +
    at(where)
  )
}
