import { choice, count, yesNo } from '../../fields.ts'
import { CAUTIONS } from '../cautions.ts'
import { type Area, item, type ItemDraft } from '../item.ts'
import { ALONG, TORQUE, VOLTAGE_TEST } from '../readings.ts'

const OPENED = 'panel-cover-off.opened'
const inside = (draft: ItemDraft) => item({ behind: OPENED, caution: CAUTIONS.coverOff, ...draft })

export const panelCoverOff: Area = {
  id: 'panel-cover-off',
  title: 'Distribution panel, cover off',
  items: [
    item({
      id: OPENED,
      title: 'Cover taken off',
      plain:
        'We take the cover off only after checking that it is safe, with a tester proven before and after.',
      subject: { equipment: 'panel' },
      readings: VOLTAGE_TEST,
      required: ['voltageTested'],
      caution: CAUTIONS.coverOff,
    }),
    inside({
      id: 'panel-cover-off.condition',
      title: 'General condition inside',
      plain: 'Rust, water tracks, insects or darkened insulation show that damp or heat has been at work.',
      subject: { equipment: 'panel' },
      readings: {
        rust: yesNo('Rust'),
        dirt: yesNo('Dirt'),
        pests: yesNo('Insects or rodents'),
        waterTrack: yesNo('Water track'),
        discoloured: yesNo('Discoloured insulation'),
      },
      photo: 'always',
    }),
    inside({
      id: 'panel-cover-off.feeder-lugs',
      title: 'Feeder lugs',
      plain: 'These screws carry all the current of the panel. A loose one runs hot and can burn.',
      subject: {
        equipment: 'panel',
        captures: [
          'feederBreakerAmps',
          'feederMaterial',
          'feederSize',
          'feederTerminalC',
          'feederCarriesWholeDwelling',
          'feederGroundMaterial',
          'feederGroundSize',
        ],
      },
      readings: {
        ...TORQUE,
        inhibitor: choice('Oxide inhibitor on aluminium', {
          present: 'Present',
          'dried-out': 'Dried out',
          none: 'None',
        }),
      },
    }),
    inside({
      id: 'panel-cover-off.circuit',
      title: 'Circuit',
      plain:
        'Each breaker must switch off before its wire gets too warm, and each wire must sit tight under its own screw.',
      subject: {
        equipment: 'circuit',
        captures: [
          'position',
          'poles',
          'ratingAmps',
          'device',
          'material',
          'size',
          'wiring',
          'serves',
          'directory',
          'directoryLegible',
          'conductorsUnderTerminal',
          'neutralsUnderTerminal',
          'terminalTakesMore',
          'multiwire',
          'handlesTied',
          'whiteAsHot',
          'whiteRemarked',
          'insulationC',
          'terminalC',
          'ambientC',
          'bundled',
          'stranded',
          'groundMaterial',
          'groundSize',
          'nameplateMinimumCircuitAmps',
          'nameplateMaximumDeviceAmps',
          'loadVA',
          'lengthFeet',
          'aluminiumRepair',
          'addedFeet',
          'addedOutlets',
          'outletArcFault',
        ],
      },
      readings: ALONG,
    }),
    item({
      id: 'panel-cover-off.openings',
      title: 'Unused openings closed',
      plain: 'An open slot lets fingers, tools or insects reach live parts.',
      subject: { equipment: 'panel', captures: ['openings'] },
    }),
    inside({
      id: 'panel-cover-off.neutral-and-ground',
      title: 'Neutral and ground',
      plain:
        'Neutral and ground meet in one place only, at the service. Joined again further on, normal current flows over metal that people touch.',
      subject: { equipment: 'panel', captures: ['role', 'neutralGround'] },
    }),
    inside({
      id: 'panel-cover-off.main-bonding-jumper',
      title: 'Main bonding jumper at the service',
      plain:
        'This link lets a breaker trip when a live wire touches metal. Without it, that metal can stay live.',
      subject: { equipment: 'service', captures: ['mainBondingJumper'] },
    }),
    inside({
      id: 'panel-cover-off.breakers-listed',
      title: 'Breakers made for this panel',
      plain: 'A breaker that was not tested with this panel may fit, and still sit loosely on its bar.',
      subject: { equipment: 'panel', captures: ['breakersListedForPanel'] },
    }),
    item({
      id: 'panel-cover-off.spare-spaces',
      title: 'Spare spaces',
      plain: 'Free places show whether a circuit can be added later without a larger panel.',
      subject: { equipment: 'panel' },
      readings: { spareSpaces: count('Spare spaces', 0, 84) },
      photo: 'none',
    }),
    item({
      id: 'panel-cover-off.disconnects',
      title: 'Number of service disconnects',
      plain: 'In an emergency few movements of the hand must switch everything off.',
      subject: { equipment: 'service', captures: ['disconnects', 'disconnectsArrangement'] },
    }),
    item({
      id: 'panel-cover-off.split-bus',
      title: 'Throws that switch the panel off',
      plain:
        'Some older panels have several main breakers. All of them together must switch the whole panel off.',
      subject: { equipment: 'panel', captures: ['splitBus', 'mainThrows'] },
      photo: 'none',
    }),
    item({
      id: 'panel-cover-off.load',
      title: 'Calculated load against the service',
      plain:
        'Adding up what the home uses shows whether the service is large enough, and what could be added.',
      subject: 'home',
      photo: 'none',
    }),
  ],
}
