import { type DetailsOf, EQUIPMENT_FIELDS } from '../equipment.ts'
import { spaceOf } from '../home.ts'
import { type Basis, finding, notApplicable, sound, undetermined } from '../judging.ts'
import { SPACE_KINDS, type SpaceKind } from '../property.ts'
import type { EquipmentRule } from '../rule.ts'
import type { Verdict } from '../verdict.ts'
import { sensesSmoke } from './senses.ts'

/** Where smoke alarms sound for nothing or age early. NFPA 72 annex (kitchens, garages, attics); 40–100 °F. */
const UNSUITED: readonly SpaceKind[] = ['kitchen', 'garage', 'attic-unfinished', 'crawl-space', 'outdoors']

export interface PlaceInputs extends Pick<DetailsOf<'alarm'>, 'senses' | 'nearFuelBurner'> {
  space: SpaceKind | null
}

/** A smoke or CO alarm in a place where it does poorly. A heat alarm is made for such places. */
export function judgePlace(inputs: PlaceInputs): Verdict {
  const { senses, space, nearFuelBurner } = inputs
  const basis: Basis = {
    rule: 'alarms.place',
    inputs: { ...inputs },
    references: [
      {
        code: 'NFPA 72',
        article: 'annex to chapter 29',
        row: 'kitchens, garages and attics not recommended',
      },
      { code: 'common practice', row: 'not beside a fuel-burning appliance: the maker’s instructions' },
    ],
    whenBuilt: 'no',
    today: 'no',
  }
  const fields = EQUIPMENT_FIELDS.alarm
  if (!senses) return undetermined(basis, [fields.senses.label])
  if (senses === 'heat') return notApplicable(basis, 'a heat alarm suits such places')
  if (nearFuelBurner) {
    return finding(basis, 'improve', {
      technician:
        'Beside a fuel-burning appliance, where starting it can set the alarm off; a heat alarm suits there.',
      homeowner: 'This alarm hangs beside an appliance that burns fuel and can sound for nothing there.',
    })
  }
  if (!space) return undetermined(basis, ['Room of the alarm'])
  if (sensesSmoke(senses) && UNSUITED.includes(space)) {
    return finding(basis, 'improve', {
      technician: `Smoke alarm in: ${SPACE_KINDS[space]}. Not recommended there; a heat alarm may be added instead.`,
      homeowner:
        'A smoke alarm sounds for nothing here or wears out early; a heat alarm suits this place better.',
    })
  }
  if (nearFuelBurner === undefined) return undetermined(basis, [fields.nearFuelBurner.label])
  return sound(basis, {
    technician: 'The place suits this alarm.',
    homeowner: 'This alarm hangs in a place that suits it.',
  })
}

export const place: EquipmentRule<'alarm', PlaceInputs> = {
  id: 'alarms.place',
  title: 'Place of the alarm',
  kind: 'alarm',
  watches: [],
  inputs: (alarm, home) => ({
    senses: alarm.details.senses,
    nearFuelBurner: alarm.details.nearFuelBurner,
    space: spaceOf(home, alarm)?.kind ?? null,
  }),
  judge: judgePlace,
}
