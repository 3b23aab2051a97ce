import type { RuleContext } from '../editions.ts'
import { EQUIPMENT_FIELDS } from '../equipment.ts'
import type { Home } from '../home.ts'
import { onClocks, sound, tidy, undetermined } from '../judging.ts'
import { clocksOf } from '../requirement.ts'
import type { HomeRule } from '../rule.ts'
import type { Verdict } from '../verdict.ts'
import { alarmsFor, alarmsNear, BEDROOM_PATH_FEET } from './covering.ts'
import { levelName, storeysOf } from './dwelling-places.ts'
import { BEDROOM_PATH } from './requirements.ts'
import { sensesSmoke } from './senses.ts'
import { alarmShortfall } from './shortfall.ts'

export interface PathInputs {
  /** Sleeping areas that have an alarm outside: the measured paths of those alarms, `null` = not measured. */
  areas: readonly { name: string; pathFeet: readonly (number | null)[] }[]
}

/** Of the alarms outside one sleeping area the nearest decides; one that is near enough is enough. */
export function judgeBedroomPath({ areas }: PathInputs, context: RuleContext): Verdict[] {
  return areas.map(({ name, pathFeet }) => {
    const known = pathFeet.filter((feet) => feet !== null)
    const nearest = known.length ? Math.min(...known) : null
    const basis = onClocks(
      {
        rule: 'alarms.bedroom-path',
        inputs: { area: name, nearestFeet: nearest, alarms: pathFeet.length },
        figures: [{ label: 'Farthest allowed', value: BEDROOM_PATH_FEET, unit: 'ft' }],
      },
      clocksOf(BEDROOM_PATH, context),
    )
    if (nearest !== null && nearest <= BEDROOM_PATH_FEET) {
      return sound(basis, {
        technician: `${tidy(nearest)} ft from the farthest bedroom door, ${name}.`,
        homeowner: 'The smoke alarm outside the bedrooms is near enough to their doors.',
      })
    }
    if (nearest === null || known.length < pathFeet.length) {
      return undetermined(basis, [`${EQUIPMENT_FIELDS.alarm.bedroomDoorFeet.label}, ${name}`])
    }
    return alarmShortfall(basis, context, {
      technician: `${tidy(nearest)} ft from the farthest bedroom door, ${name}; ${BEDROOM_PATH_FEET} ft at most`,
      homeowner: 'The smoke alarm outside the bedrooms is rather far from one of their doors.',
    })
  })
}

export const bedroomPath: HomeRule<PathInputs> = {
  id: 'alarms.bedroom-path',
  title: 'Path from the hall alarm to the bedroom doors',
  watches: ['alarm'],
  inputs: (home: Home) => {
    const alarms = alarmsFor(home, sensesSmoke)
    const areas = storeysOf(home).flatMap((storey) =>
      storey.sleepingAreas.map((area) => {
        const { sure } = alarmsNear(area, storey, alarms)
        const pathFeet = sure.map(({ alarm }) => alarm.details.bedroomDoorFeet ?? null)
        return { name: [area.name, levelName(area.level)].filter(Boolean).join(', '), pathFeet }
      }),
    )
    return { areas: areas.filter(({ pathFeet }) => pathFeet.length > 0) }
  },
  judge: judgeBedroomPath,
}
