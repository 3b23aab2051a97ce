import { type DetailsOf, EQUIPMENT_FIELDS } from '../equipment.ts'
import { type Basis, finding, missingOf, notApplicable, sound, undetermined } from '../judging.ts'
import type { EquipmentRule } from '../rule.ts'
import type { Verdict } from '../verdict.ts'
import { HEAT_MARGIN_F, heatClassOf } from './heat-classes.ts'

export type HeatRatingInputs = Pick<DetailsOf<'alarm'>, 'senses' | 'ratingF' | 'ceilingPeakF'>

/** A heat alarm rated too near to the warmth of its ceiling sounds for nothing; that makes people take it down. */
export function judgeHeatRating(inputs: HeatRatingInputs): Verdict {
  const { senses, ratingF, ceilingPeakF } = inputs
  const basis: Basis = {
    rule: 'alarms.heat-rating',
    inputs: { ...inputs },
    references: [{ code: 'NFPA 72', article: '17.6.2 and Table 17.6.2.1' }],
    figures: [],
    whenBuilt: 'yes',
    today: 'yes',
  }
  const fields = EQUIPMENT_FIELDS.alarm
  if (!senses) return undetermined(basis, [fields.senses.label])
  if (senses !== 'heat') return notApplicable(basis, 'not a heat alarm')
  const missing = missingOf(fields, inputs, ['ratingF', 'ceilingPeakF'])
  if (ratingF === undefined || ceilingPeakF === undefined) return undetermined(basis, missing)
  const found = heatClassOf(ratingF)
  if (!found) return undetermined(basis, [`${fields.ratingF.label} between 100 and 575 °F`])
  basis.figures = [
    { label: 'Least rating for this ceiling', value: ceilingPeakF + HEAT_MARGIN_F, unit: 'F' },
    { label: `Hottest ceiling for its class (${found.name})`, value: found.maxCeilingF, unit: 'F' },
  ]
  // Every class starts the margin above its hottest ceiling, so the class holds the margin too.
  if (ceilingPeakF > found.maxCeilingF) {
    return finding(basis, 'repair', {
      technician: `${ratingF} °F (${found.name}) is too low for a ceiling that reaches ${ceilingPeakF} °F.`,
      homeowner: 'This heat alarm suits a cooler place and can sound for nothing here.',
    })
  }
  return sound(basis, {
    technician: `${ratingF} °F (${found.name}) suits a ceiling up to ${ceilingPeakF} °F.`,
    homeowner: 'This heat alarm suits its place. It does not stand in for a smoke alarm.',
  })
}

export const heatRating: EquipmentRule<'alarm', HeatRatingInputs> = {
  id: 'alarms.heat-rating',
  title: 'Rating of the heat alarm',
  kind: 'alarm',
  inputs: ({ details: { senses, ratingF, ceilingPeakF } }) => ({ senses, ratingF, ceilingPeakF }),
  judge: judgeHeatRating,
}
