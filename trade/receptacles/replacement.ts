import { arcFaultRequirement } from '../arc-fault/places.ts'
import { day } from '../dates.ts'
import type { RuleContext } from '../editions.ts'
import { receptacleClocks } from '../ground-fault/receptacle-requirement.ts'
import type { ReceptacleFacts } from '../ground-fault/place-of.ts'
import type { SpaceKind } from '../property.ts'
import { clocksOf, type Requirement } from '../requirement.ts'
import type { Required } from '../verdict.ts'
import { type TamperInputs, tamperExemption, tamperRequirement } from './tamper-resistant.ts'
import { optionsPhrase } from './ungrounded-options.ts'
import { isDampOrWet, type WeatherInputs, WEATHER_RESISTANT } from './weather.ts'

/** What a replaced receptacle must be, beyond what the old one was. NFPA 70 406.4(D). */
export type ReplacementNeed =
  | 'grounding-type'
  | 'ungrounded-options'
  | 'ground-fault'
  | 'arc-fault'
  | 'tamper-resistant'
  | 'weather-resistant'

export interface ReplacementInputs
  extends ReceptacleFacts, Omit<TamperInputs, 'tamperResistant'>, Omit<WeatherInputs, 'weatherResistant'> {
  groundPresent?: boolean
  /** A two-slot receptacle goes in again: option (a). */
  twoSlotAgain?: boolean
  hasSink?: boolean | null
  hasTubOrShower?: boolean | null
}

export interface Need {
  need: ReplacementNeed
  required: Required
  article: string
  words: string
}

const rule = (
  since: '1993' | '2011',
  article: string,
  source: string,
  effectiveOn?: string,
): Requirement => ({
  keys: ['receptacles.replacement'],
  rows: [{ since, required: true, article, source, ...(effectiveOn && { effectiveOn: day(effectiveOn) }) }],
  before: 'no',
})
/** Each line of 406.4(D) asks only where new work is asked, and only since its own edition. */
const LINES = {
  'ground-fault': rule('1993', '406.4(D)(3)', 'histories; 210-7(d) before 2002'),
  'arc-fault': rule('2011', '406.4(D)(4)', 'NFPA 70-2011 406.4(D)(4)', '2014-01-01'),
  'tamper-resistant': rule('2011', '406.4(D)(5)', 'NFPA 70-2011 406.4(D)(5)'),
  'weather-resistant': rule('2011', '406.4(D)(6)', 'NFPA 70-2011 406.4(D)(6)'),
} as const

/** What a new receptacle in this box must be today. Needs that do not hold are left out; doubtful ones say `unknown`. */
export function replacementNeeds(inputs: ReplacementInputs, context: RuleContext): Need[] {
  return [groundNeed(inputs), ...editionNeeds(inputs, context)].filter((each) => each.required !== 'no')
}

function groundNeed({ groundPresent, twoSlotAgain }: ReplacementInputs): Need {
  if (groundPresent === false && !twoSlotAgain) {
    return {
      need: 'ungrounded-options',
      required: 'yes',
      article: '406.4(D)(2)',
      words: `no equipment ground: ${optionsPhrase()}`,
    }
  }
  const required = groundPresent == null ? 'unknown' : groundPresent ? 'yes' : 'no'
  return { need: 'grounding-type', required, article: '406.4(D)(1)', words: 'grounding type' }
}

function editionNeeds(inputs: ReplacementInputs, context: RuleContext): Need[] {
  const { spaceKind, twoSlotAgain } = inputs
  const tamper =
    twoSlotAgain || tamperExemption({ ...inputs, slots: undefined })
      ? 'no'
      : clocksOf(tamperRequirement(inputs), context).today
  const damp = isDampOrWet(inputs)
  const asked: Record<keyof typeof LINES, Required> = {
    'ground-fault': spaceKind ? groundFaultToday(inputs, spaceKind, context) : 'unknown',
    'arc-fault': spaceKind ? arcFaultToday(spaceKind, context) : 'unknown',
    'tamper-resistant': tamper === 'no' || spaceKind ? tamper : 'unknown',
    'weather-resistant': damp === null ? 'unknown' : damp ? clocksOf(WEATHER_RESISTANT, context).today : 'no',
  }
  return (Object.keys(LINES) as (keyof typeof LINES)[]).map((need) => ({
    need,
    required: both(asked[need], clocksOf(LINES[need], context).today),
    article: LINES[need].rows[0]!.article,
    words: WORDS[need],
  }))
}

const WORDS = {
  'ground-fault': 'ground-fault protected',
  'arc-fault': 'arc-fault protected',
  'tamper-resistant': 'tamper-resistant',
  'weather-resistant': 'weather-resistant',
} as const

function groundFaultToday(inputs: ReplacementInputs, kind: SpaceKind, context: RuleContext): Required {
  const { hasSink, hasTubOrShower } = inputs
  return receptacleClocks({ kind, hasSink, hasTubOrShower }, inputs, context).today
}

function arcFaultToday(kind: SpaceKind, context: RuleContext): Required {
  const requirement = arcFaultRequirement(kind, true)
  return requirement ? clocksOf(requirement, context).today : 'no'
}

function both(a: Required, b: Required): Required {
  if (a === 'no' || b === 'no') return 'no'
  return a === 'unknown' || b === 'unknown' ? 'unknown' : 'yes'
}
