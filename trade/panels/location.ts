import type { RuleContext } from '../editions.ts'
import { EQUIPMENT_FIELDS } from '../equipment.ts'
import { spaceOf } from '../home.ts'
import { type Basis, finding, onClocks, shortfall, sound, undetermined } from '../judging.ts'
import { SPACE_KINDS, type SpaceKind } from '../property.ts'
import { type Clocks, clocksOf, type Requirement, strictest, uniqueReferences } from '../requirement.ts'
import type { EquipmentRule, ReadingRule } from '../rule.ts'
import type { Verdict } from '../verdict.ts'

type BadPlace = 'bathroom' | 'closet' | 'stairs'

/** Places where a panel may not be. IRC 2018 E3405; the first editions are from memory. */
const NOT_ALLOWED: Record<BadPlace, Requirement> = {
  bathroom: {
    keys: ['panels.location', 'panels.location/bathroom'],
    rows: [
      { since: '1993', required: true, article: '240.24(E)', source: 'IRC 2018 E3405; edition from memory' },
    ],
    before: 'no',
  },
  closet: {
    keys: ['panels.location', 'panels.location/closet'],
    rows: [
      { since: '1981', required: true, article: '240.24(D)', source: 'IRC 2018 E3405; edition from memory' },
    ],
    before: 'unknown',
  },
  stairs: {
    keys: ['panels.location', 'panels.location/stairs'],
    rows: [
      { since: '2008', required: true, article: '240.24(F)', source: 'IRC 2018 E3405; edition from memory' },
    ],
    before: 'no',
  },
}
const WORDS: Record<BadPlace, string> = {
  bathroom: 'in a bathroom',
  closet: 'in a closet (not allowed where clothes are kept)',
  stairs: 'over the steps of a stair',
}

export interface LocationInputs {
  spaceKind: SpaceKind | null
  overStairs?: boolean
}

export function judgePanelLocation(inputs: LocationInputs, context: RuleContext): Verdict {
  const { spaceKind, overStairs } = inputs
  const bad: BadPlace[] = [
    ...(spaceKind === 'bathroom' || spaceKind === 'closet' ? [spaceKind] : []),
    ...(overStairs ? (['stairs'] as const) : []),
  ]
  const asked: readonly BadPlace[] = bad.length > 0 ? bad : ['bathroom', 'closet', 'stairs']
  const clocks = asked.map((place) => clocksOf(NOT_ALLOWED[place], context))
  const basis: Basis = onClocks({ rule: 'panels.location', inputs: { ...inputs } }, together(clocks))
  if (bad.length > 0) {
    return shortfall(basis, context, {
      technician: `Panel ${bad.map((place) => WORDS[place]).join(', ')}`,
      homeowner:
        'The panel sits where damp, heat or clutter come too close. It works, and a new one would go elsewhere.',
    })
  }
  const missing = [
    ...(spaceKind ? [] : ['Room or place']),
    ...(overStairs == null ? [EQUIPMENT_FIELDS.panel.overStairs.label] : []),
  ]
  if (missing.length > 0) return undetermined(basis, missing)
  return sound(basis, {
    technician: `Panel location allowed (${SPACE_KINDS[spaceKind!].toLowerCase()}).`,
    homeowner: 'The panel sits in a suitable place.',
  })
}

function together(clocks: readonly Clocks[]): Clocks {
  return {
    whenBuilt: strictest(clocks.map((each) => each.whenBuilt)),
    today: strictest(clocks.map((each) => each.today)),
    references: uniqueReferences(clocks.flatMap((each) => each.references)),
  }
}

export const panelLocation: EquipmentRule<'panel', LocationInputs> = {
  id: 'panels.location',
  title: 'Location of the panel',
  kind: 'panel',
  watches: [],
  inputs: (panel, home) => ({
    spaceKind: spaceOf(home, panel)?.kind ?? null,
    overStairs: panel.details.overStairs,
  }),
  judge: judgePanelLocation,
}

/** What was seen of the space before the panel. */
export interface SpaceUseReadings {
  usedForStorage?: boolean
  lit?: boolean
}

/** Kept clear of stored things, and lit by more than an automatic switch. NFPA 70 110.26(B) and (D). */
export function judgeSpaceUse(readings: SpaceUseReadings): Verdict {
  const { usedForStorage, lit } = readings
  const basis: Basis = {
    rule: 'panels.space-use',
    inputs: { ...readings },
    references: [
      { code: 'NFPA 70', article: '110.26(B)' },
      { code: 'NFPA 70', article: '110.26(D)' },
    ],
  }
  if (usedForStorage) {
    return finding(basis, 'repair', {
      technician: 'Working space used for storage: clear it.',
      homeowner: 'Things are stored in front of the panel. Please keep that space free.',
    })
  }
  if (lit === false) {
    return finding(basis, 'improve', {
      technician: 'Working space has no light on a switch.',
      homeowner: 'There is no light at the panel. A lamp with a switch would help.',
    })
  }
  const missing = [
    ...(usedForStorage == null ? ['Space in front used for storage'] : []),
    ...(lit == null ? ['Lit, by a switch'] : []),
  ]
  if (missing.length > 0) return undetermined(basis, missing)
  return sound(basis, {
    technician: 'Working space free of storage and lit.',
    homeowner: 'The space in front of the panel is free and lit.',
  })
}

export const panelSpaceUse: ReadingRule<SpaceUseReadings, SpaceUseReadings> = {
  id: 'panels.space-use',
  title: 'Space before the panel: storage and light',
  inputs: ({ usedForStorage, lit }) => ({ usedForStorage, lit }),
  judge: judgeSpaceUse,
}
