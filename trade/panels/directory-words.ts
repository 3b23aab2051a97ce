import type { SpaceKind } from '../property.ts'

const list = (words: string): string[] => words.split(' ')

/** Words and short forms by which a directory line names a room; common practice, no source. */
export const ROOM_WORDS: Readonly<Partial<Record<SpaceKind, readonly string[]>>> = {
  bedroom: list('bedroom bedrooms bedrm bdrm br bed nursery'),
  hall: list('hall hallway foyer entry corridor'),
  stairs: list('stair stairs stairway staircase'),
  living: list('living parlor parlour lr'),
  dining: list('dining dr breakfast'),
  family: list('family den recroom recreation playroom library sunroom bonus'),
  kitchen: list('kitchen kit island counter'),
  bathroom: list('bathroom bath baths bathrooms powder toilet'),
  laundry: list('laundry washer'),
  office: list('office study'),
  closet: list('closet closets pantry'),
  utility: list('utility mechanical mudroom mud'),
  'crawl-space': list('crawl crawlspace'),
  garage: list('garage carport'),
  'accessory-building': list('shed barn workshop shop outbuilding'),
  outdoors: list('outdoor outdoors outside exterior patio porch deck yard garden driveway'),
}

/** Words that say what kind of load hangs on a circuit but not which one; fillers and guesses. */
export const GENERAL_WORDS: ReadonlySet<string> = new Set([
  ...list('light lights lighting ltg lts lamp lamps fixture fixtures plug plugs outlet outlets rec'),
  ...list('receptacle receptacles recep receps recept circuit circuits ckt breaker switch switches'),
  ...list('power electric general gen room rooms house home area load loads stuff things other others'),
  ...list('misc miscellaneous various several some unknown tbd same ditto etc new old extra main more'),
  ...list('not sure know used in use the a of for to and or with all on off no do dont amp amps volt v'),
  ...list('up down upstairs downstairs upper lower floor level 1st 2nd 3rd first second third left right'),
  ...list('front back rear north south east west'),
])

/** Marks of a place nothing is connected to. */
export const SPARE_WORDS: ReadonlySet<string> = new Set([
  ...list('spare space unused blank empty'),
  'not used',
])

/** People whose room is another's after the next move. Names show by their possessive. */
export const PEOPLE_WORDS: ReadonlySet<string> = new Set([
  ...list('mom moms mum mums mother dad dads father kid kids boy boys girl girls son sons daughter'),
  ...list('daughters baby babys child children childrens teen teens twins grandma grandmas grandpa'),
  ...list('grandpas granny grannys wife husband law laws tenant tenants roommate roommates inlaw inlaws'),
  ...list('my our his her'),
])
