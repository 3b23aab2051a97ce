import { choice, count, yesNo } from '../../fields.ts'
import { CAUTIONS } from '../cautions.ts'
import { type Area, item } from '../item.ts'
import { ALONG, TESTER, VOLTAGE } from '../readings.ts'
import { PLACES_WITH_OUTLETS } from './places.ts'

export const receptacles: Area = {
  id: 'receptacles',
  title: 'Receptacles',
  items: [
    item({
      id: 'receptacles.room',
      title: 'Receptacles of the room, sampled',
      plain:
        'A tester and a meter show whether outlets are wired the right way round, grounded, and hold their voltage under load.',
      subject: { space: PLACES_WITH_OUTLETS },
      readings: {
        ...TESTER,
        ...VOLTAGE,
        steady: yesNo('Device steady in the box, box steady in the wall'),
        ...ALONG,
      },
      caution: CAUTIONS.receptacle,
    }),
    item({
      id: 'receptacles.opened',
      title: 'Opened receptacles: terminations',
      plain:
        'Most heat in old wiring arises where a wire meets a screw. We open a few outlets to see how they were connected.',
      subject: 'home',
      readings: {
        openedCount: count('Opened', 0, 200),
        nicked: yesNo('Conductor cut or nicked'),
        pushIn: choice('Push-in terminations', {
          none: 'None',
          tight: 'There, tight',
          loose: 'There, loose',
        }),
        loopRight: yesNo('Loops round the screw, in the turning direction'),
        insulationUnderScrew: yesNo('Insulation under a screw'),
        tight: yesNo('Tight'),
        unusedScrewsIn: yesNo('Unused screws driven in'),
        groundConnected: yesNo('Grounding conductor connected'),
      },
      caution: CAUTIONS.receptacle,
    }),
    item({
      id: 'receptacles.device',
      title: 'Receptacle',
      plain: 'A sound outlet grips the plug, has its ground, and has no cracks or burn marks.',
      subject: {
        equipment: 'receptacle',
        captures: [
          'place',
          'slots',
          'groundPresent',
          'groundFault',
          'groundFaultMarked',
          'noGroundMarked',
          'tamperResistant',
          'weatherResistant',
          'inUseCover',
          'condition',
          'volts',
          'amps',
          'heightInches',
          'partOfAppliance',
          'dedicatedAppliance',
          'replacedOnOrAfterBuild',
          'manufacturedOn',
        ],
      },
      caution: CAUTIONS.receptacle,
    }),
    item({
      id: 'receptacles.ungrounded',
      title: 'Two-slot and ungrounded outlets',
      plain:
        'Older homes often have outlets without a ground. There are several accepted ways to live with or improve them.',
      subject: 'home',
      readings: {
        twoSlot: count('Two-slot outlets seen', 0, 200),
        ungroundedThreeSlot: count('Three-slot outlets without ground', 0, 200),
      },
    }),
  ],
}
