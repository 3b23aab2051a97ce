import { number } from '../../fields.ts'
import { STAIR_READINGS } from '../../lighting/stair-light.ts'
import { type Area, item } from '../item.ts'
import { LIGHT } from '../readings.ts'
import { PLACES_TO_LIGHT } from './places.ts'

export const lighting: Area = {
  id: 'lighting',
  title: 'Lighting',
  items: [
    item({
      id: 'lighting.room',
      title: 'Enough light for its use',
      plain:
        'Good light prevents falls and tired eyes. Each room needs as much as what is done in it asks for.',
      subject: { space: PLACES_TO_LIGHT },
      readings: LIGHT,
      photo: 'none',
    }),
    item({
      id: 'lighting.stairs',
      title: 'Light and control on stairs',
      plain:
        'Stairs need light, and a switch, at the top and at the bottom, so that nobody climbs in the dark.',
      subject: { space: ['stairs'] },
      readings: STAIR_READINGS,
    }),
    item({
      id: 'lighting.luminaire',
      title: 'Luminaire',
      plain:
        'A lamp stronger than the fitting allows bakes its wires. Insulation against a hot fitting does the same.',
      subject: {
        equipment: 'luminaire',
        captures: [
          'kind',
          'condition',
          'lamps',
          'lampWatts',
          'markedMaxWatts',
          'lumensPerLamp',
          'hoursPerDay',
          'insulationContactRated',
          'touchesInsulation',
        ],
      },
    }),
    item({
      id: 'lighting.saving',
      title: 'Saving with LED lamps',
      plain:
        'From the watts, the hours and your price of electricity we can work out what LED lamps would save.',
      subject: 'home',
      readings: {
        centsPerKwh: number('Price of electricity, cents per kWh', 'count', 0, 200),
        lampCents: number('Price of one LED lamp, cents', 'count', 0, 20_000),
        ledWatts: number('Watts of one LED lamp', 'W', 0, 200),
      },
      photo: 'none',
    }),
  ],
}
