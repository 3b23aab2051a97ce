import { materialField, sizeField } from '../conductors/sizes.ts'
import { choice, count, number, text, yesNo } from '../fields.ts'

/** Readings that more than one item asks for. */

export const VOLTAGE_TEST = {
  voltageTested: yesNo(
    'Voltage test done, tester proven before and after',
    'Live, dead, live: a known source, the work, the known source again',
  ),
} as const

export const TORQUE = {
  toolCheckedToLabel: yesNo('Tightened or checked with a torque tool to the label'),
  torque: number('Torque read', 'lbfIn', 0, 2000, { help: 'The lowest of the lugs' }),
  torqueUnit: choice('Unit of the reading', { lbfIn: 'lbf·in', lbfFt: 'lbf·ft', Nm: 'N·m' }),
  labelTorque: number('Torque on the label', 'lbfIn', 0, 2000, { help: 'In the same unit as the reading' }),
  screw: choice('Screw', {
    'slot-small': 'Slotted, slot no more than 0.047 in wide and 1/4 in long',
    'slot-large': 'Slotted, larger slot',
    'split-bolt': 'Split bolt',
    hex: 'Hexagon head',
    socket: 'Socket (hexagon key)',
  }),
  socketInches: choice('Key across flats', {
    '1/8': '1/8 in',
    '5/32': '5/32 in',
    '3/16': '3/16 in',
    '7/32': '7/32 in',
    '1/4': '1/4 in',
    '5/16': '5/16 in',
    '3/8': '3/8 in',
    '1/2': '1/2 in',
  }),
  conductorMaterial: materialField('Conductor material'),
  conductorSize: sizeField('Conductor size'),
} as const

export const TESTER = {
  pattern: choice(
    'Tester pattern',
    {
      correct: 'Correct',
      'open-ground': 'Open ground',
      'open-neutral': 'Open neutral',
      'open-hot': 'Open hot',
      'hot-neutral-reversed': 'Hot and neutral reversed',
      'hot-ground-reversed': 'Hot and ground reversed',
      'all-lit': 'All lamps lit',
    },
    'Unplug other loads first. The worst pattern seen in this room',
  ),
  loadsUnplugged: yesNo('Other loads on the circuit unplugged'),
  sampled: count('Receptacles tried', 0, 60),
  opened: count('Of these opened', 0, 60),
} as const

/** Voltage from outlet to outlet along one circuit; trade/voltage-drop/points.ts reads it. */
export const ALONG = {
  dropAlong: text('Voltage along the circuit', 2000, 'Outlet by outlet from the panel: no load, then loaded'),
} as const

export const VOLTAGE = {
  volts: number('Voltage, no load', 'V', 0, 300),
  loadedVolts: number('Voltage under load', 'V', 0, 300),
  loadAmps: number('Test load', 'A', 0, 60),
  neutralGroundVolts: number('Neutral to ground under load', 'V', 0, 300),
  runFeet: number('One-way length to the panel', 'ft', 0, 1000),
  runMaterial: materialField('Conductor material of the run'),
  runSize: sizeField('Conductor size of the run'),
} as const

export const PROTECTION = {
  protectedBy: choice('Protected by', {
    none: 'Nothing',
    receptacle: 'A receptacle here',
    upstream: 'A receptacle upstream',
    breaker: 'Its breaker',
    'blank-face': 'A switch-type device without outlets',
  }),
  deviceAt: text('Where that device is', 80),
  ownButtonTrips: yesNo('Trips by its own button'),
  testerTrips: yesNo('Trips by the tester'),
  resets: yesNo('Resets'),
  pattern: TESTER.pattern,
  tripMilliamps: number('Trip current', 'mA', 0, 300),
  tripMs: number('Trip time', 'ms', 0, 20_000),
} as const

export const LIGHT = {
  illuminance: number('Light measured', 'fc', 0, 2000),
  illuminanceUnit: choice('Unit of the reading', { fc: 'footcandles', lx: 'lux' }),
  judged: choice('Judged by eye', { enough: 'Enough for its use', poor: 'Poor', none: 'None' }),
} as const
