import { day, dayOf } from '../../trade/dates.ts'
import type { Equipment } from '../../trade/equipment.ts'
import type { Home } from '../../trade/home.ts'
import type { Property, Space, SpaceKind } from '../../trade/property.ts'
import type { Jurisdiction } from '../../trade/whole-home/context.ts'
import { serviceAndGrounding } from './big-home-service.ts'
import { piece, range } from './pieces.ts'

/** A plausible large home, the same every time: 60 circuits in two panels, 80 devices, and what a service needs. */

export const BIG_HOME_TODAY = day('2026-05-20')

export const BIG_HOME_JURISDICTION: Jurisdiction = {
  name: 'Port Ansel',
  isUs: true,
  adoptions: [
    { edition: '1993', from: day('1994-07-01') },
    { edition: '2002', from: day('2003-01-01') },
    { edition: '2014', from: day('2015-01-01') },
    { edition: '2020', from: day('2021-01-01') },
    { edition: '2023', from: day('2024-07-01') },
  ],
  amendments: [
    {
      requirement: 'ground-fault.place/kitchen',
      effect: 'postpone',
      from: day('2025-01-01'),
      source: 'Port Ansel ordinance 112',
    },
  ],
}

const PROPERTY: Property = {
  yearBuilt: 2004,
  yearAltered: null,
  levels: 3,
  areaSqFt: 3400,
  fuels: ['electric', 'natural-gas'],
  hasGasPiping: true,
  garage: 'attached',
  garageOpensIntoHome: true,
  tenure: 'owner',
  lastInspectedOn: day('2017-04-03'),
  soldOn: null,
}

const ROOMS: readonly [SpaceKind, string, number][] = [
  ['basement-unfinished', 'Basement', -1],
  ['utility', 'Utility room', -1],
  ['kitchen', 'Kitchen', 0],
  ['dining', 'Dining room', 0],
  ['living', 'Living room', 0],
  ['laundry', 'Laundry', 0],
  ['bathroom', 'Downstairs bath', 0],
  ['garage', 'Garage', 0],
  ['outdoors', 'Outdoors', 0],
  ['stairs', 'Stairs', 0],
  ['hall', 'Upstairs hall', 1],
  ['bedroom', 'North bedroom', 1],
  ['bedroom', 'East bedroom', 1],
  ['bedroom', 'South bedroom', 1],
  ['bathroom', 'Upstairs bath', 1],
  ['office', 'Home office', 1],
]

const SPACES: readonly Space[] = ROOMS.map(([kind, name, level], i) => ({
  id: `space-${i}`,
  kind,
  name,
  level,
  areaSqFt: 90 + ((i * 37) % 160),
  hasSink: kind === 'laundry' || null,
  hasFuelBurner: kind === 'utility' || null,
  sleepingArea: kind === 'bedroom' ? 'upstairs' : null,
}))

function spaceId(i: number): string {
  return SPACES[i % SPACES.length]!.id
}

const SERVES = [
  'lighting',
  'receptacles',
  'small-appliance',
  'lighting-and-receptacles',
  'laundry',
  'bathroom',
] as const

function circuit(i: number): Equipment {
  const large = i % 10 === 7
  return piece(
    'circuit',
    `circuit-${i}`,
    {
      position: (i % 40) + 1,
      poles: large ? 2 : 1,
      ratingAmps: large ? 30 : i % 3 === 0 ? 15 : 20,
      device: i % 4 === 0 ? 'afci' : 'breaker',
      material: i % 13 === 12 ? 'aluminium' : 'copper',
      size: large ? '10' : i % 3 === 1 ? '12' : '14',
      wiring: 'nm',
      insulationC: '90',
      terminalC: '75',
      serves: large ? 'dryer' : SERVES[i % SERVES.length],
      directory: i % 5 === 0 ? 'Lights' : `${SPACES[i % SPACES.length]!.name} outlets`,
      directoryLegible: true,
      conductorsUnderTerminal: i % 17 === 0 ? 2 : 1,
      neutralsUnderTerminal: 1,
      multiwire: i % 11 === 0,
      handlesTied: i % 22 === 0,
      groundSize: large ? '10' : '12',
      groundMaterial: 'copper',
      ...(large && { loadVA: 5000 }),
      lengthFeet: 30 + (i % 7) * 10,
    },
    { parentId: i < 40 ? 'panel-main' : 'panel-garage', installedOn: i % 9 === 0 ? day('2022-03-01') : null },
  )
}

function receptacle(i: number): Equipment {
  return piece(
    'receptacle',
    `receptacle-${i}`,
    {
      slots: i % 12 === 11 ? 'two' : 'three',
      volts: 120,
      amps: i % 2 ? 15 : 20,
      heightInches: 18,
      place: i % 6 === 0 ? 'near-sink' : 'general',
      tamperResistant: i % 3 === 0,
      groundFault: i % 6 === 0 ? 'itself' : i % 5 === 0 ? 'none' : 'upstream',
      groundPresent: i % 12 !== 11,
      condition: 'sound',
    },
    { spaceId: spaceId(i), parentId: `circuit-${i}`, manufacturedOn: dayOf(2003 + (i % 20), 3, 1) },
  )
}

function luminaire(i: number): Equipment {
  return piece(
    'luminaire',
    `luminaire-${i}`,
    {
      kind: i % 3 === 0 ? 'recessed' : 'surface',
      lamps: 1 + (i % 3),
      lampWatts: i % 4 === 0 ? 75 : 9,
      markedMaxWatts: 60,
      lumensPerLamp: 800,
      hoursPerDay: 3,
      insulationContactRated: i % 2 === 0,
      touchesInsulation: i % 6 === 0,
      condition: 'sound',
    },
    { spaceId: spaceId(i) },
  )
}

function alarm(i: number): Equipment {
  const year = 2012 + (i % 12)
  return piece(
    'alarm',
    `alarm-${i}`,
    {
      senses: i % 4 === 3 ? 'smoke-and-co' : 'smoke',
      sensor: i % 2 ? 'photoelectric' : 'ionisation',
      power: 'mains-and-battery',
      interconnected: i % 5 !== 0,
      labelText: `${year}APR1${i % 10}`,
      buttonTest: 'sounds',
      heardElsewhere: true,
      cookingFeet: 12 + i,
      bathDoorInches: 60,
      mounted: 'ceiling',
    },
    { spaceId: spaceId(i + 10), manufacturedOn: dayOf(year, 4, 10 + (i % 10)) },
  )
}

/** 60 circuits, 80 devices (36 receptacles, 20 luminaires, 14 switches, 10 alarms), 16 spaces. */
export function bigHome(): Home {
  return {
    property: PROPERTY,
    spaces: SPACES,
    equipment: [
      ...serviceAndGrounding({ utilityId: spaceId(1), garageId: spaceId(7) }),
      ...range(60).map(circuit),
      ...range(36).map(receptacle),
      ...range(20).map(luminaire),
      ...range(14).map((i) =>
        piece(
          'switch',
          `switch-${i}`,
          { control: i % 4 === 0 ? 'dimmer' : 'single', ratedWatts: 600, loadWatts: 90, condition: 'sound' },
          { spaceId: spaceId(i) },
        ),
      ),
      ...range(10).map(alarm),
    ],
  }
}
