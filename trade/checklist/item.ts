import type { DetailsOf, EquipmentKind, EquipmentOf } from '../equipment.ts'
import type { Fields } from '../fields.ts'
import type { Home } from '../home.ts'
import type { Space, SpaceKind } from '../property.ts'

/** What one line of the field sheet says about its subject. */
export const RESULTS = {
  ok: 'OK',
  finding: 'Finding',
  absent: 'None here',
  'not-reached': 'Not reached',
} as const
export type Result = keyof typeof RESULTS

export const NOT_REACHED_REASONS = {
  locked: 'Locked',
  blocked: 'Blocked',
  energised: 'Energised and not safe to open',
  occupied: 'Occupied',
  weather: 'Weather',
  'utility-seal': 'Utility seal',
  other: 'Other (say what)',
} as const
export type NotReachedReason = keyof typeof NOT_REACHED_REASONS

/** Details and dates of a piece of equipment that are asked for at an item, in the order of the form. */
export type Capture<Kind extends EquipmentKind> =
  Extract<keyof DetailsOf<Kind>, string> | 'manufacturedOn' | 'installedOn'

/** One line per recorded piece of this kind; with none recorded, one line for the home. */
export type EquipmentSubject = {
  [Kind in EquipmentKind]: {
    equipment: Kind
    where?: (each: EquipmentOf<Kind>) => boolean
    captures?: readonly Capture<Kind>[]
  }
}[EquipmentKind]

/** One line per recorded space of these kinds; with no spaces recorded at all, one line for the home. */
export interface SpaceSubject {
  space: readonly SpaceKind[]
  where?: (space: Space) => boolean
}

export type Subject = 'home' | SpaceSubject | EquipmentSubject

/** Whether a photo is asked for. Nothing is refused for want of one. */
export type PhotoWish = 'always' | 'expected-on-finding' | 'none'

/** One thing to look at, as data: the field sheet, the report and the completeness check all read this. */
export interface Item {
  /** `area.thing`, stored with every answer: never renamed within a checklist version. */
  id: string
  title: string
  /** One or two calm sentences for people who are not electricians: what it is for, what happens when it fails. */
  plain: string
  subject: Subject
  /** True, or the reason why this home does not need it; people are shown that reason. */
  applies: (home: Home) => true | string
  /** Typed values that belong to the answer rather than to a piece of equipment. */
  readings: Fields
  /** Readings without which "ok" or "finding" cannot stand; a yes/no must be yes. */
  required?: readonly string[]
  /** Id of the item that records a cover being taken off: this one is reached only behind that cover. */
  behind?: string
  /** Usual safety words, shown before the work. */
  caution?: string
  photo: PhotoWish
}

export interface Area {
  id: string
  title: string
  items: readonly Item[]
}

export interface Checklist {
  /** Stored with each inspection, so that an old one is read with the list it was made with. */
  version: number
  areas: readonly Area[]
}

export type ItemDraft = Pick<Item, 'id' | 'title' | 'plain' | 'subject'> & Partial<Item>

/** An item that applies to every home, has no readings of its own, and expects a photo only with a finding. */
export function item(draft: ItemDraft): Item {
  return { applies: () => true, readings: {}, photo: 'expected-on-finding', ...draft }
}

export function isEquipmentSubject(subject: Subject): subject is EquipmentSubject {
  return subject !== 'home' && 'equipment' in subject
}

export function isSpaceSubject(subject: Subject): subject is SpaceSubject {
  return subject !== 'home' && 'space' in subject
}
