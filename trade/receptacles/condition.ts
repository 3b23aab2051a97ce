import type { RuleContext } from '../editions.ts'
import { type DetailsOf, EQUIPMENT_FIELDS } from '../equipment.ts'
import { spaceOf } from '../home.ts'
import { finding, sound, undetermined } from '../judging.ts'
import type { EquipmentRule } from '../rule.ts'
import type { Severity, Verdict } from '../verdict.ts'
import { type ReplacementInputs, replacementNeeds } from './replacement.ts'

export interface ConditionInputs extends ReplacementInputs, Pick<DetailsOf<'receptacle'>, 'condition'> {}

type Fault = Exclude<NonNullable<ConditionInputs['condition']>, 'sound'>

/** Burn marks can be a fire today; the rest is wear. Common practice, no source. */
const FAULTS: Record<Fault, { severity: Severity; technician: string; homeowner: string }> = {
  burnt: {
    severity: 'unsafe',
    technician: 'Receptacle with burn marks',
    homeowner: 'This outlet shows burn marks. Please leave it unused until it is replaced.',
  },
  cracked: {
    severity: 'repair',
    technician: 'Receptacle cracked',
    homeowner: 'This outlet is cracked, so fingers or dust can reach what is behind. It should be replaced.',
  },
  loose: {
    severity: 'repair',
    technician: 'Receptacle loose or does not grip',
    homeowner: 'This outlet is loose or does not hold a plug. It should be replaced before it runs warm.',
  },
}

/** Condition of the device; where it is to be replaced, what the new one must be. */
export function judgeReceptacleCondition(inputs: ConditionInputs, context: RuleContext): Verdict {
  const { condition } = inputs
  const needs = condition && condition !== 'sound' ? replacementNeeds(inputs, context) : []
  const basis = {
    rule: 'receptacles.condition',
    inputs: { ...inputs },
    references: [
      { code: 'NFPA 70', article: '110.12(B)' },
      ...needs.map((each) => ({
        code: 'NFPA 70',
        ...(context.editionNow && { edition: context.editionNow }),
        article: each.article,
      })),
    ],
  }
  if (!condition) return undetermined(basis, [EQUIPMENT_FIELDS.receptacle.condition.label])
  if (condition === 'sound') {
    return sound(basis, { technician: 'Receptacle sound.', homeowner: 'This outlet is in good order.' })
  }
  const { severity, technician, homeowner } = FAULTS[condition]
  const sure = needs.filter((each) => each.required === 'yes').map((each) => each.words)
  const open = needs.filter((each) => each.required === 'unknown').map((each) => `${each.words}?`)
  const wanted = [...sure, ...open]
  return finding(basis, severity, {
    technician: `${technician}${wanted.length > 0 ? `; its replacement: ${wanted.join(', ')}` : ''}.`,
    homeowner,
  })
}

export const receptacleCondition: EquipmentRule<'receptacle', ConditionInputs> = {
  id: 'receptacles.condition',
  title: 'Condition of the receptacle, and what a new one must be',
  kind: 'receptacle',
  watches: [],
  inputs: (receptacle, home) => {
    const { details } = receptacle
    const space = spaceOf(home, receptacle)
    return {
      condition: details.condition,
      groundPresent: details.groundPresent,
      place: details.place,
      slots: details.slots,
      volts: details.volts,
      amps: details.amps,
      heightInches: details.heightInches,
      dedicatedAppliance: details.dedicatedAppliance,
      partOfAppliance: details.partOfAppliance,
      spaceKind: space?.kind ?? null,
      hasSink: space?.hasSink,
      hasTubOrShower: space?.hasTubOrShower,
    }
  },
  judge: judgeReceptacleCondition,
}
