import { type ConductorMaterial, type ConductorSize, sizeLabel, sizeRank } from '../conductors/sizes.ts'
import type { RuleContext } from '../editions.ts'
import { type DetailsOf, EQUIPMENT_FIELDS } from '../equipment.ts'
import {
  type Basis,
  finding,
  missingOf,
  notApplicable,
  onClocks,
  shortfall,
  sound,
  undetermined,
} from '../judging.ts'
import { clocksOf, type Requirement } from '../requirement.ts'
import type { Verdict } from '../verdict.ts'

export type BondOf = NonNullable<DetailsOf<'bond'>['of']>

export interface BondInputs extends Pick<
  DetailsOf<'bond'>,
  'of' | 'present' | 'conductorMaterial' | 'conductorSize' | 'clamp' | 'reachable'
> {
  serviceMaterial?: ConductorMaterial
  serviceSize?: ConductorSize
}

export interface WantedBond {
  size: ConductorSize
  article: string
  row: string
}

/** What one kind of bond is judged by. */
export interface BondAsked {
  rule: string
  of: BondOf
  requirement: Requirement
  /** `Gas piping bond`: begins the technician's sentence. */
  name: string
  homeowner: { sound: string; absent: string; poor: string }
}

/** Size wanted, or the labels of what must be known to tell. */
export type SizeWanted = WantedBond | { missing: string[] }

const CLAMP_WORDS = { loose: 'loose', corroded: 'corroded', missing: 'missing' } as const

/** What all bonds share: there, held by a sound clamp, large enough, and within reach. NFPA 70 250.8, 250.104. */
export function judgeBond(
  asked: BondAsked,
  inputs: BondInputs,
  wanted: (material: ConductorMaterial) => SizeWanted,
  context: RuleContext,
): Verdict {
  const basis = basisOf(asked, inputs, context)
  const early = judgePresence(asked, inputs, basis, context)
  if (early) return early
  const { conductorMaterial, conductorSize } = inputs
  if (!conductorMaterial || !conductorSize) {
    return undetermined(
      basis,
      missingOf(EQUIPMENT_FIELDS.bond, inputs, ['conductorMaterial', 'conductorSize']),
    )
  }
  const least = wanted(conductorMaterial)
  if ('missing' in least) return undetermined(basis, least.missing)
  const full: Basis = {
    ...basis,
    references: [...basis.references, { code: 'NFPA 70', article: least.article, row: least.row }],
  }
  const what = `${asked.name} ${sizeLabel(conductorSize)}, ${sizeLabel(least.size)} wanted`
  if (sizeRank(conductorSize) < sizeRank(least.size)) {
    return shortfall(full, context, { technician: what, homeowner: asked.homeowner.poor })
  }
  const missing = missingOf(EQUIPMENT_FIELDS.bond, inputs, ['clamp', 'reachable'])
  if (missing.length > 0) return undetermined(full, missing)
  return sound(full, { technician: `${what}; clamp sound.`, homeowner: asked.homeowner.sound })
}

export function basisOf(asked: BondAsked, inputs: BondInputs, context: RuleContext): Basis {
  return onClocks({ rule: asked.rule, inputs: { ...inputs } }, clocksOf(asked.requirement, context))
}

/** Verdict where the bond is another's, not there, unreachable or badly clamped; null when its size decides. */
export function judgePresence(
  asked: BondAsked,
  inputs: BondInputs,
  basis: Basis,
  context: RuleContext,
): Verdict | null {
  if (!inputs.of) return undetermined(basis, [EQUIPMENT_FIELDS.bond.of.label])
  if (inputs.of !== asked.of) return notApplicable(basis, 'this is a bond of something else')
  if (inputs.present == null) return undetermined(basis, [EQUIPMENT_FIELDS.bond.present.label])
  if (!inputs.present) {
    return shortfall(basis, context, {
      technician: `${asked.name} absent`,
      homeowner: asked.homeowner.absent,
    })
  }
  if (inputs.clamp && inputs.clamp !== 'sound') {
    return finding(basis, 'repair', {
      technician: `${asked.name}: clamp ${CLAMP_WORDS[inputs.clamp]}.`,
      homeowner: asked.homeowner.poor,
    })
  }
  if (inputs.reachable === false) {
    return shortfall(basis, context, {
      technician: `${asked.name}: its connection cannot be reached`,
      homeowner: asked.homeowner.poor,
    })
  }
  return null
}

export function bondInputs(details: DetailsOf<'bond'>): Omit<BondInputs, 'serviceMaterial' | 'serviceSize'> {
  const { of, present, conductorMaterial, conductorSize, clamp, reachable } = details
  return { of, present, conductorMaterial, conductorSize, clamp, reachable }
}
