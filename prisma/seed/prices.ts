import { groundFault } from '../../trade/checklist/areas/ground-fault.ts'
import type { Prisma } from '../generated/client.ts'
import type { Chance } from './chance.ts'

type Line = [code: string, name: string, unit: string, priceCents: number, correctsItems: string[]]

/** Made up, as is the tax on parts: 5.50 %. */
const PRICES: Line[] = [
  ['ALM-10', 'Smoke alarm with a ten-year battery, fitted', 'each', 8900, ['alarms.smoke-coverage']],
  ['ALM-20', 'Alarm for smoke and carbon monoxide, fitted', 'each', 12_900, ['alarms.co-coverage']],
  [
    'ALM-30',
    'Alarm on house current, replaced like for like',
    'each',
    11_500,
    ['alarms.device', 'alarms.ages'],
  ],
  ['ALM-40', 'Wireless link between alarms, set up', 'each', 6500, ['alarms.interconnection']],
  [
    'GFC-10',
    'Receptacle with ground-fault protection, fitted',
    'each',
    16_500,
    groundFault.items.map(({ id }) => id),
  ],
  [
    'GND-10',
    'Ground rod with clamp and conductor',
    'each',
    28_500,
    ['grounding.electrode', 'grounding.enough'],
  ],
  ['GND-20', 'Bonding jumper around the water meter', 'each', 14_500, ['grounding.water-meter']],
  ['GND-30', 'Bonding of gas tubing', 'each', 19_500, ['gas-bond.bond', 'gas-bond.clamp']],
  ['PNL-10', 'Open knockouts and spaces closed', 'each', 2500, ['panel-cover-off.openings']],
  ['PNL-20', 'Circuit directory traced and written', 'each', 18_500, ['panel-cover-on.directory']],
  ['PNL-30', 'Breaker fitted to its conductor', 'each', 15_500, ['panel-cover-off.circuit']],
  [
    'REC-10',
    'Receptacle replaced, tamper-resistant',
    'each',
    14_500,
    ['receptacles.device', 'receptacles.room'],
  ],
  [
    'SRG-10',
    'Surge protector at the panel',
    'each',
    38_500,
    ['surge.device', 'surge.indicator', 'surge.dates'],
  ],
  ['SWT-10', 'Switch replaced', 'each', 11_000, ['switches.device']],
  ['WRK-10', 'Work by the hour', 'hour', 12_500, []],
  ['WRK-20', 'Branch cable drawn in', 'foot', 650, []],
]
const UNTAXED = /^WRK-10$/

export function demoPrices(chance: Chance, since: Date): Prisma.PriceItemCreateManyInput[] {
  return PRICES.map(([code, name, unit, priceCents, correctsItems]) => ({
    id: chance.id(since),
    code,
    name,
    unit,
    priceCents,
    taxBasisPoints: UNTAXED.test(code) ? 0 : 550,
    correctsItems,
    updatedAt: since,
  }))
}
