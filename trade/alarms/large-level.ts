import type { RuleContext } from '../editions.ts'
import type { Home } from '../home.ts'
import { onClocks, sound, tidy, undetermined } from '../judging.ts'
import { clocksOf } from '../requirement.ts'
import type { HomeRule } from '../rule.ts'
import type { Verdict } from '../verdict.ts'
import { alarmsFor, coverageOfStorey } from './covering.ts'
import { levelName, storeysOf } from './dwelling-places.ts'
import { LARGE_LEVEL } from './requirements.ts'
import { sensesSmoke } from './senses.ts'
import { alarmShortfall } from './shortfall.ts'

/** A level larger than this wants more than one alarm (NFPA 72-2016); one for each so many square feet (from memory). */
const LARGE_SQFT = 1000
const SQFT_PER_ALARM = 500

export interface LevelInputs {
  levels: readonly { name: string; areaSqFt: number | null; alarms: number }[]
}

export function judgeLargeLevels({ levels }: LevelInputs, context: RuleContext): Verdict[] {
  return levels.map(({ name, areaSqFt, alarms }) => {
    const inputs = { level: name, areaSqFt, alarms }
    const basis = onClocks(
      { rule: 'alarms.large-level', inputs, figures: [] },
      clocksOf(LARGE_LEVEL, context),
    )
    if (areaSqFt === null) return undetermined(basis, [`Floor area of each room, ${name}`])
    const wanted = areaSqFt > LARGE_SQFT ? Math.ceil(areaSqFt / SQFT_PER_ALARM) : 1
    basis.figures!.push({ label: 'Alarms for this area', value: wanted, unit: 'count' })
    const what = `${tidy(areaSqFt)} ft² with ${alarms} smoke alarm${alarms === 1 ? '' : 's'}, ${name}`
    if (areaSqFt <= LARGE_SQFT || alarms >= wanted) {
      return sound(basis, {
        technician: `${what}.`,
        homeowner: 'There are enough smoke alarms for the size of this floor.',
      })
    }
    return alarmShortfall(basis, context, {
      technician: `${what}: ${wanted} wanted, or every ceiling point within 30 ft of one`,
      homeowner: 'This floor is so large that one more smoke alarm would notice smoke earlier.',
    })
  })
}

export const largeLevel: HomeRule<LevelInputs> = {
  id: 'alarms.large-level',
  title: 'Smoke alarms on a large floor',
  watches: ['alarm'],
  inputs: (home: Home) => {
    const smoke = alarmsFor(home, sensesSmoke)
    return {
      levels: storeysOf(home).map((storey) => {
        const areas = storey.spaces.map((space) => space.areaSqFt ?? null)
        return {
          name: levelName(storey.level, storey.isBasement),
          areaSqFt: areas.includes(null) ? null : areas.reduce<number>((sum, area) => sum + area!, 0),
          alarms: coverageOfStorey(storey, smoke).alarmIds.length,
        }
      }),
    }
  },
  judge: judgeLargeLevels,
}
