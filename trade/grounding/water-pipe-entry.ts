import type { RuleContext } from '../editions.ts'
import { type DetailsOf, EQUIPMENT_FIELDS } from '../equipment.ts'
import { notApplicable, onClocks, shortfall, sound, tidy, undetermined } from '../judging.ts'
import { clocksOf, type Requirement } from '../requirement.ts'
import type { EquipmentRule } from '../rule.ts'
import type { Verdict } from '../verdict.ts'

/** Interior pipe may carry the electrode connection only this far from where it enters. NFPA 70 250.68(C)(1). */
export const WATER_PIPE_ENTRY_FEET = 5

/** Seen as 250-81 in texts of the 1990s; first in 1993, from memory. */
export const WATER_PIPE_ENTRY: Requirement = {
  keys: ['grounding.water-pipe-entry'],
  rows: [
    { since: '1993', required: true, article: '250-81', source: '1990s text; edition from memory' },
    { since: '2011', required: true, article: '250.68(C)(1)', source: 'NFPA 70 250.68(C)' },
  ],
  before: 'no',
}

export type EntryInputs = Pick<DetailsOf<'electrode'>, 'kind' | 'bondedFromEntryFeet'>

export function judgeWaterPipeEntry(inputs: EntryInputs, context: RuleContext): Verdict {
  const basis = onClocks(
    {
      rule: 'grounding.water-pipe-entry',
      inputs: { ...inputs },
      figures: [{ label: 'Farthest from the entry', value: WATER_PIPE_ENTRY_FEET, unit: 'ft' }],
    },
    clocksOf(WATER_PIPE_ENTRY, context),
  )
  if (!inputs.kind) return undetermined(basis, [EQUIPMENT_FIELDS.electrode.kind.label])
  if (inputs.kind !== 'water-pipe') return notApplicable(basis, 'the electrode is no water pipe')
  const feet = inputs.bondedFromEntryFeet
  if (feet == null) return undetermined(basis, [EQUIPMENT_FIELDS.electrode.bondedFromEntryFeet.label])
  const what = `Water pipe connected ${tidy(feet)} ft from its entry, ${WATER_PIPE_ENTRY_FEET} ft at most`
  if (feet <= WATER_PIPE_ENTRY_FEET) {
    return sound(basis, {
      technician: `${what}.`,
      homeowner: 'The earth wire meets the water pipe close to where it enters, as it should.',
    })
  }
  return shortfall(basis, context, {
    technician: what,
    homeowner:
      'The earth wire meets the water pipe far from where it enters; a plumber’s plastic piece in between would cut it off.',
  })
}

export const waterPipeEntry: EquipmentRule<'electrode', EntryInputs> = {
  id: 'grounding.water-pipe-entry',
  title: 'Water pipe connected near its entry',
  kind: 'electrode',
  inputs: ({ details }) => ({ kind: details.kind, bondedFromEntryFeet: details.bondedFromEntryFeet }),
  judge: judgeWaterPipeEntry,
}
