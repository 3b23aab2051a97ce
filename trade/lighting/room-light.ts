import { LIGHT } from '../checklist/readings.ts'
import type { ValuesOf } from '../fields.ts'
import { type Basis, finding, notApplicable, sound, tidy, undetermined } from '../judging.ts'
import { SPACE_KINDS, type SpaceKind } from '../property.ts'
import type { ReadingRule } from '../rule.ts'
import type { Figure, Verdict } from '../verdict.ts'
import { generalLight, LUX_PER_FOOTCANDLE, taskLight } from './illuminance.ts'

export type LightReadings = ValuesOf<typeof LIGHT>
export interface RoomLightInputs extends LightReadings {
  space: SpaceKind | null
}

/** Light of a room against the lowest figure published for it: advice on comfort, never a defect. */
export function judgeRoomLight(inputs: RoomLightInputs): Verdict {
  const { space, illuminance, illuminanceUnit, judged } = inputs
  const wanted = space ? generalLight(space) : []
  const tasks = space ? taskLight(space) : []
  const basis: Basis = {
    rule: 'lighting.room',
    inputs: { ...inputs },
    references: [...wanted, ...tasks].map(({ source, task, footcandles }) => {
      return { code: 'IES', article: source, row: `${task}: ${footcandles} fc` }
    }),
    figures: [],
    whenBuilt: 'no',
    today: 'no',
  }
  if (!space) return undetermined(basis, ['Room'])
  const least = wanted[0]
  if (!least) return notApplicable(basis, `no figure is published for: ${SPACE_KINDS[space]}`)
  if (illuminance === undefined || !illuminanceUnit) return byEye(judged, illuminance, basis)
  const footcandles = illuminanceUnit === 'lx' ? illuminance / LUX_PER_FOOTCANDLE : illuminance
  basis.figures = figuresOf(footcandles, least.footcandles)
  const more = tasks.length
    ? ` Where it is done: ${tasks.map((t) => `${t.task} ${t.footcandles} fc`).join(', ')}.`
    : ''
  const what = `${tidy(footcandles)} fc, ${least.footcandles} fc recommended (${least.source}).${more}`
  if (footcandles < least.footcandles) {
    return finding(basis, 'improve', {
      technician: what,
      homeowner: 'This room is darker than is recommended for moving about in it safely.',
    })
  }
  return sound(basis, { technician: what, homeowner: 'This room has enough light to move about in.' })
}

function figuresOf(footcandles: number, least: number): Figure[] {
  return [
    { label: 'Light', value: footcandles, unit: 'fc' },
    { label: 'Recommended', value: least, unit: 'fc' },
    { label: 'Recommended', value: least * LUX_PER_FOOTCANDLE, unit: 'lx' },
  ]
}

function byEye(judged: LightReadings['judged'], illuminance: number | undefined, basis: Basis): Verdict {
  if (illuminance !== undefined) return undetermined(basis, [LIGHT.illuminanceUnit.label])
  if (!judged)
    return undetermined(basis, [`${LIGHT.illuminance.label} or ${LIGHT.judged.label.toLowerCase()}`])
  if (judged === 'enough') {
    return sound(basis, {
      technician: 'Judged by eye: enough for its use.',
      homeowner: 'This room has enough light to move about in.',
    })
  }
  return finding(basis, 'improve', {
    technician: judged === 'none' ? 'No light.' : 'Judged by eye: poor for its use.',
    homeowner: 'This room would be safer and more pleasant with more light.',
  })
}

export const roomLight: ReadingRule<LightReadings, RoomLightInputs> = {
  id: 'lighting.room',
  title: 'Enough light for its use',
  inputs: (readings, { space }) => ({ ...readings, space: space?.kind ?? null }),
  judge: judgeRoomLight,
}
