import {
  type Area,
  type Checklist,
  isEquipmentSubject,
  isSpaceSubject,
  type Item,
} from '../checklist/item.ts'
import { EQUIPMENT_KINDS, type Equipment } from '../equipment.ts'
import { type Home, inUse } from '../home.ts'
import { SPACE_KINDS } from '../property.ts'
import type { SubjectKind } from './records.ts'

/** One row of the field sheet: an item at a subject, to be answered once. */
export interface Line {
  /** `item@subject`: the same for the answer, whatever order they come in. */
  key: string
  area: Area
  item: Item
  subjectKind: SubjectKind
  subjectId: string | null
  /** What people call the subject: `Hall panel`, `Kitchen`. Empty for the home. */
  name: string
  /** The item is about equipment or spaces of which none is recorded yet: the one line stands for all of them. */
  noneRecorded: boolean
}

/** An item that this home does not need, and why. Shown to people, so that nothing is left out in silence. */
export interface LeftOut {
  area: Area
  item: Item
  reason: string
}

export function lineKey(itemId: string, subjectId: string | null): string {
  return `${itemId}@${subjectId ?? 'home'}`
}

type LineSubject = Pick<Line, 'subjectKind' | 'subjectId' | 'name' | 'noneRecorded'>
const THE_HOME: LineSubject = { subjectKind: 'home', subjectId: null, name: '', noneRecorded: false }
const NONE_YET: LineSubject = { ...THE_HOME, noneRecorded: true }

/** Circuits in the order of their panel positions; everything else in the order it was recorded. */
function inWalkingOrder(pieces: readonly Equipment[]): readonly Equipment[] {
  return pieces.every((each) => each.kind === 'circuit')
    ? pieces.toSorted((a, b) => (a.details.position ?? Infinity) - (b.details.position ?? Infinity) || 0)
    : pieces
}

function spaceSubjects(item: Item, home: Home): LineSubject[] | string {
  const subject = item.subject
  if (!isSpaceSubject(subject)) return []
  if (home.spaces.length === 0) return [NONE_YET]
  const { space: kinds, where } = subject
  const matching = home.spaces.filter((space) => kinds.includes(space.kind) && (where?.(space) ?? true))
  if (matching.length === 0) return missingPlaces(kinds, Boolean(where))
  return matching.map((space) => ({
    subjectKind: 'space',
    subjectId: space.id,
    name: space.name,
    noneRecorded: false,
  }))
}

function missingPlaces(kinds: readonly (keyof typeof SPACE_KINDS)[], conditional: boolean): string {
  if (conditional || kinds.length > 3) return 'No such place is recorded for this home.'
  return `Not among the recorded places: ${kinds.map((kind) => SPACE_KINDS[kind].toLowerCase()).join('; ')}.`
}

function equipmentSubjects(item: Item, home: Home): LineSubject[] {
  const subject = item.subject
  if (!isEquipmentSubject(subject)) return []
  // The kind is checked first, so `where` is only ever given its own kind.
  const where = subject.where as ((each: Equipment) => boolean) | undefined
  const recorded = inUse(home, subject.equipment) as readonly unknown[] as readonly Equipment[]
  const pieces = where ? recorded.filter(where) : recorded
  if (pieces.length === 0) return [NONE_YET]
  return inWalkingOrder(pieces).map((each) => ({
    subjectKind: 'equipment',
    subjectId: each.id,
    name: each.label || EQUIPMENT_KINDS[each.kind],
    noneRecorded: false,
  }))
}

/** The subjects that an item is answered at, or the reason why there are none. */
function subjectsOf(item: Item, home: Home): LineSubject[] | string {
  const applies = item.applies(home)
  if (applies !== true) return applies
  if (item.subject === 'home') return [THE_HOME]
  return isSpaceSubject(item.subject) ? spaceSubjects(item, home) : equipmentSubjects(item, home)
}

/** Every line that this home has, in the order of the checklist. */
export function linesOf(home: Home, checklist: Checklist): Line[] {
  return checklist.areas.flatMap((area) =>
    area.items.flatMap((item) => {
      const subjects = subjectsOf(item, home)
      if (typeof subjects === 'string') return []
      return subjects.map((subject) => ({ key: lineKey(item.id, subject.subjectId), area, item, ...subject }))
    }),
  )
}

/** Every item that this home does not need, with its reason. */
export function leftOut(home: Home, checklist: Checklist): LeftOut[] {
  return checklist.areas.flatMap((area) =>
    area.items.flatMap((item) => {
      const reason = subjectsOf(item, home)
      return typeof reason === 'string' ? [{ area, item, reason }] : []
    }),
  )
}
