import type { SpaceKind } from '../property.ts'

/** Words and short forms by which a directory line names a room; common practice, no source. */
export const ROOM_WORDS: Readonly<Partial<Record<SpaceKind, readonly string[]>>> = {
  bedroom: ['bedroom', 'bedrooms', 'bedrm', 'bdrm', 'br', 'bed', 'nursery'],
  hall: ['hall', 'hallway', 'foyer', 'entry', 'corridor'],
  stairs: ['stair', 'stairs', 'stairway', 'staircase'],
  living: ['living', 'parlor', 'parlour', 'lr'],
  dining: ['dining', 'dr', 'breakfast'],
  family: ['family', 'den', 'recroom', 'recreation', 'playroom', 'library', 'sunroom', 'bonus'],
  kitchen: ['kitchen', 'kit', 'island', 'counter'],
  bathroom: ['bathroom', 'bath', 'baths', 'bathrooms', 'powder', 'toilet'],
  laundry: ['laundry', 'washer'],
  office: ['office', 'study'],
  closet: ['closet', 'closets', 'pantry'],
  utility: ['utility', 'mechanical', 'mudroom', 'mud'],
  'crawl-space': ['crawl', 'crawlspace'],
  garage: ['garage', 'carport'],
  'accessory-building': ['shed', 'barn', 'workshop', 'shop', 'outbuilding'],
  outdoors: [
    'outdoor',
    'outdoors',
    'outside',
    'exterior',
    'patio',
    'porch',
    'deck',
    'yard',
    'garden',
    'driveway',
  ],
}
/** Words that say what kind of load hangs on a circuit but not which one; fillers and guesses. */
export const GENERAL_WORDS: readonly string[] = [
  ...['light', 'lights', 'lighting', 'ltg', 'lts', 'lamp', 'lamps', 'fixture', 'fixtures'],
  ...['plug', 'plugs', 'outlet', 'outlets', 'receptacle', 'receptacles', 'recep', 'receps', 'recept', 'rec'],
  ...['circuit', 'circuits', 'ckt', 'breaker', 'switch', 'switches', 'power', 'electric', 'general', 'gen'],
  ...['room', 'rooms', 'house', 'home', 'area', 'load', 'loads', 'stuff', 'things', 'other', 'others'],
  ...['misc', 'miscellaneous', 'various', 'several', 'some', 'unknown', 'tbd', 'same', 'ditto', 'etc'],
  ...[
    'new',
    'old',
    'extra',
    'main',
    'more',
    'not',
    'sure',
    'used',
    'in',
    'use',
    'the',
    'a',
    'of',
    'for',
    'to',
  ],
  ...['and', 'or', 'with', 'all', 'on', 'off', 'no', 'do', 'dont', 'amp', 'amps', 'volt', 'volts', 'v'],
  ...['up', 'down', 'upstairs', 'downstairs', 'upper', 'lower', 'floor', 'level', '1st', '2nd', '3rd'],
  ...['first', 'second', 'third', 'left', 'right', 'front', 'back', 'rear', 'north', 'south', 'east', 'west'],
]

/** Marks of a place nothing is connected to. */
export const SPARE_WORDS: readonly string[] = ['spare', 'space', 'unused', 'blank', 'empty', 'not used']

/** People whose room is another's after the next move. Names show by their possessive. */
export const PEOPLE_WORDS: readonly string[] = [
  ...['mom', 'moms', 'mum', 'mums', 'mother', 'dad', 'dads', 'father', 'kid', 'kids', 'boy', 'boys', 'girl'],
  ...['girls', 'son', 'sons', 'daughter', 'daughters', 'baby', 'babys', 'child', 'children', 'childrens'],
  ...['teen', 'teens', 'twins', 'grandma', 'grandmas', 'grandpa', 'grandpas', 'granny', 'grannys', 'wife'],
  ...[
    'husband',
    'law',
    'laws',
    'tenant',
    'tenants',
    'roommate',
    'roommates',
    'inlaw',
    'inlaws',
    'my',
    'our',
    'his',
    'her',
  ],
]
