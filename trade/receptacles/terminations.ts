import { receptacles } from '../checklist/areas/receptacles.ts'
import { type Basis, finding, sound, undetermined } from '../judging.ts'
import type { ReadingRule } from '../rule.ts'
import { SEVERITIES, type Severity, type Verdict } from '../verdict.ts'

/** What was seen at opened receptacles. */
export interface TerminationReadings {
  openedCount?: number
  nicked?: boolean
  pushIn?: 'none' | 'tight' | 'loose'
  loopRight?: boolean
  insulationUnderScrew?: boolean
  tight?: boolean
  unusedScrewsIn?: boolean
  groundConnected?: boolean
}
type Observed = keyof Omit<TerminationReadings, 'openedCount'>

interface Fault {
  field: Observed
  bad: string | boolean
  severity: Severity
  words: string
}

/** Common practice, no source, but for the tightness, NFPA 70 110.14, and the ground, 250.148 (from memory). */
const FAULTS: readonly Fault[] = [
  { field: 'tight', bad: false, severity: 'repair', words: 'terminal loose' },
  { field: 'pushIn', bad: 'loose', severity: 'repair', words: 'push-in terminations loose' },
  { field: 'pushIn', bad: 'tight', severity: 'improve', words: 'push-in terminations: move to the screws' },
  { field: 'nicked', bad: true, severity: 'repair', words: 'conductor cut or nicked' },
  { field: 'insulationUnderScrew', bad: true, severity: 'repair', words: 'insulation under a screw' },
  { field: 'loopRight', bad: false, severity: 'improve', words: 'loop not in the turning direction' },
  { field: 'unusedScrewsIn', bad: false, severity: 'improve', words: 'unused screws not driven in' },
  { field: 'groundConnected', bad: false, severity: 'repair', words: 'grounding conductor not connected' },
]
const OBSERVED = [...new Set(FAULTS.map((fault) => fault.field))]

const form = receptacles.items.find((item) => item.id === 'receptacles.opened')!.readings

/** All that is wrong behind the opened receptacles in one verdict, as grave as its gravest part. */
export function judgeTerminations(readings: TerminationReadings): Verdict {
  const { openedCount } = readings
  const basis: Basis = {
    rule: 'receptacles.terminations',
    inputs: { ...readings },
    references: [{ code: 'NFPA 70', article: '110.14' }, { code: 'common practice' }],
    figures:
      openedCount == null ? [] : [{ label: form.openedCount!.label, value: openedCount, unit: 'count' }],
  }
  const faults = FAULTS.filter((fault) => readings[fault.field] === fault.bad)
  if (faults.length > 0) {
    const severity = SEVERITIES.find((each) => faults.some((fault) => fault.severity === each))!
    return finding(basis, severity, {
      technician: `Opened receptacles: ${faults.map((fault) => fault.words).join(', ')}.`,
      homeowner:
        severity === 'improve'
          ? 'Behind the outlets we opened, the wires hold but could be joined better.'
          : 'Behind an outlet we opened, a wire is not joined as it should be and could run warm.',
    })
  }
  const missing = OBSERVED.filter((field) => readings[field] == null).map((field) => form[field]!.label)
  if (missing.length > 0) return undetermined(basis, missing)
  return sound(basis, {
    technician: 'Terminations of the opened receptacles sound.',
    homeowner: 'Behind the outlets we opened, the wires are joined as they should be.',
  })
}

export const terminations: ReadingRule<TerminationReadings, TerminationReadings> = {
  id: 'receptacles.terminations',
  title: 'Terminations of opened receptacles',
  inputs: (readings) => {
    const { openedCount, nicked, pushIn, loopRight } = readings
    const { insulationUnderScrew, tight, unusedScrewsIn, groundConnected } = readings
    return {
      openedCount,
      nicked,
      pushIn,
      loopRight,
      insulationUnderScrew,
      tight,
      unusedScrewsIn,
      groundConnected,
    }
  },
  judge: judgeTerminations,
}
