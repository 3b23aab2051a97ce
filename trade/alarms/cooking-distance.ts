import type { Edition, RuleContext } from '../editions.ts'
import { type DetailsOf, EQUIPMENT_FIELDS } from '../equipment.ts'
import { missingOf, notApplicable, onClocks, sound, tidy, undetermined } from '../judging.ts'
import { editionRead } from '../nec.ts'
import { clocksOf, type Requirement, valueIn } from '../requirement.ts'
import type { EquipmentRule } from '../rule.ts'
import type { Figure, Verdict } from '../verdict.ts'
import { sensesSmoke } from './senses.ts'
import { alarmShortfall } from './shortfall.ts'
import { COOKING_IRC, COOKING_IRC_RULE, COOKING_NFPA, COOKING_NFPA_RULE } from './siting-figures.ts'

export type CookingInputs = Pick<
  DetailsOf<'alarm'>,
  'senses' | 'sensor' | 'silenceButton' | 'cookingListed' | 'cookingFeet'
>

/** Least feet from the cooker; where the kind of alarm is not fully known, the least it can be and the most. */
export interface LeastFeet {
  atLeast: number
  atMost: number
}

/** IRC; a dual sensor holds an ionisation chamber and is taken as one (the code is silent). Null = no distance asked. */
export function cookingFeetByIrc(inputs: CookingInputs, edition: Edition | null): LeastFeet | null {
  const feet = valueIn(COOKING_IRC, edition)
  if (!feet) return null
  const { sensor, silenceButton, cookingListed } = inputs
  if (cookingListed && feet.listed !== null) return exactly(feet.listed)
  if (sensor === 'photoelectric') return exactly(feet.photoelectric)
  const ionisation = {
    atLeast: silenceButton === false ? feet.ionisation : feet.silenced,
    atMost: silenceButton ? feet.silenced : feet.ionisation,
  }
  const mayBeListed = feet.listed !== null && cookingListed === undefined
  const mayBeNearer = sensor === undefined || mayBeListed
  return mayBeNearer ? { ...ionisation, atLeast: feet.photoelectric } : ionisation
}

export function cookingFeetByNfpa(inputs: CookingInputs): LeastFeet {
  const { sensor, silenceButton, cookingListed } = inputs
  const { never, anyKind } = COOKING_NFPA
  if (sensor === 'photoelectric' || silenceButton || cookingListed) return exactly(never)
  const isKnown = sensor !== undefined && silenceButton === false && cookingListed === false
  return isKnown ? exactly(anyKind) : { atLeast: never, atMost: anyKind }
}

function exactly(feet: number): LeastFeet {
  return { atLeast: feet, atMost: feet }
}

export function judgeCookingDistance(inputs: CookingInputs, context: RuleContext): Verdict {
  const { senses, cookingFeet } = inputs
  const codes: { requirement: Requirement; least: LeastFeet | null }[] = [
    { requirement: COOKING_NFPA_RULE, least: cookingFeetByNfpa(inputs) },
    { requirement: COOKING_IRC_RULE, least: cookingFeetByIrc(inputs, editionRead(context)) },
  ]
  const asked = codes.filter((each): each is Asked => each.least !== null)
  const basisOf = ({ requirement }: Pick<Asked, 'requirement'>) =>
    onClocks(
      {
        rule: 'alarms.cooking-distance',
        inputs: { ...inputs },
        figures: asked.map((each): Figure => {
          return { label: `Least by ${each.requirement.code}`, value: each.least.atMost, unit: 'ft' }
        }),
      },
      clocksOf(requirement, context),
    )
  const basis = basisOf(asked[0]!)
  const fields = EQUIPMENT_FIELDS.alarm
  if (!senses) return undetermined(basis, [fields.senses.label])
  if (!sensesSmoke(senses)) return notApplicable(basis, 'it does not sense smoke')
  if (cookingFeet === undefined) return undetermined(basis, [fields.cookingFeet.label])
  const isShort = (each: Asked) => cookingFeet < each.least.atLeast
  const short = asked.findLast(isShort)
  if (short) {
    const which = asked
      .filter(isShort)
      .map((each) => `${each.requirement.code} wants ${each.least.atLeast} ft`)
    return alarmShortfall(basisOf(short), context, {
      technician: `${tidy(cookingFeet)} ft from the cooker; ${which.join(', ')}`,
      homeowner: 'This smoke alarm hangs so near to the cooker that cooking can set it off.',
    })
  }
  if (asked.some((each) => cookingFeet < each.least.atMost)) {
    return undetermined(basis, missingOf(fields, inputs, ['sensor', 'silenceButton', 'cookingListed']))
  }
  return sound(basis, {
    technician: `${tidy(cookingFeet)} ft from the cooker.`,
    homeowner: 'This smoke alarm is far enough from the cooker.',
  })
}

interface Asked {
  requirement: Requirement
  least: LeastFeet
}

export const cookingDistance: EquipmentRule<'alarm', CookingInputs> = {
  id: 'alarms.cooking-distance',
  title: 'Distance to the cooker',
  kind: 'alarm',
  inputs: ({ details: { senses, sensor, silenceButton, cookingListed, cookingFeet } }) => ({
    senses,
    sensor,
    silenceButton,
    cookingListed,
    cookingFeet,
  }),
  judge: judgeCookingDistance,
}
