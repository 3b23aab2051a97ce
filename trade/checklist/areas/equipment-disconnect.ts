import { number, yesNo } from '../../fields.ts'
import { CAUTIONS } from '../cautions.ts'
import { type Area, item } from '../item.ts'
import { VOLTAGE_TEST } from '../readings.ts'

export const equipmentDisconnect: Area = {
  id: 'equipment-disconnect',
  title: 'Outdoor equipment disconnect',
  items: [
    item({
      id: 'equipment-disconnect.in-sight',
      title: 'In sight and reachable',
      plain:
        'Whoever works on the machine must see the switch that keeps it off. Out of sight, someone else may switch it back on.',
      subject: {
        equipment: 'disconnect',
        captures: ['serves', 'inSight', 'distanceFeet', 'reachable', 'hidesNameplate'],
      },
    }),
    item({
      id: 'equipment-disconnect.clear-space',
      title: 'Clear space',
      plain:
        'The switch needs free space in front, so that it can be reached and worked on without crouching.',
      subject: { equipment: 'disconnect' },
      readings: {
        clearDepthInches: number('Clear depth in front', 'in', 0, 400),
        clearWidthInches: number('Clear width', 'in', 0, 400),
        clearHeightInches: number('Clear height', 'in', 0, 400),
      },
    }),
    item({
      id: 'equipment-disconnect.cover',
      title: 'Cover and dead front',
      plain: 'The cover keeps rain out and fingers away from live parts.',
      subject: { equipment: 'disconnect' },
      readings: { coverSound: yesNo('Cover sound'), deadFront: yesNo('Dead front in place') },
    }),
    item({
      id: 'equipment-disconnect.opened',
      title: 'Disconnect opened',
      plain: 'We open the box only after testing for voltage, so that the inside can be judged.',
      subject: { equipment: 'disconnect' },
      readings: VOLTAGE_TEST,
      required: ['voltageTested'],
      caution: CAUTIONS.coverOff,
    }),
    item({
      id: 'equipment-disconnect.inside',
      title: 'Inside of the disconnect',
      plain:
        'Loose or corroded parts run hot, and nests bring damp. A clean and tight inside lasts as long as the machine it serves.',
      subject: { equipment: 'disconnect', captures: ['insideCondition'] },
      behind: 'equipment-disconnect.opened',
      caution: CAUTIONS.coverOff,
    }),
    item({
      id: 'equipment-disconnect.device',
      title: 'Fuse or breaker against the nameplate',
      plain:
        'The maker prints the largest fuse or breaker the machine may have. A larger one may not act before the machine is damaged.',
      subject: {
        equipment: 'disconnect',
        captures: [
          'deviceKind',
          'deviceAmps',
          'circuitAmps',
          'nameplateMaximumDeviceAmps',
          'nameplateSaysFuse',
        ],
      },
      behind: 'equipment-disconnect.opened',
      caution: CAUTIONS.coverOff,
    }),
    item({
      id: 'equipment-disconnect.conductor',
      title: 'Conductor against the nameplate',
      plain: 'The wire must carry at least what the maker printed on the machine, or it runs warm.',
      subject: {
        equipment: 'disconnect',
        captures: ['conductorMaterial', 'conductorSize', 'terminalC', 'nameplateMinimumCircuitAmps'],
      },
      behind: 'equipment-disconnect.opened',
      caution: CAUTIONS.coverOff,
    }),
    item({
      id: 'equipment-disconnect.service-receptacle',
      title: 'Service receptacle within reach',
      plain: 'An outlet close by lets a technician work without running a cord through the house.',
      subject: { equipment: 'disconnect', captures: ['serviceReceptacleFeet'] },
    }),
    item({
      id: 'equipment-disconnect.ground-fault',
      title: 'Ground-fault protection of the outdoor outlet',
      plain:
        'A machine outdoors stands on damp ground. Ground-fault protection switches it off when current leaks to its metal case.',
      subject: {
        equipment: 'disconnect',
        captures: ['voltsToGround', 'circuitAmps', 'groundFaultProtected'],
      },
      caution: CAUTIONS.groundFault,
    }),
  ],
}
