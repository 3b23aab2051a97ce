import type { EquipmentOf } from '../../equipment.ts'
import { whereGasIsPiped } from '../applies.ts'
import { CAUTIONS } from '../cautions.ts'
import { type Area, item, type ItemDraft } from '../item.ts'

const gas = (draft: ItemDraft) => item({ applies: whereGasIsPiped, caution: CAUTIONS.gas, ...draft })

export const gasBond: Area = {
  id: 'gas-bond',
  title: 'Gas piping bond',
  items: [
    gas({
      id: 'gas-bond.pipe-kind',
      title: 'Kind of gas piping',
      plain:
        'Thin corrugated gas tube needs a bond of its own; rigid pipe usually gets by with what is there.',
      subject: {
        equipment: 'bond',
        where: (bond: EquipmentOf<'bond'>) => bond.details.of === 'gas-pipe',
        captures: ['of', 'gasPipe'],
      },
    }),
    gas({
      id: 'gas-bond.bond',
      title: 'Bond and its conductor',
      plain:
        'A wire ties the gas pipe to the electrical ground. Without it, lightning nearby can spark through the wall of a thin tube.',
      subject: {
        equipment: 'bond',
        where: (bond: EquipmentOf<'bond'>) => bond.details.of === 'gas-pipe',
        captures: [
          'present',
          'conductorMaterial',
          'conductorSize',
          'lengthFeet',
          'largestCircuitAmps',
          'reachable',
        ],
      },
    }),
    gas({
      id: 'gas-bond.clamp',
      title: 'Clamp on rigid pipe or a fitting',
      plain: 'The clamp sits on solid pipe. On the corrugated tube itself it would dent and weaken it.',
      subject: {
        equipment: 'bond',
        where: (bond: EquipmentOf<'bond'>) => bond.details.of === 'gas-pipe',
        captures: ['clamp', 'clampedOn'],
      },
    }),
  ],
}
