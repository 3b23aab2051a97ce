import type { RuleContext } from '../editions.ts'
import { type DetailsOf, EQUIPMENT_FIELDS } from '../equipment.ts'
import { spaceOf } from '../home.ts'
import { notApplicable, onClocks, shortfall, sound, undetermined } from '../judging.ts'
import type { SpaceKind } from '../property.ts'
import { clocksOf, type Requirement } from '../requirement.ts'
import type { EquipmentRule } from '../rule.ts'
import type { Verdict } from '../verdict.ts'

/** 15 and 20 A receptacles in damp and wet places: from memory. */
export const WEATHER_RESISTANT: Requirement = {
  keys: ['receptacles.weather-resistant'],
  rows: [
    { since: '2008', required: true, article: '406.8', source: 'from memory' },
    { since: '2011', required: true, article: '406.9', source: 'from memory' },
  ],
  before: 'no',
}
/** Wet places: a cover that keeps rain out with the plug in. Known to be older than 2007; how much was not looked up. */
export const IN_USE_COVER: Requirement = {
  keys: ['receptacles.in-use-cover'],
  rows: [
    { since: '2005', required: true, article: '406.8(B)', source: 'trade newsletter: older than 2007' },
    { since: '2011', required: true, article: '406.9(B)', source: 'from memory' },
  ],
  before: 'unknown',
}
/** NFPA 70 406.9. */
const MAX_AMPS = 20

export interface WeatherInputs extends Pick<
  DetailsOf<'receptacle'>,
  'place' | 'amps' | 'weatherResistant' | 'inUseCover'
> {
  spaceKind: SpaceKind | null
}

const FIELDS = EQUIPMENT_FIELDS.receptacle

/** Outdoors counts as damp at least, unless the record says wet. Null where nobody knows where the receptacle is. */
export function isDampOrWet({ place, spaceKind }: WeatherInputs): boolean | null {
  if (place === 'damp' || place === 'wet' || spaceKind === 'outdoors') return true
  return place == null && spaceKind == null ? null : false
}

export function judgeWeatherResistant(inputs: WeatherInputs, context: RuleContext): Verdict {
  const rule = 'receptacles.weather-resistant'
  const basis = onClocks({ rule, inputs: { ...inputs } }, clocksOf(WEATHER_RESISTANT, context))
  const damp = isDampOrWet(inputs)
  if (damp === null) return undetermined(basis, [FIELDS.place.label])
  const none = { ...basis, whenBuilt: 'no', today: 'no' } as const
  if (!damp) return notApplicable(none, 'the place is dry')
  if (inputs.amps != null && inputs.amps > MAX_AMPS) return notApplicable(none, `rated above ${MAX_AMPS} A`)
  if (inputs.weatherResistant == null && (basis.whenBuilt !== 'no' || basis.today !== 'no')) {
    return undetermined(basis, [FIELDS.weatherResistant.label])
  }
  if (inputs.weatherResistant) {
    return sound(basis, {
      technician: 'Weather-resistant receptacle in a damp or wet place.',
      homeowner: 'This outlet is of a kind made for damp places.',
    })
  }
  return shortfall(basis, context, {
    technician: 'Receptacle in a damp or wet place not weather-resistant',
    homeowner: 'This outlet is not of the kind made for damp places, so it wears faster.',
  })
}

export function judgeInUseCover(inputs: WeatherInputs, context: RuleContext): Verdict {
  const rule = 'receptacles.in-use-cover'
  const basis = onClocks({ rule, inputs: { ...inputs } }, clocksOf(IN_USE_COVER, context))
  if (inputs.place == null && (inputs.spaceKind === 'outdoors' || inputs.spaceKind === null)) {
    return undetermined(basis, [FIELDS.place.label])
  }
  const none = { ...basis, whenBuilt: 'no', today: 'no' } as const
  if (inputs.place !== 'wet') return notApplicable(none, 'the place is not wet')
  if (inputs.inUseCover == null) return undetermined(basis, [FIELDS.inUseCover.label])
  if (inputs.inUseCover) {
    return sound(basis, {
      technician: 'In-use cover present.',
      homeowner: 'The cover of this outlet keeps the rain out with a plug in.',
    })
  }
  return shortfall(basis, context, {
    technician: 'Receptacle in a wet place without an in-use cover',
    homeowner: 'Rain can get into this outlet while something is plugged in. A deeper cover keeps it out.',
  })
}

function rule(
  id: string,
  title: string,
  judge: (inputs: WeatherInputs, context: RuleContext) => Verdict,
): EquipmentRule<'receptacle', WeatherInputs> {
  return {
    id,
    title,
    kind: 'receptacle',
    watches: [],
    inputs: (receptacle, home) => {
      const { place, amps, weatherResistant, inUseCover } = receptacle.details
      return { place, amps, weatherResistant, inUseCover, spaceKind: spaceOf(home, receptacle)?.kind ?? null }
    },
    judge,
  }
}

export const weatherResistant = rule(
  'receptacles.weather-resistant',
  'Weather-resistant receptacle',
  judgeWeatherResistant,
)
export const inUseCover = rule('receptacles.in-use-cover', 'In-use cover', judgeInUseCover)
