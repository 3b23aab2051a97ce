import { sizeLabel, sizeRank } from '../conductors/sizes.ts'
import { type DetailsOf, EQUIPMENT_FIELDS } from '../equipment.ts'
import { type Basis, finding, missingOf, notApplicable, sound, undetermined } from '../judging.ts'
import type { EquipmentRule } from '../rule.ts'
import type { Verdict } from '../verdict.ts'

export type AluminiumInputs = Pick<DetailsOf<'circuit'>, 'material' | 'size' | 'stranded' | 'aluminiumRepair'>
type Repair = NonNullable<AluminiumInputs['aluminiumRepair']>

/** From this size on aluminium is stranded, lands on lugs made for it, and is not what CPSC 516 is about. */
const LARGE_FROM = '8'

/** CPSC 516 accepts three permanent repairs; the details of two are from memory. */
const ACCEPTED: readonly Repair[] = ['rewired', 'crimped-pigtail', 'setscrew-connector']
const REPAIRS = EQUIPMENT_FIELDS.circuit.aluminiumRepair.options

export function isAcceptedRepair(repair: Repair): boolean {
  return ACCEPTED.includes(repair)
}

/** Small aluminium branch wiring: its connections can glow while the breaker sees nothing. */
export function judgeAluminiumBranch(inputs: AluminiumInputs): Verdict {
  const { material, size, stranded, aluminiumRepair } = inputs
  const basis: Basis = {
    rule: 'era.aluminium-branch',
    inputs: { ...inputs },
    references: [
      { code: 'CPSC 516', edition: '2011', article: 'permanent repairs of aluminium connections' },
    ],
    whenBuilt: 'no',
    today: 'no',
  }
  const fields = EQUIPMENT_FIELDS.circuit
  if (!material) return undetermined(basis, [fields.material.label])
  if (material !== 'aluminium') return notApplicable(basis, 'not solid aluminium')
  if (!size) return undetermined(basis, [fields.size.label])
  const isLarge = sizeRank(size) >= sizeRank(LARGE_FROM)
  if (isLarge && stranded !== false)
    return notApplicable(basis, `${sizeLabel(size)} stranded is no small branch wiring`)
  if (!aluminiumRepair) return undetermined(basis, missingOf(fields, inputs, ['aluminiumRepair']))
  const repair = REPAIRS[aluminiumRepair]
  if (isAcceptedRepair(aluminiumRepair)) {
    return sound(basis, {
      technician: `${repair}: accepted by the CPSC as permanent.`,
      homeowner: 'The aluminium connections of this circuit were repaired in an accepted way.',
    })
  }
  const state =
    aluminiumRepair === 'none' ? 'no repair seen' : `${repair}: not accepted by the CPSC as permanent`
  return finding(basis, 'repair', {
    technician: `Aluminium ${sizeLabel(size)}, ${state}.`,
    homeowner:
      'Aluminium connections of this kind can overheat at outlets and switches; there are lasting repairs.',
  })
}

export const aluminiumBranch: EquipmentRule<'circuit', AluminiumInputs> = {
  id: 'era.aluminium-branch',
  title: 'Aluminium branch wiring',
  kind: 'circuit',
  inputs: ({ details: { material, size, stranded, aluminiumRepair } }) => ({
    material,
    size,
    stranded,
    aluminiumRepair,
  }),
  judge: judgeAluminiumBranch,
}
