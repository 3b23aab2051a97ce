import { day } from '../dates.ts'
import type { SpaceKind } from '../property.ts'
import type { EditionRow, Requirement, RequirementRow } from '../requirement.ts'

export const ARC_FAULT_RULE = 'arc-fault.places'

const ARTICLES: readonly EditionRow<string>[] = [
  { since: '1999', value: '210-12(b)', source: 'from memory' },
  { since: '2002', value: '210.12(B)', source: 'from memory' },
  { since: '2011', value: '210.12(A)', source: 'NFPA 70-2011 to 2020' },
  { since: '2023', value: '210.12(B)', source: 'from memory; section rewritten as a list' },
]

interface PlaceRow {
  since: RequirementRow['since']
  places: readonly SpaceKind[]
  effectiveOn?: RequirementRow['effectiveOn']
  /** The row reaches circuits with receptacles only. */
  receptaclesOnly?: true
  row: string
  source: string
}

/** The edition in which each kind of room first appears; trade-press histories of 210.12. */
const PLACE_ROWS: readonly PlaceRow[] = [
  {
    since: '1999',
    places: ['bedroom'],
    effectiveOn: day('2002-01-01'),
    receptaclesOnly: true,
    row: 'bedroom receptacles, from 2002-01-01',
    source: 'histories',
  },
  { since: '2002', places: ['bedroom'], row: 'all bedroom outlets', source: 'histories' },
  {
    since: '2008',
    // An office counts as a library or den, a lived-in attic and a finished basement as recreation rooms.
    places: [
      'living',
      'dining',
      'family',
      'office',
      'closet',
      'hall',
      'attic-habitable',
      'basement-finished',
    ],
    row: 'family, dining and living rooms, dens, closets, hallways and similar',
    source: 'NFPA 70-2008 210.12(B) as quoted',
  },
  {
    since: '2014',
    places: ['kitchen', 'laundry'],
    row: 'kitchens and laundry areas',
    source: 'NFPA 70-2014 as quoted',
  },
]

/** Rooms that no edition lists; the last three from memory. */
export const NEVER_LISTED: readonly SpaceKind[] = [
  'bathroom',
  'garage',
  'outdoors',
  'basement-unfinished',
  'attic-unfinished',
  'crawl-space',
]

/** Whether an edition asks for arc-fault protection in that kind of room. Null where the list says nothing of it. */
export function arcFaultRequirement(place: SpaceKind, hasReceptacles: boolean): Requirement | null {
  const made = REQUIREMENTS[hasReceptacles ? 'receptacles' : 'other'].get(place)
  return made ?? null
}

function requirementOf(place: SpaceKind, hasReceptacles: boolean): Requirement {
  const rows = PLACE_ROWS.filter(
    (row) => row.places.includes(place) && (hasReceptacles || !row.receptaclesOnly),
  )
  return {
    keys: [ARC_FAULT_RULE, `${ARC_FAULT_RULE}/${place}`],
    rows: rows.flatMap((row, at) => byArticle(row, rows[at + 1]?.since)),
    before: 'no',
  }
}

function byArticle(place: PlaceRow, next: string | undefined): RequirementRow[] {
  const { since, effectiveOn, row, source } = place
  const article = ARTICLES.findLast((each) => each.since <= since)!.value
  const renumbered = ARTICLES.filter((each) => each.since > since && (!next || each.since < next))
  return [
    { since, effectiveOn, required: true, article, row, source },
    ...renumbered.map((each) => ({ since: each.since, required: true, article: each.value, row, source })),
  ]
}

const listed = [...new Set(PLACE_ROWS.flatMap((row) => row.places))]
const forAll = (hasReceptacles: boolean) =>
  new Map(listed.map((place) => [place, requirementOf(place, hasReceptacles)]))
const REQUIREMENTS = { receptacles: forAll(true), other: forAll(false) }

/** Branch circuits that the section reaches. 10 A circuits came in 2023. */
export const ARC_FAULT_RATINGS: readonly EditionRow<readonly number[]>[] = [
  { since: '1999', value: [15, 20], source: 'histories' },
  { since: '2023', value: [10, 15, 20], source: 'NFPA 70-2023 210.12' },
]
