import type { RuleContext } from '../editions.ts'
import { type DetailsOf, EQUIPMENT_FIELDS } from '../equipment.ts'
import { inUse } from '../home.ts'
import { notApplicable, onClocks, shortfall, sound, tidy, undetermined } from '../judging.ts'
import { clocksOf, type Requirement } from '../requirement.ts'
import type { EquipmentRule } from '../rule.ts'
import type { Figure, Verdict } from '../verdict.ts'

/** Rods, pipes and plates stand at least this far apart. NFPA 70 250.53(A)(3). */
export const ELECTRODE_SPACING_FEET = 6
/** Apart by this many rod lengths they no longer share soil: a note in print, not a rule. 250.53(A)(3) note. */
export const GOOD_SPACING_IN_LENGTHS = 2

export const ELECTRODE_SPACING: Requirement = {
  keys: ['grounding.electrode-spacing'],
  rows: [
    { since: '1978', required: true, article: '250-83', source: 'from memory' },
    { since: '1999', required: true, article: '250.53(B)', source: 'from memory' },
    { since: '2011', required: true, article: '250.53(A)(3)', source: 'NFPA 70-2011 250.53(A)(3)' },
  ],
  before: 'unknown',
}

export interface SpacingInputs extends Pick<DetailsOf<'electrode'>, 'kind' | 'spacingFeet' | 'lengthFeet'> {
  /** Electrodes in use at this home, this one among them. */
  electrodes: number
}

const SPACED: readonly string[] = ['rod', 'pipe', 'plate']

export function judgeElectrodeSpacing(inputs: SpacingInputs, context: RuleContext): Verdict {
  const figures: Figure[] = [{ label: 'Least distance', value: ELECTRODE_SPACING_FEET, unit: 'ft' }]
  const basis = onClocks(
    { rule: 'grounding.electrode-spacing', inputs: { ...inputs }, figures },
    clocksOf(ELECTRODE_SPACING, context),
  )
  const { kind, spacingFeet, lengthFeet, electrodes } = inputs
  if (!kind) return undetermined(basis, [EQUIPMENT_FIELDS.electrode.kind.label])
  if (!SPACED.includes(kind)) return notApplicable(basis, 'only rods, pipes and plates are spaced')
  if (spacingFeet == null) {
    if (electrodes < 2) return notApplicable(basis, 'no other electrode is recorded')
    return undetermined(basis, [EQUIPMENT_FIELDS.electrode.spacingFeet.label])
  }
  figures.push({ label: 'Distance', value: spacingFeet, unit: 'ft' })
  const what = `Next electrode ${tidy(spacingFeet)} ft away, ${ELECTRODE_SPACING_FEET} ft wanted`
  if (spacingFeet < ELECTRODE_SPACING_FEET) {
    return shortfall(basis, context, {
      technician: what,
      homeowner: 'Two earth electrodes stand so close together that they count as little more than one.',
    })
  }
  if (lengthFeet) {
    figures.push({ label: 'Better', value: GOOD_SPACING_IN_LENGTHS * lengthFeet, unit: 'ft' })
  }
  return sound(basis, {
    technician: `${what}${lengthFeet ? `; ${tidy(GOOD_SPACING_IN_LENGTHS * lengthFeet)} ft would be better still` : ''}.`,
    homeowner: 'The earth electrodes stand far enough apart.',
  })
}

export const electrodeSpacing: EquipmentRule<'electrode', SpacingInputs> = {
  id: 'grounding.electrode-spacing',
  title: 'Distance between electrodes',
  kind: 'electrode',
  watches: ['electrode'],
  inputs: ({ details }, home) => ({
    kind: details.kind,
    spacingFeet: details.spacingFeet,
    lengthFeet: details.lengthFeet,
    electrodes: inUse(home, 'electrode').length,
  }),
  judge: judgeElectrodeSpacing,
}
