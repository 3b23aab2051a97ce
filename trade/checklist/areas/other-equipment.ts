import type { DetailsOf, EquipmentOf } from '../../equipment.ts'
import { CAUTIONS } from '../cautions.ts'
import { type Area, type Capture, type Item, item } from '../item.ts'

const USUAL = ['condition', 'protected', 'bonded', 'labelled', 'disconnectPresent', 'loadVA'] as const

function when(
  what: NonNullable<DetailsOf<'other'>['what']>,
  title: string,
  plain: string,
  more: { captures?: readonly Capture<'other'>[]; caution?: string } = {},
): Item {
  return item({
    id: `other-equipment.${what}`,
    title,
    plain,
    subject: {
      equipment: 'other',
      where: ({ details }: EquipmentOf<'other'>) => (details.what ?? 'other') === what,
      captures: [...USUAL, ...(more.captures ?? [])],
    },
    ...(more.caution && { caution: more.caution }),
  })
}

export const otherEquipment: Area = {
  id: 'other-equipment',
  title: 'Other equipment',
  items: [
    when(
      'generator',
      'Generator inlet and transfer equipment',
      'A generator must never feed the street: a lineman at work there could be hurt. The transfer switch keeps the two apart.',
      { captures: ['transferEquipment'], caution: CAUTIONS.secondSource },
    ),
    when(
      'vehicle-charger',
      'Vehicle charging',
      'A charger runs for hours at full load. Its wire and breaker must be made for that.',
    ),
    when(
      'solar',
      'Solar and storage',
      'Solar and batteries stay live when the main switch is off. Labels and switches tell others so.',
      { caution: CAUTIONS.secondSource },
    ),
    when(
      'pool',
      'Pool and spa',
      'Around a pool all metal is tied together, so that no part of it can be at another voltage than the water.',
      { caution: CAUTIONS.water },
    ),
    when(
      'well-pump',
      'Well pump',
      'The pump stands in water and metal: it needs its own protection and a bond.',
    ),
    when(
      'sump-pump',
      'Sump pump',
      'This pump keeps the basement dry, so it must both be safe and keep running.',
      { caution: CAUTIONS.water },
    ),
    when(
      'other',
      'Anything else',
      'Whatever else is wired in gets the same look: condition, protection, labels.',
    ),
  ],
}
