import type { RuleContext } from '../editions.ts'
import { type DetailsOf, EQUIPMENT_FIELDS } from '../equipment.ts'
import { missingOf, notApplicable, onClocks, sound, tidy, undetermined } from '../judging.ts'
import { clocksOf } from '../requirement.ts'
import type { EquipmentRule } from '../rule.ts'
import type { Verdict } from '../verdict.ts'
import { sensesSmoke } from './senses.ts'
import { alarmShortfall } from './shortfall.ts'
import { AIR_AND_STEAM_INCHES, AIR_AND_STEAM_RULE } from './siting-figures.ts'

const SOURCES = {
  bathDoorInches: 'the door of a room with a tub or shower',
  supplyRegisterInches: 'an air outlet',
  fanTipInches: 'the tip of a fan blade',
} as const
type Source = keyof typeof SOURCES
const NAMES = Object.keys(SOURCES) as Source[]

export interface AirAndSteamInputs extends Pick<DetailsOf<'alarm'>, 'senses' | Source> {
  /** Listed for a place nearer to a bathroom. */
  listedForBathroom?: boolean | null
}

/** Steam sets an alarm off, moving air carries the smoke past it: three feet from each. */
export function judgeAirAndSteam(inputs: AirAndSteamInputs, context: RuleContext): Verdict {
  const basis = onClocks(
    {
      rule: 'alarms.air-and-steam',
      inputs: { ...inputs },
      figures: [{ label: 'Least distance', value: AIR_AND_STEAM_INCHES, unit: 'in' }],
    },
    clocksOf(AIR_AND_STEAM_RULE, context),
  )
  const fields = EQUIPMENT_FIELDS.alarm
  if (!inputs.senses) return undetermined(basis, [fields.senses.label])
  if (!sensesSmoke(inputs.senses)) return notApplicable(basis, 'it does not sense smoke')
  const names = NAMES.filter((name) => !(name === 'bathDoorInches' && inputs.listedForBathroom))
  const near = names.filter((name) => (inputs[name] ?? Infinity) < AIR_AND_STEAM_INCHES)
  if (near.length) {
    const what = near.map((name) => `${tidy(inputs[name]!)} in from ${SOURCES[name]}`).join(', ')
    return alarmShortfall(basis, context, {
      technician: `${what}; ${AIR_AND_STEAM_INCHES} in wanted unless it is listed for that place`,
      homeowner: 'Steam or moving air reaches this smoke alarm; it works better a little further away.',
    })
  }
  const missing = missingOf(fields, inputs, names)
  if (missing.length) return undetermined(basis, missing)
  return sound(basis, {
    technician: `At least ${AIR_AND_STEAM_INCHES} in from bathroom doors, air outlets and fans.`,
    homeowner: 'This smoke alarm is clear of steam and moving air.',
  })
}

export const airAndSteam: EquipmentRule<'alarm', AirAndSteamInputs> = {
  id: 'alarms.air-and-steam',
  title: 'Distance to bathroom doors, air outlets and fans',
  kind: 'alarm',
  inputs: ({ details: { senses, bathDoorInches, supplyRegisterInches, fanTipInches } }) => ({
    senses,
    bathDoorInches,
    supplyRegisterInches,
    fanTipInches,
  }),
  judge: judgeAirAndSteam,
}
