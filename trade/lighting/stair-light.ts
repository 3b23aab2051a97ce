import type { RuleContext } from '../editions.ts'
import { type Fields, number, type ValuesOf, yesNo } from '../fields.ts'
import { onClocks, shortfall, sound, tidy, undetermined } from '../judging.ts'
import { clocksOf, type Requirement } from '../requirement.ts'
import type { ReadingRule } from '../rule.ts'
import type { Verdict } from '../verdict.ts'

export const STAIR_READINGS = {
  lightTop: yesNo('Light at the top'),
  lightBottom: yesNo('Light at the bottom'),
  controlTop: yesNo('Switch at the top'),
  controlBottom: yesNo('Switch at the bottom'),
  footcandles: number('Light at the centre of treads and landings', 'fc', 0, 2000),
} satisfies Fields
export type StairReadings = ValuesOf<typeof STAIR_READINGS>

/** Least at the centre of each tread and landing. IRC R303.6 (2003, 2006), R303.7 later. */
const STAIR_FOOTCANDLES = 1
/** Chicago asks for this at each nosing (13-172-080); entered there as `lighting.stair-light/bright`, effect `add`. */
const BRIGHT_FOOTCANDLES = 10

/** IRC by the edition of NFPA 70 that goes with it. */
const STAIR_LIGHT: Requirement = {
  code: 'IRC',
  keys: ['lighting.stair-light'],
  before: 'unknown',
  rows: [
    { since: '1999', required: true, article: 'R303.4', source: 'from memory' },
    { since: '2002', required: true, article: 'R303.6', source: 'IRC-2003 and IRC-2006 R303.6' },
    { since: '2011', required: true, article: 'R303.7', source: 'IRC R303.7; the year from memory' },
    { since: '2023', required: true, article: 'R325', source: 'number from memory' },
  ],
}
const BRIGHT_STAIR_LIGHT: Requirement = {
  code: 'IRC',
  keys: ['lighting.stair-light/bright'],
  before: 'no',
  rows: [{ since: '1999', required: false, article: 'R303', source: 'local only' }],
}
/** A switch at each floor level of a stairway with six risers or more. */
const STAIR_CONTROL: Requirement = {
  keys: ['lighting.stair-control'],
  before: 'unknown',
  rows: [
    { since: '1987', required: true, article: '210-70(a)', source: 'from memory' },
    { since: '1999', required: true, article: '210.70(A)(2)', source: 'from memory' },
  ],
}

/** Stairs need light and a switch at both ends: falls on dark stairs are the risk, not the wiring. */
export function judgeStairLight(readings: StairReadings, context: RuleContext): Verdict {
  const { lightTop, lightBottom, controlTop, controlBottom, footcandles } = readings
  const isBright = clocksOf(BRIGHT_STAIR_LIGHT, context).today === 'yes'
  const least = isBright ? BRIGHT_FOOTCANDLES : STAIR_FOOTCANDLES
  const basisFor = (requirement: Requirement) =>
    onClocks(
      {
        rule: 'lighting.stairs',
        inputs: { ...readings },
        figures: [{ label: 'Least light', value: least, unit: 'fc' }],
      },
      clocksOf(requirement, context),
    )
  const basis = basisFor(isBright ? BRIGHT_STAIR_LIGHT : STAIR_LIGHT)
  const isDark = footcandles !== undefined && footcandles < least
  if (isDark || lightTop === false || lightBottom === false) {
    const what = isDark
      ? `${tidy(footcandles)} fc, ${least} fc wanted`
      : `No light at the ${endOf(lightTop, lightBottom)}`
    return shortfall(basis, context, {
      technician: what,
      homeowner: 'These stairs are too dark to be walked safely.',
    })
  }
  if (controlTop === false || controlBottom === false) {
    return shortfall(basisFor(STAIR_CONTROL), context, {
      technician: `No switch at the ${endOf(controlTop, controlBottom)}, six risers or more`,
      homeowner: 'These stairs cannot be lit from both ends, so somebody climbs in the dark.',
    })
  }
  const names = ['lightTop', 'lightBottom', 'controlTop', 'controlBottom'] as const
  const missing = names.filter((name) => readings[name] === undefined)
  if (missing.length) {
    return undetermined(
      basis,
      missing.map((name) => STAIR_READINGS[name].label),
    )
  }
  return sound(basis, {
    technician: 'Light and switch at both ends.',
    homeowner: 'These stairs can be lit from both ends.',
  })
}

function endOf(top: boolean | undefined, bottom: boolean | undefined): string {
  return top === false && bottom === false ? 'top and bottom' : top === false ? 'top' : 'bottom'
}

export const stairLight: ReadingRule<StairReadings, StairReadings> = {
  id: 'lighting.stairs',
  title: 'Light and control on stairs',
  inputs: ({ lightTop, lightBottom, controlTop, controlBottom, footcandles }) => ({
    lightTop,
    lightBottom,
    controlTop,
    controlBottom,
    footcandles,
  }),
  judge: judgeStairLight,
}
