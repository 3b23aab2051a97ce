import type { RuleContext } from '../editions.ts'
import { type DetailsOf, EQUIPMENT_FIELDS } from '../equipment.ts'
import { spaceOf } from '../home.ts'
import { type Basis, finding, onClocks, shortfall, sound, undetermined } from '../judging.ts'
import { clocksOf, type Requirement } from '../requirement.ts'
import type { EquipmentRule } from '../rule.ts'
import type { Verdict } from '../verdict.ts'

/** Joined at the service and nowhere after it. */
export const APART_AFTER_SERVICE: Requirement = {
  keys: ['panels.neutral-ground'],
  rows: [
    { since: '1978', required: true, article: '250-23(a)', source: 'from memory' },
    { since: '1999', required: true, article: '250.24(A)(5)', source: 'NFPA 70 250.24(A)(5), 250.142(B)' },
  ],
  before: 'unknown',
}
/** A separate building on a three-wire feeder had them joined until the 2008 edition: from memory. */
export const APART_IN_SEPARATE_BUILDING: Requirement = {
  keys: ['panels.neutral-ground', 'panels.neutral-ground/separate-building'],
  rows: [{ since: '2008', required: true, article: '250.32(B)', source: 'from memory' }],
  before: 'no',
}

export interface NeutralGroundInputs extends Pick<DetailsOf<'panel'>, 'role' | 'neutralGround'> {
  /** The panel stands in a building of its own; null where its place is not recorded. */
  separateBuilding: boolean | null
}

const FIELDS = EQUIPMENT_FIELDS.panel

export function judgeNeutralGround(inputs: NeutralGroundInputs, context: RuleContext): Verdict {
  const { role, neutralGround, separateBuilding } = inputs
  const requirement = separateBuilding ? APART_IN_SEPARATE_BUILDING : APART_AFTER_SERVICE
  const basis: Basis = onClocks(
    { rule: 'panels.neutral-ground', inputs: { ...inputs } },
    clocksOf(requirement, context),
  )
  const missing = [
    ...(role ? [] : [FIELDS.role.label]),
    ...(neutralGround ? [] : [FIELDS.neutralGround.label]),
  ]
  if (missing.length > 0) return undetermined(basis, missing)
  if (role === 'service') return judgeAtService(inputs, basis)
  if (neutralGround === 'separate') {
    return sound(basis, {
      technician: 'Sub-panel: neutral and ground kept apart.',
      homeowner: 'In this panel the wires are kept apart as they should be.',
    })
  }
  if (separateBuilding === null) return undetermined(basis, ['Room or place'])
  return shortfall(basis, context, {
    technician: 'Sub-panel: neutral and ground joined, so neutral current runs on metal parts',
    homeowner:
      'In this panel two kinds of wires are joined that should be apart, so metal can carry current.',
  })
}

/** The service is where they must meet, or no fault trips a breaker. NFPA 70 250.24(B), 250.28. */
function judgeAtService(inputs: NeutralGroundInputs, basis: Basis): Verdict {
  const atService: Basis = {
    ...basis,
    references: [{ code: 'NFPA 70', article: '250.24(B)', row: 'joined at the service disconnect' }],
  }
  if (inputs.neutralGround === 'joined') {
    return sound(atService, {
      technician: 'Service panel: neutral and ground joined, as the first disconnect needs.',
      homeowner: 'The wires that must meet in this panel do.',
    })
  }
  return finding(atService, 'unsafe', {
    technician: 'Service panel: neutral and ground not joined; a ground fault will not trip a breaker.',
    homeowner: 'Two wires that must meet in this panel do not, so a breaker may not trip when it should.',
  })
}

export const neutralGround: EquipmentRule<'panel', NeutralGroundInputs> = {
  id: 'panels.neutral-ground',
  title: 'Neutral and ground',
  kind: 'panel',
  watches: [],
  inputs: (panel, home) => {
    const space = spaceOf(home, panel)
    const separateBuilding =
      space === null
        ? null
        : space.kind === 'accessory-building' ||
          (space.kind === 'garage' && home.property.garage === 'detached')
    return { role: panel.details.role, neutralGround: panel.details.neutralGround, separateBuilding }
  },
  judge: judgeNeutralGround,
}
