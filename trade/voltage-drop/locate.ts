import { ADVISED_TOTAL_PERCENT } from './expected.ts'

/** A loaded reading at one receptacle, with its place along the circuit counted from the panel. */
export interface PointReading {
  name: string
  /** First receptacle after the panel = 1. */
  order: number
  dropPercent: number
}

export type Located =
  /** The drop stays under the advice everywhere. */
  | { kind: 'no-fault' }
  /** The voltage falls abruptly: the fault is at one of the two, or between them. */
  | { kind: 'between'; from: PointReading; to: PointReading; stepPercent: number }
  /** Already all lost at the first point: the first splice, the breaker or the panel. */
  | { kind: 'before-first'; first: PointReading; stepPercent: number }
  /** Falls evenly from point to point: length and size of the wire. */
  | { kind: 'steady'; perPointPercent: number }
  | { kind: 'undetermined'; missing: string[] }

/** A step is a fault when it alone makes up that share of the whole drop. Common practice, no source. */
const STEP_SHARE = 0.5
const FEWEST_POINTS = 2

/**
 * Where along a circuit the voltage is lost. Readings may come in any order; of two at one place the worse counts.
 * From the manual of a branch-circuit analyser: abrupt step, steady fall, or no fall at all.
 */
export function locateFault(readings: readonly PointReading[]): Located {
  const points = alongTheCircuit(readings)
  const [first] = points
  if (!first || points.length < FEWEST_POINTS) {
    return { kind: 'undetermined', missing: ['Readings at two or more receptacles along the circuit'] }
  }
  const worst = Math.max(...points.map((point) => point.dropPercent))
  if (worst <= ADVISED_TOTAL_PERCENT) return { kind: 'no-fault' }

  let step: { from: PointReading | null; to: PointReading; stepPercent: number } = {
    from: null,
    to: first,
    stepPercent: first.dropPercent,
  }
  points.slice(1).forEach((to, index) => {
    const from = points[index]!
    const stepPercent = to.dropPercent - from.dropPercent
    if (stepPercent > step.stepPercent) step = { from, to, stepPercent }
  })
  if (step.stepPercent < worst * STEP_SHARE) return { kind: 'steady', perPointPercent: worst / points.length }
  return step.from
    ? { kind: 'between', from: step.from, to: step.to, stepPercent: step.stepPercent }
    : { kind: 'before-first', first, stepPercent: step.stepPercent }
}

function alongTheCircuit(readings: readonly PointReading[]): PointReading[] {
  const byOrder = new Map<number, PointReading>()
  for (const reading of readings) {
    const present = byOrder.get(reading.order)
    if (!present || isWorse(reading, present)) byOrder.set(reading.order, reading)
  }
  return [...byOrder.values()].toSorted((a, b) => a.order - b.order)
}

/** Equal drops go by name, so that the order of entry never shows. */
function isWorse(a: PointReading, b: PointReading): boolean {
  if (a.dropPercent !== b.dropPercent) return a.dropPercent > b.dropPercent
  return a.name < b.name
}

/** The finding in one line for the technician. */
export function describeLocated(located: Located): string {
  switch (located.kind) {
    case 'no-fault':
      return `No more than ${ADVISED_TOTAL_PERCENT} % lost anywhere along the circuit.`
    case 'between':
      return `${located.stepPercent.toFixed(1)} % lost between ${located.from.name} and ${located.to.name}: look at both and at any splice between.`
    case 'before-first':
      return `${located.stepPercent.toFixed(1)} % already lost at ${located.first.name}: look at the first splice, the breaker and the panel.`
    case 'steady':
      return `Falls evenly, ${located.perPointPercent.toFixed(1)} % from point to point: length and size of the wire.`
    case 'undetermined':
      return `Cannot be located without: ${located.missing.join(', ')}.`
  }
}
