import { day } from '../dates.ts'
import type { RuleContext } from '../editions.ts'
import { type DetailsOf, EQUIPMENT_FIELDS } from '../equipment.ts'
import { spaceOf } from '../home.ts'
import { type Basis, finding, onClocks, shortfall, sound, undetermined } from '../judging.ts'
import type { SpaceKind } from '../property.ts'
import { clocksOf, type Requirement, type RequirementRow } from '../requirement.ts'
import type { EquipmentRule } from '../rule.ts'
import type { Reference, Verdict } from '../verdict.ts'
import { optionsPhrase } from './ungrounded-options.ts'

const RULE = 'receptacles.grounding'
const later: RequirementRow[] = [
  { since: '2002', required: true, article: '406.4(A)', source: 'NFPA 70 Article 406, since 2002' },
]
/**
 * All receptacles of the grounding type: the 1971 edition with effect from 1974, or the 1975 edition; sources differ,
 * and both agree from 1975 on.
 */
const EVERYWHERE: RequirementRow[] = [
  {
    since: '1971',
    required: true,
    effectiveOn: day('1974-01-01'),
    article: '210-7',
    source: '1971 with effect 1974, or 1975: disputed',
  },
  { since: '1975', required: true, article: '210-7', source: 'histories' },
  ...later,
]
/** Laundry first, then porches, garages and outdoors. */
const EARLIER: Partial<Record<SpaceKind, RequirementRow>> = {
  laundry: { since: '1947', required: true, article: 'Article 210', row: 'laundry', source: 'histories' },
  garage: { since: '1956', required: true, article: 'Article 210', row: 'garage', source: 'histories' },
  outdoors: { since: '1956', required: true, article: 'Article 210', row: 'porch', source: 'histories' },
}

const requirementOf = (kind: SpaceKind | null): Requirement => ({
  keys: kind ? [RULE, `${RULE}/${kind}`] : [RULE],
  rows: kind && EARLIER[kind] ? [EARLIER[kind], ...EVERYWHERE] : EVERYWHERE,
  before: 'no',
})
const made = new Map<SpaceKind | null, Requirement>()
export function groundingReceptacleRequirement(kind: SpaceKind | null): Requirement {
  let requirement = made.get(kind)
  if (!requirement) made.set(kind, (requirement = requirementOf(kind)))
  return requirement
}

export interface GroundingInputs extends Pick<
  DetailsOf<'receptacle'>,
  | 'slots'
  | 'groundPresent'
  | 'groundFault'
  | 'noGroundMarked'
  | 'groundFaultMarked'
  | 'replacedOnOrAfterBuild'
> {
  spaceKind: SpaceKind | null
}

const FIELDS = EQUIPMENT_FIELDS.receptacle
const REPLACEMENT: Reference = {
  code: 'NFPA 70',
  article: '406.4(D)(2)',
  row: 'no equipment ground in the box',
}
const HOMEOWNER = {
  sound: 'This outlet is grounded, or guarded in the way that is accepted without a ground.',
  falseGround:
    'This outlet takes a grounded plug but has no ground behind it. There are simple ways to put that right.',
  twoSlot: 'This outlet has no ground. That was usual once; there are several accepted ways to improve it.',
  unused: 'This outlet takes no grounded plug although a ground is there. A newer outlet would use it.',
  unmarked: 'This outlet is guarded but has no ground, and the label that says so is missing.',
}

/** Never "properly grounded": what is judged is the device against the box it sits in. */
export function judgeReceptacleGrounding(inputs: GroundingInputs, context: RuleContext): Verdict {
  const basis = onClocks(
    { rule: RULE, inputs: { ...inputs } },
    clocksOf(groundingReceptacleRequirement(inputs.spaceKind), context),
  )
  if (!inputs.slots) return undetermined(basis, [FIELDS.slots.label])
  return inputs.slots === 'two' ? judgeTwoSlot(inputs, basis, context) : judgeThreeSlot(inputs, basis)
}

function judgeTwoSlot(inputs: GroundingInputs, basis: Basis, context: RuleContext): Verdict {
  if (!inputs.groundPresent) {
    return shortfall(basis, context, {
      technician: `Two-slot receptacle; ${optionsPhrase()}`,
      homeowner: HOMEOWNER.twoSlot,
    })
  }
  const technician = 'Two-slot receptacle with an equipment ground in the box: grounding type when replaced'
  if (inputs.replacedOnOrAfterBuild) {
    const byReplacement = [...basis.references, { code: 'NFPA 70', article: '406.4(D)(1)' }]
    return finding({ ...basis, references: byReplacement }, 'repair', {
      technician: `${technician}; it has been replaced since.`,
      homeowner: HOMEOWNER.unused,
    })
  }
  return shortfall(basis, context, { technician, homeowner: HOMEOWNER.unused })
}

function judgeThreeSlot(inputs: GroundingInputs, basis: Basis): Verdict {
  const { groundPresent, groundFault } = inputs
  if (groundPresent == null) return undetermined(basis, [FIELDS.groundPresent.label])
  if (groundPresent) {
    return sound(basis, {
      technician: 'Three-slot receptacle, equipment ground in the box; ground quality not tested.',
      homeowner: HOMEOWNER.sound,
    })
  }
  const ungrounded: Basis = { ...basis, references: [...basis.references, REPLACEMENT] }
  if (!groundFault) return undetermined(ungrounded, [FIELDS.groundFault.label])
  if (groundFault === 'none') {
    return finding(ungrounded, 'repair', {
      technician: `Three-slot receptacle without equipment ground or ground-fault protection; ${optionsPhrase()}.`,
      homeowner: HOMEOWNER.falseGround,
    })
  }
  const wanted = groundFault === 'itself' ? ALONE : BEHIND
  const unmarked = wanted.filter((name) => inputs[name] === false)
  if (unmarked.length > 0) {
    return finding(ungrounded, 'repair', {
      technician: `Ungrounded receptacle with ground-fault protection, not ${unmarked.map(markOf).join(' and not ')}.`,
      homeowner: HOMEOWNER.unmarked,
    })
  }
  const missing = wanted.filter((name) => inputs[name] == null).map((name) => FIELDS[name].label)
  if (missing.length > 0) return undetermined(ungrounded, missing)
  return sound(ungrounded, {
    technician: 'Ungrounded receptacle, ground-fault protected and marked.',
    homeowner: HOMEOWNER.sound,
  })
}

/** Marks wanted where the receptacle itself protects, and where a device in front of it does. */
const ALONE = ['noGroundMarked'] as const
const BEHIND = ['groundFaultMarked', 'noGroundMarked'] as const

function markOf(name: (typeof BEHIND)[number]): string {
  const { label } = FIELDS[name]
  return label.charAt(0).toLowerCase() + label.slice(1)
}

export const receptacleGrounding: EquipmentRule<'receptacle', GroundingInputs> = {
  id: RULE,
  title: 'Ground of the receptacle',
  kind: 'receptacle',
  watches: [],
  inputs: (receptacle, home) => {
    const { slots, groundPresent, groundFault } = receptacle.details
    const { noGroundMarked, groundFaultMarked, replacedOnOrAfterBuild } = receptacle.details
    return {
      slots,
      groundPresent,
      groundFault,
      noGroundMarked,
      groundFaultMarked,
      replacedOnOrAfterBuild,
      spaceKind: spaceOf(home, receptacle)?.kind ?? null,
    }
  },
  judge: judgeReceptacleGrounding,
}
