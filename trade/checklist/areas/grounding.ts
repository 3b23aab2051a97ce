import type { EquipmentOf } from '../../equipment.ts'
import { choice, yesNo } from '../../fields.ts'
import { CAUTIONS } from '../cautions.ts'
import { type Area, item, type ItemDraft } from '../item.ts'

const below = (draft: ItemDraft) => item({ caution: CAUTIONS.electrode, ...draft })

/** Bonds of everything else, and those of which nobody has said what they bond, stand with the piping indoors. */
const HAS_ITS_OWN_ITEM: readonly EquipmentOf<'bond'>['details']['of'][] = [
  'water-meter',
  'gas-pipe',
  'communications',
]

export const grounding: Area = {
  id: 'grounding',
  title: 'Grounding electrode system',
  items: [
    below({
      id: 'grounding.electrode',
      title: 'Electrode',
      plain:
        'Rods, pipes or steel in the foundation tie the electrical system to the earth, which steadies it when lightning strikes nearby.',
      subject: {
        equipment: 'electrode',
        captures: [
          'kind',
          'lengthFeet',
          'diameterInches',
          'plateSqFt',
          'buriedInches',
          'rodMaterial',
          'listed',
          'spacingFeet',
          'resistanceOhms',
          'earthContactFeet',
        ],
      },
      readings: { buried: choice('End of the electrode', { buried: 'Buried', reachable: 'Can be reached' }) },
    }),
    below({
      id: 'grounding.conductor',
      title: 'Conductor and clamp',
      plain:
        'The wire to the electrode must be thick enough and its clamp tight, or the earth connection is lost.',
      subject: {
        equipment: 'electrode',
        captures: ['conductorMaterial', 'conductorSize', 'soleConnection', 'clamp'],
      },
    }),
    below({
      id: 'grounding.enough',
      title: 'Electrodes taken together',
      plain:
        'One rod alone often makes poor contact with the soil. A second one, well apart, makes up for it.',
      subject: 'home',
    }),
    below({
      id: 'grounding.water-pipe',
      title: 'Water pipe bonded near its entry',
      plain: 'A metal water pipe is tied to the electrical system so that it cannot become live on its own.',
      subject: {
        equipment: 'electrode',
        where: (electrode: EquipmentOf<'electrode'>) => electrode.details.kind === 'water-pipe',
        captures: ['earthContactFeet', 'bondedFromEntryFeet'],
      },
    }),
    below({
      id: 'grounding.water-piping-bond',
      title: 'Bond of water and other metal piping',
      plain:
        'Metal pipes indoors are tied together, so that nobody can touch two metals at different voltages.',
      subject: {
        equipment: 'bond',
        where: (bond: EquipmentOf<'bond'>) => !HAS_ITS_OWN_ITEM.includes(bond.details.of),
        captures: [
          'of',
          'present',
          'conductorMaterial',
          'conductorSize',
          'clamp',
          'reachable',
          'largestCircuitAmps',
        ],
      },
    }),
    below({
      id: 'grounding.water-meter',
      title: 'Both sides of the water meter joined',
      plain: 'A wire round the water meter keeps the connection when the meter is taken out.',
      subject: {
        equipment: 'bond',
        where: (bond: EquipmentOf<'bond'>) => bond.details.of === 'water-meter',
        captures: ['of', 'present', 'conductorMaterial', 'conductorSize', 'lengthFeet', 'clamp', 'reachable'],
      },
    }),
    below({
      id: 'grounding.communications-bond',
      title: 'Bond of communication systems',
      plain:
        'Telephone, cable and antenna are tied to the same earth as the power, so that a storm drives no current between them.',
      subject: {
        equipment: 'bond',
        where: (bond: EquipmentOf<'bond'>) => bond.details.of === 'communications',
        captures: ['of', 'present', 'conductorMaterial', 'conductorSize', 'lengthFeet', 'clamp', 'reachable'],
      },
    }),
    below({
      id: 'grounding.intersystem',
      title: 'Intersystem bonding termination',
      plain:
        'One shared point for telephone, cable and antenna keeps them at the same voltage as the power in a storm.',
      subject: { equipment: 'service', captures: ['intersystemTermination'] },
      readings: { communicationsJoined: yesNo('Communication systems joined to it') },
    }),
  ],
}
