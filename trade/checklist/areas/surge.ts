import { number } from '../../fields.ts'
import { type Area, item } from '../item.ts'

export const surge: Area = {
  id: 'surge',
  title: 'Surge protection',
  items: [
    item({
      id: 'surge.device',
      title: 'Surge protector: type and place',
      plain:
        'A surge protector catches short peaks from storms and from the grid before they reach electronics and appliances.',
      subject: { equipment: 'surge-protector', captures: ['type', 'at', 'lineSide', 'nominalKiloamps'] },
    }),
    item({
      id: 'surge.indicator',
      title: 'Indicator',
      plain: 'Each surge wears the protector out a little. Its lamp shows whether it still protects.',
      subject: { equipment: 'surge-protector', captures: ['indicator'] },
    }),
    item({
      id: 'surge.dates',
      title: "Maker's date and fitted date",
      plain: 'With the dates known, we can remind you before the protector is likely to be worn out.',
      subject: { equipment: 'surge-protector', captures: ['manufacturedOn', 'installedOn', 'lifeYears'] },
    }),
    item({
      id: 'surge.leads',
      title: 'Length and routing of leads',
      plain: 'Short straight wires let the protector act in time; long or looped ones spoil its work.',
      subject: { equipment: 'surge-protector', captures: ['leadsShort'] },
      readings: { leadInches: number('Longest lead', 'in', 0, 120) },
    }),
  ],
}
