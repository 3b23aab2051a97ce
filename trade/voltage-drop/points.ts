import { dropOf } from './expected.ts'
import { describeLocated, type Located, locateFault, type PointReading } from './locate.ts'

/** One outlet along a circuit, in the order from the panel. */
export interface Point {
  name: string
  /** Without load, and with the tester's load; null while it is not measured. */
  volts: number | null
  loadedVolts: number | null
}

/** Words that may not break the list that the points are kept in. */
const plain = (name: string) => name.replace(/[\n|]/g, ' ').trim()
const numberOf = (text: string | undefined): number | null => {
  const value = Number(text)
  return text?.trim() && Number.isFinite(value) ? value : null
}

/** One outlet a line, `Sofa wall | 121.5 | 113`: it can be read where nothing knows this layout. */
export function writePoints(points: readonly Point[]): string {
  return points
    .map(({ name, volts, loadedVolts }) => `${plain(name)} | ${volts ?? ''} | ${loadedVolts ?? ''}`.trim())
    .join('\n')
}

export function readPoints(text: string): Point[] {
  return text
    .split('\n')
    .filter((line) => line.trim() !== '')
    .map((line) => {
      const [name = '', volts, loadedVolts] = line.split('|')
      return { name: name.trim(), volts: numberOf(volts), loadedVolts: numberOf(loadedVolts) }
    })
}

/** Points whose drop can be computed; a loaded voltage above the other is a slip, and is left out. */
export function measuredPoints(points: readonly Point[]): PointReading[] {
  return points.flatMap(({ name, volts, loadedVolts }, i) => {
    if (!volts || volts < 0 || loadedVolts === null || loadedVolts < 0 || loadedVolts > volts) return []
    const { percent } = dropOf(volts - loadedVolts, volts)
    return [{ name: name || `point ${i + 1}`, order: i + 1, dropPercent: percent }]
  })
}

/** Where the voltage is lost, in one sentence; null before two points were measured. */
export function locatedAlong(points: readonly Point[]): { located: Located; words: string } | null {
  const measured = measuredPoints(points)
  if (measured.length < 2) return null
  const located = locateFault(measured)
  return { located, words: describeLocated(located) }
}
