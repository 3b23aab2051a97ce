import { type Basis, finding, notApplicable, sound, undetermined } from '../judging.ts'
import { count, type Fields, number, yesNo } from '../fields.ts'
import type { ReadingRule } from '../rule.ts'
import type { Verdict } from '../verdict.ts'

/** One steady level of carbon monoxide and the minutes within which an alarm stays silent and must have sounded. */
export interface CoPoint {
  ppm: number
  silentMinutes: number
  soundedMinutes: number | null
}

const MINUTES_PER_DAY = 24 * 60

/** UL 2034 sensitivity table, alarms for homes; lowest level first. At 30 ppm it stays silent for thirty days. */
export const CO_POINTS: readonly CoPoint[] = [
  { ppm: 30, silentMinutes: 30 * MINUTES_PER_DAY, soundedMinutes: null },
  { ppm: 70, silentMinutes: 60, soundedMinutes: 240 },
  { ppm: 150, silentMinutes: 10, soundedMinutes: 50 },
  { ppm: 400, silentMinutes: 4, soundedMinutes: 15 },
]

/**
 * What is expected at any steady level: silent as long as at the next level above, sounded as soon as at the next below.
 * Between the rows this follows from more gas never sounding later; it is not in the table itself.
 */
export function coExpectation(ppm: number): { silentMinutes: number; soundedMinutes: number } {
  const above = CO_POINTS.find((point) => point.ppm >= ppm)
  const below = CO_POINTS.findLast((point) => point.ppm <= ppm)
  return { silentMinutes: above?.silentMinutes ?? 0, soundedMinutes: below?.soundedMinutes ?? Infinity }
}

export const CO_TEST_READINGS = {
  ppm: count('Carbon monoxide, ppm', 0, 5000),
  minutes: number('Minutes at that level', 'count', 0, 50_000),
  sounded: yesNo('Has sounded'),
} satisfies Fields

export interface CoTest {
  ppm?: number
  minutes?: number
  sounded?: boolean
}

/** A gas test or an incident: did the alarm sound when it had to, and stay silent while it had to? */
export function judgeCoPoint(test: CoTest): Verdict {
  const { ppm, minutes, sounded } = test
  const basis: Basis = {
    rule: 'alarms.co-points',
    inputs: { ...test },
    references: [{ code: 'UL 2034', article: 'sensitivity table' }],
    figures: [],
    whenBuilt: 'yes',
    today: 'yes',
  }
  const missing = (['ppm', 'minutes', 'sounded'] as const).filter((name) => test[name] === undefined)
  if (ppm === undefined || minutes === undefined || sounded === undefined) {
    return undetermined(
      basis,
      missing.map((name) => CO_TEST_READINGS[name].label),
    )
  }
  if (ppm <= 0) return notApplicable(basis, 'no carbon monoxide')
  const { silentMinutes, soundedMinutes } = coExpectation(ppm)
  basis.figures!.push({ label: 'Silent until, minutes', value: silentMinutes, unit: 'count' })
  if (Number.isFinite(soundedMinutes)) {
    basis.figures!.push({ label: 'Sounded by, minutes', value: soundedMinutes, unit: 'count' })
  }
  if (!sounded && minutes > soundedMinutes) {
    return finding(basis, 'unsafe', {
      technician: `Silent after ${minutes} min at ${ppm} ppm; it had to sound by ${soundedMinutes} min.`,
      homeowner: 'This carbon monoxide alarm did not warn when it should have. Please do not rely on it.',
    })
  }
  if (sounded && minutes < silentMinutes) {
    return finding(basis, 'repair', {
      technician: `Sounded after ${minutes} min at ${ppm} ppm; silent wanted until ${silentMinutes} min.`,
      homeowner: 'This carbon monoxide alarm sounds too early, so people may stop believing it.',
    })
  }
  return sound(basis, {
    technician: `${sounded ? 'Sounded' : 'Silent'} at ${minutes} min and ${ppm} ppm, as it should.`,
    homeowner: 'This carbon monoxide alarm behaves as it should.',
  })
}

export const coPoints: ReadingRule<CoTest, CoTest> = {
  id: 'alarms.co-points',
  title: 'CO alarm against its alarm points',
  inputs: ({ ppm, minutes, sounded }) => ({ ppm, minutes, sounded }),
  judge: judgeCoPoint,
}
