import type { Space, SpaceKind } from '../../property.ts'
import { type Applies, whereThereIsAGarage } from '../applies.ts'
import { CAUTIONS } from '../cautions.ts'
import { type Area, type Item, item } from '../item.ts'
import { PROTECTION } from '../readings.ts'

/** Protection is recorded per place, not per device: one device upstream may protect many outlets. */
function place(
  id: string,
  title: string,
  plain: string,
  kinds: readonly SpaceKind[],
  more: { applies?: Applies; where?: (space: Space) => boolean } = {},
): Item {
  const { applies, where } = more
  return item({
    id: `ground-fault.${id}`,
    title,
    plain,
    subject: { space: kinds, ...(where && { where }) },
    ...(applies && { applies }),
    readings: PROTECTION,
    caution: CAUTIONS.groundFault,
  })
}

/** Rooms that have no item of their own but may hold a sink, tub or shower. */
const OTHER_ROOMS: readonly SpaceKind[] = [
  'bedroom',
  'hall',
  'living',
  'dining',
  'family',
  'office',
  'closet',
  'utility',
  'attic-unfinished',
  'attic-habitable',
  'other',
]

export const groundFault: Area = {
  id: 'ground-fault',
  title: 'Ground-fault protection',
  items: [
    place(
      'bathroom',
      'Bathroom outlets',
      'Water and electricity are close together here. The protection cuts the power in a blink when current leaks through a person.',
      ['bathroom'],
    ),
    place(
      'kitchen',
      'Kitchen outlets',
      'Wet hands, sinks and metal appliances make the kitchen a place where this protection matters.',
      ['kitchen'],
    ),
    place(
      'laundry',
      'Laundry outlets',
      'Washing machines bring water and metal together. The protection acts when current leaks to the case.',
      ['laundry'],
    ),
    place(
      'garage',
      'Garage outlets',
      'A concrete floor conducts, above all when wet. The protection guards people using tools there.',
      ['garage'],
      { applies: whereThereIsAGarage },
    ),
    place(
      'outdoors',
      'Outdoor outlets',
      'Outdoors you stand on the earth itself. The protection acts when a tool or cord is damaged.',
      ['outdoors'],
    ),
    place(
      'basement',
      'Basement outlets',
      'Basements can be damp, and their floors conduct. The protection acts when current leaks through a person.',
      ['basement-unfinished', 'basement-finished'],
    ),
    place(
      'crawl-space',
      'Crawl-space outlets',
      'People lie on bare earth here with a lamp or tool in hand. The protection is made for that.',
      ['crawl-space'],
    ),
    place(
      'accessory-building',
      'Outlets in sheds and outbuildings',
      'Sheds have earth or concrete floors and see damaged cords. The protection acts when current leaks.',
      ['accessory-building'],
    ),
    place(
      'sink-or-tub',
      'Outlets near other sinks, tubs and showers',
      'Wherever there is a basin or a tub, water and electricity come close. The protection guards that corner.',
      OTHER_ROOMS,
      { where: (space) => Boolean(space.hasSink || space.hasTubOrShower) },
    ),
  ],
}
