import { day } from '../dates.ts'
import type { Edition } from '../editions.ts'
import type { EditionRow, Requirement, RequirementRow } from '../requirement.ts'

/** Places in and around a home that the editions tell apart. */
export const GROUND_FAULT_PLACES = {
  'underwater-light': 'underwater pool light',
  pool: 'receptacle within 15 ft of a pool',
  outdoors: 'outdoor receptacle',
  'outdoors-at-grade': 'outdoor receptacle reached from the ground',
  bathroom: 'bathroom receptacle',
  garage: 'garage receptacle',
  'kitchen-counter-by-sink': 'kitchen counter receptacle within 6 ft of the sink',
  'kitchen-counter': 'kitchen counter receptacle',
  kitchen: 'kitchen receptacle away from the counter',
  dishwasher: 'dishwasher outlet',
  'basement-unfinished': 'receptacle in an unfinished basement',
  'basement-finished': 'receptacle in a finished basement',
  boathouse: 'boathouse receptacle',
  'crawl-space': 'crawl-space receptacle',
  'crawl-space-lighting': 'crawl-space lighting outlet',
  'wet-bar-sink': 'receptacle within 6 ft of a wet-bar sink',
  'utility-sink': 'receptacle within 6 ft of a laundry or utility sink',
  sink: 'receptacle within 6 ft of a sink',
  'accessory-building': 'receptacle in an unfinished outbuilding at grade',
  tub: 'receptacle within 6 ft of a tub or shower',
  laundry: 'laundry receptacle',
  damp: 'receptacle in a damp or wet place indoors',
  'food-area': 'receptacle in an area with a sink where food or drink is prepared',
} as const
export type GroundFaultPlace = keyof typeof GROUND_FAULT_PLACES

interface PlaceRow extends Omit<RequirementRow, 'article' | 'required'> {
  place: GroundFaultPlace
  /** Left out = the list of dwelling places of that edition. */
  article?: string
  required?: false
}

/** Where protection of the dwelling's receptacles stands in print. */
const ARTICLES: readonly EditionRow<string>[] = [
  { since: '1968', value: '210-8(a)', source: 'from memory; the place history names editions only' },
  { since: '2002', value: '210.8(A)', source: 'NFPA 70 210.8(A)' },
]

/** The edition in which each dwelling place first appears; trade-press histories of 210.8 that agree. */
const PLACE_ROWS: readonly PlaceRow[] = [
  { since: '1968', place: 'underwater-light', article: '680-4(g)', source: 'histories; article from memory' },
  { since: '1971', place: 'pool', article: '680-6', source: 'histories; article from memory' },
  {
    since: '1971',
    place: 'outdoors',
    effectiveOn: day('1973-01-01'),
    source: 'history of 2006; others print 1973 as the edition',
  },
  { since: '1978', place: 'outdoors', required: false, row: 'direct grade access only', source: 'histories' },
  { since: '1996', place: 'outdoors', source: 'histories' },
  {
    since: '1971',
    place: 'outdoors-at-grade',
    effectiveOn: day('1973-01-01'),
    source: 'history of 2006; others print 1973 as the edition',
  },
  { since: '1978', place: 'outdoors-at-grade', row: 'within 6 ft 6 in of grade', source: 'histories' },
  { since: '1975', place: 'bathroom', source: 'histories' },
  { since: '1978', place: 'garage', source: 'histories' },
  { since: '1987', place: 'kitchen-counter-by-sink', source: 'histories' },
  { since: '1996', place: 'kitchen-counter', source: 'histories' },
  { since: '2023', place: 'kitchen', source: 'NFPA 70-2023 210.8(A)(6)' },
  { since: '2014', place: 'dishwasher', article: '210.8(D)', source: 'histories' },
  { since: '1990', place: 'basement-unfinished', source: 'histories; 1987 asked for one receptacle' },
  { since: '2020', place: 'basement-finished', source: 'NFPA 70-2020 210.8(A)(5)' },
  { since: '1987', place: 'boathouse', source: 'histories' },
  { since: '1990', place: 'crawl-space', source: 'histories' },
  { since: '2017', place: 'crawl-space-lighting', article: '210.8(E)', source: 'from memory' },
  { since: '1993', place: 'wet-bar-sink', source: 'histories' },
  { since: '2005', place: 'utility-sink', source: 'histories' },
  { since: '2011', place: 'sink', source: 'from memory; NFPA 70-2023 210.8(A)(8)' },
  { since: '1996', place: 'accessory-building', source: 'histories' },
  { since: '2014', place: 'tub', source: 'histories' },
  { since: '2014', place: 'laundry', source: 'histories' },
  { since: '2020', place: 'damp', source: 'NFPA 70-2020 210.8(A)' },
  { since: '2023', place: 'food-area', source: 'NFPA 70-2023 210.8(A)(7)' },
]

/** The wider place under which a local amendment may name several of ours at once. */
const WITHIN: Partial<Record<GroundFaultPlace, string>> = {
  'outdoors-at-grade': 'outdoors',
  'kitchen-counter-by-sink': 'kitchen',
  'kitchen-counter': 'kitchen',
  dishwasher: 'kitchen',
  'basement-unfinished': 'basement',
  'basement-finished': 'basement',
  'crawl-space-lighting': 'crawl-space',
  'wet-bar-sink': 'sink',
  'utility-sink': 'sink',
}

export const GROUND_FAULT_RULE = 'ground-fault.places'

/** Whether an edition asks for protection of that place; amendments name `ground-fault.places/<place>`. */
export function groundFaultRequirement(place: GroundFaultPlace): Requirement {
  return REQUIREMENTS[place]
}

function requirementOf(place: GroundFaultPlace): Requirement {
  const within = WITHIN[place]
  return {
    keys: [
      GROUND_FAULT_RULE,
      ...(within ? [`${GROUND_FAULT_RULE}/${within}`] : []),
      `${GROUND_FAULT_RULE}/${place}`,
    ],
    rows: PLACE_ROWS.filter((row) => row.place === place).flatMap(articleByEdition),
    before: 'no',
  }
}

/** A row that outlives a renumbering becomes one row for each number. */
function articleByEdition({ place, article, required, ...row }: PlaceRow): RequirementRow[] {
  const words = { row: row.row ?? GROUND_FAULT_PLACES[place], required: required ?? true }
  if (article) return [{ ...row, ...words, article }]
  const first = ARTICLES.findLast((each) => each.since <= row.since)!
  const laterRows = PLACE_ROWS.filter((each) => each.place === place && each.since > row.since)
  const next = laterRows.map((each) => each.since).toSorted()[0]
  const renumbered = ARTICLES.filter((each) => each.since > row.since && (!next || each.since < next))
  return [
    { ...row, ...words, article: first.value },
    ...renumbered.map((each) => ({ ...words, since: each.since, article: each.value, source: row.source })),
  ]
}

const REQUIREMENTS = Object.fromEntries(
  Object.keys(GROUND_FAULT_PLACES).map((place) => [place, requirementOf(place as GroundFaultPlace)]),
) as Record<GroundFaultPlace, Requirement>

/** Receptacles that the list covers. */
export interface Covered {
  maxVolts: number
  maxAmps: number
}
/** 2020 took in receptacles up to 250 V of any rating, on circuits of at most 150 V to ground. */
export const RECEPTACLES_COVERED: readonly EditionRow<Covered>[] = [
  { since: '1968', value: { maxVolts: 125, maxAmps: 20 }, source: 'NFPA 70 210.8(A) before 2020' },
  { since: '2020', value: { maxVolts: 250, maxAmps: Infinity }, source: 'NFPA 70-2020 210.8(A)' },
]

export interface Exemption {
  places: readonly GroundFaultPlace[]
  when: 'dedicated-appliance' | 'part-of-appliance'
  since: Edition
  /** First edition without it. */
  until: Edition | null
  row: string
  source: string
}
/** Receptacles that an edition leaves out of a place it lists. */
export const EXEMPTIONS: readonly Exemption[] = [
  {
    places: ['garage', 'basement-unfinished'],
    when: 'dedicated-appliance',
    since: '1978',
    until: '2008',
    row: 'dedicated space or not readily reached: deleted in 2008',
    source: 'histories; deletion 2008',
  },
  {
    places: ['crawl-space'],
    when: 'dedicated-appliance',
    since: '1990',
    until: '1999',
    row: 'dedicated equipment: removed in 1999',
    source: 'histories',
  },
  {
    places: ['bathroom'],
    when: 'part-of-appliance',
    since: '2023',
    until: null,
    row: 'receptacle built into an exhaust fan',
    source: 'NFPA 70-2023 210.8(A)',
  },
]
