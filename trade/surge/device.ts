import type { RuleContext } from '../editions.ts'
import { type DetailsOf, EQUIPMENT_FIELDS } from '../equipment.ts'
import {
  type Basis,
  finding,
  notApplicable,
  onClocks,
  shortfall,
  sound,
  tidy,
  undetermined,
} from '../judging.ts'
import { clocksOf, type Requirement } from '../requirement.ts'
import type { EquipmentRule } from '../rule.ts'
import type { Verdict } from '../verdict.ts'

type Details = DetailsOf<'surge-protector'>
const FIELDS = EQUIPMENT_FIELDS['surge-protector']

export type SurgeTypeInputs = Pick<Details, 'type' | 'at' | 'lineSide'>

const UL_1449 = { code: 'UL 1449', row: 'type 1: line or load side; type 2: load side; type 3: point of use' }

const MAYBE_AHEAD: readonly Details['at'][] = ['meter-base', 'in-panel', 'beside-panel']

/** A device may only stand where its type allows. UL 1449. */
export function judgeSurgeType(inputs: SurgeTypeInputs): Verdict {
  const { type, at, lineSide } = inputs
  const basis: Basis = { rule: 'surge.type', inputs: { ...inputs }, references: [UL_1449] }
  const homeowner = 'The surge protector is of a kind not made for the place where it sits.'
  if (!type) return undetermined(basis, [FIELDS.type.label])
  if (type === 'unknown') {
    return finding(basis, 'investigate', {
      technician:
        'Surge protector without a type marked: its data must be looked up before it can be judged.',
      homeowner: 'The surge protector does not show what it is made for. We need to look it up.',
    })
  }
  if (lineSide && type !== '1') {
    return finding(basis, 'repair', {
      technician: `Type ${type} surge protector on the line side of the service disconnect: only type 1 may be there.`,
      homeowner,
    })
  }
  if (!at) return undetermined(basis, [FIELDS.at.label])
  if (type === '3' && at !== 'point-of-use') {
    return finding(basis, 'repair', {
      technician:
        'Type 3 surge protector at a panel or meter: it is made for one outlet, 30 ft or more from the panel.',
      homeowner,
    })
  }
  // In and about the service equipment a device may be connected ahead of the disconnect, so type 2 needs the answer.
  if (type === '2' && lineSide == null && MAYBE_AHEAD.includes(at))
    return undetermined(basis, [FIELDS.lineSide.label])
  return sound(basis, {
    technician: `Type ${type} surge protector, ${FIELDS.at.options[at].toLowerCase()}.`,
    homeowner: 'The surge protector is of a kind made for its place.',
  })
}

/** Least nominal discharge current. NFPA 70-2023 230.67(E). */
export const LEAST_NOMINAL_KILOAMPS = 10
export const NOMINAL_CURRENT: Requirement = {
  keys: ['surge.nominal-current'],
  rows: [{ since: '2023', required: true, article: '230.67(E)', source: 'NFPA 70-2023 230.67(E)' }],
  before: 'no',
}

export type NominalInputs = Pick<Details, 'nominalKiloamps' | 'at'>

export function judgeNominalCurrent(inputs: NominalInputs, context: RuleContext): Verdict {
  const { nominalKiloamps, at } = inputs
  const basis = onClocks(
    {
      rule: 'surge.nominal-current',
      inputs: { ...inputs },
      figures: [
        { label: 'Least nominal discharge current (kA)', value: LEAST_NOMINAL_KILOAMPS, unit: 'count' },
        ...(nominalKiloamps == null
          ? []
          : [{ label: FIELDS.nominalKiloamps.label, value: nominalKiloamps, unit: 'count' as const }]),
      ],
    },
    clocksOf(NOMINAL_CURRENT, context),
  )
  if (at === 'point-of-use') return notApplicable(basis, 'it stands at one outlet, not at the service')
  if (nominalKiloamps != null && nominalKiloamps >= LEAST_NOMINAL_KILOAMPS) {
    return sound(basis, {
      technician: `Nominal discharge current ${tidy(nominalKiloamps)} kA, ${LEAST_NOMINAL_KILOAMPS} kA wanted.`,
      homeowner: 'The surge protector is strong enough.',
    })
  }
  if (nominalKiloamps == null && (basis.whenBuilt !== 'no' || basis.today !== 'no')) {
    return undetermined(basis, [FIELDS.nominalKiloamps.label])
  }
  return shortfall(basis, context, {
    technician: `Nominal discharge current ${tidy(nominalKiloamps ?? 0)} kA, ${LEAST_NOMINAL_KILOAMPS} kA wanted`,
    homeowner: 'The surge protector is weaker than those fitted today.',
  })
}

export type LeadsInputs = Pick<Details, 'leadsShort'>

/** Every bend and inch of lead raises the voltage let through. Common practice, no source. */
export function judgeSurgeLeads(inputs: LeadsInputs): Verdict {
  const basis: Basis = {
    rule: 'surge.leads',
    inputs: { ...inputs },
    references: [{ code: 'common practice', row: 'leads short and straight' }],
  }
  if (inputs.leadsShort == null) return undetermined(basis, [FIELDS.leadsShort.label])
  if (inputs.leadsShort) {
    return sound(basis, {
      technician: 'Leads short and straight.',
      homeowner: 'The surge protector is connected by short wires, as it should be.',
    })
  }
  return finding(basis, 'improve', {
    technician: 'Leads of the surge protector long or looped: shorten and straighten them.',
    homeowner: 'The wires of the surge protector are longer than they need be, which weakens it.',
  })
}

export const surgeType: EquipmentRule<'surge-protector', SurgeTypeInputs> = {
  id: 'surge.type',
  title: 'Type of the surge protector against its place',
  kind: 'surge-protector',
  inputs: ({ details: { type, at, lineSide } }) => ({ type, at, lineSide }),
  judge: judgeSurgeType,
}
export const nominalCurrent: EquipmentRule<'surge-protector', NominalInputs> = {
  id: 'surge.nominal-current',
  title: 'Nominal discharge current',
  kind: 'surge-protector',
  inputs: ({ details: { nominalKiloamps, at } }) => ({ nominalKiloamps, at }),
  judge: judgeNominalCurrent,
}
export const surgeLeads: EquipmentRule<'surge-protector', LeadsInputs> = {
  id: 'surge.leads',
  title: 'Leads of the surge protector',
  kind: 'surge-protector',
  inputs: ({ details: { leadsShort } }) => ({ leadsShort }),
  judge: judgeSurgeLeads,
}
