import { type Day, yearOf } from '../../trade/dates.ts'
import type { ConductorMaterial, ConductorSize } from '../../trade/conductors/sizes.ts'
import type { DetailsOf, Equipment, EquipmentKind } from '../../trade/equipment.ts'
import type { Chance } from './chance.ts'
import { type DemoHome, someDayIn } from './homes.ts'

type Draft<Kind extends EquipmentKind> = {
  label: string
  details: DetailsOf<Kind>
  spaceId?: string | null
  parentId?: string | null
  manufacturedOn?: Day | null
  installedOn?: Day | null
}

/** Everything that was seen at a home at its last inspection, of an age that fits the home. */
export function demoEquipment(chance: Chance, home: DemoHome, today: Day): Equipment[] {
  const made: Equipment[] = []
  const add = <Kind extends EquipmentKind>(kind: Kind, draft: Draft<Kind>): string => {
    const id = chance.id(new Date(0))
    made.push({
      id,
      kind,
      spaceId: null,
      parentId: null,
      manufacturedOn: null,
      installedOn: null,
      retiredOn: null,
      ...draft,
    } as unknown as Equipment)
    return id
  }
  const place = (kind: string) => home.spaces.find((space) => space.kind === kind)?.id ?? null
  const built = home.property.yearBuilt
  const serviceYear = built < 1975 && chance.percent(55) ? chance.whole(1988, yearOf(today) - 1) : built
  const serviceOn = someDayIn(chance, serviceYear, today)

  const ratingAmps = serviceRating(chance, serviceYear)
  addService(chance, home, { year: serviceYear, installedOn: serviceOn, ratingAmps, today }, add, place)
  addPanel(chance, home, { year: serviceYear, installedOn: serviceOn, ratingAmps }, add, place)
  addGrounding(chance, home, serviceYear, add)
  addAlarms(chance, home, today, add)
  addDevices(chance, home, add, place)
  return made
}

type Add = <Kind extends EquipmentKind>(kind: Kind, draft: Draft<Kind>) => string
type Place = (kind: string) => string | null

interface ServiceFacts {
  year: number
  installedOn: Day
  ratingAmps: number
}

function serviceRating(chance: Chance, year: number): number {
  if (year < 1965) return chance.pick([60, 100])
  return year < 1990 ? chance.pick([100, 150]) : chance.pick([150, 200, 200])
}

function addService(
  chance: Chance,
  home: DemoHome,
  { year, installedOn, ratingAmps, today }: ServiceFacts & { today: Day },
  add: Add,
  place: Place,
): void {
  const isCopper = chance.percent(30)
  const sizes: Record<number, [ConductorSize, ConductorSize]> = {
    60: ['6', '4'],
    100: ['4', '2'],
    150: ['1', '2/0'],
    200: ['2/0', '4/0'],
  }
  const size = sizes[ratingAmps]![isCopper ? 0 : 1]
  add('service', {
    label: `${ratingAmps} A service`,
    spaceId: place('outdoors'),
    installedOn,
    details: {
      ratingAmps,
      supply: chance.percent(65) ? 'overhead' : 'underground',
      conductorMaterial: isCopper ? 'copper' : 'aluminium',
      conductorSize: size,
      conductorsCorrected: false,
      disconnects: 1,
      disconnectsArrangement: 'one',
      emergencyDisconnect: year >= 2021 ? 'present' : chance.percent(12) ? 'present' : 'absent',
      mainBondingJumper: true,
      electrodeConductorMaterial: 'copper',
      electrodeConductorSize: ratingAmps >= 200 ? '4' : ratingAmps >= 150 ? '6' : '8',
      intersystemTermination: year >= 2009,
      lastReplaced: year === home.property.yearBuilt ? 'none' : 'service-equipment',
      ...(!isCopper && { oxideInhibitor: chance.pick(['present', 'present', 'dried-out', 'none'] as const) }),
    },
  })
  if (chance.percent(year >= 2021 ? 100 : 34)) {
    const made = someDayIn(chance, Math.max(year, chance.whole(2016, yearOf(today) - 1)), today)
    add('surge-protector', {
      label: 'Whole-home surge protector',
      spaceId: place('basement-unfinished') ?? place('basement-finished') ?? place('garage'),
      manufacturedOn: made,
      installedOn: made,
      details: {
        type: '2',
        at: chance.pick(['in-panel', 'beside-panel'] as const),
        lineSide: false,
        indicator: chance.percent(86) ? 'good' : chance.pick(['dark', 'fault'] as const),
        nominalKiloamps: chance.pick([10, 20]),
        leadsShort: chance.percent(80),
      },
    })
  }
}

interface CircuitPlan {
  amps: number
  size: ConductorSize
  serves: NonNullable<DetailsOf<'circuit'>['serves']>
  says: string
  poles?: number
  loadVA?: number
}

function addPanel(
  chance: Chance,
  home: DemoHome,
  { year, installedOn, ratingAmps }: ServiceFacts,
  add: Add,
  place: Place,
): void {
  // Here and there somebody put in a larger main breaker than the service conductors bear.
  const mainAmps = chance.percent(1) ? ratingAmps + 50 : ratingAmps
  const isSloppy = chance.percent(22)
  const where =
    place('basement-unfinished') ?? place('basement-finished') ?? place('garage') ?? place('laundry')
  const panelId = add('panel', {
    label: 'Main panel',
    spaceId: where,
    installedOn,
    details: {
      role: 'service',
      busAmps: Math.max(year < 1990 ? 125 : 200, mainAmps),
      mainAmps,
      positions: year < 1990 ? 20 : 40,
      neutralGround: 'joined',
      openings: chance.percent(10) ? 1 : 0,
      widthInches: 14,
      workingWidthInches: chance.percent(88) ? 36 : 26,
      workingDepthInches: chance.percent(92) ? 40 : 30,
      workingHeightInches: 80,
      doorOpensFully: true,
      breakersListedForPanel: chance.percent(95),
      signsOfHeat: chance.percent(3),
    },
  })
  const aluminium = home.property.yearBuilt >= 1965 && home.property.yearBuilt <= 1973 && chance.percent(60)
  // Odd numbers run down the left side, even ones down the right; two poles take two of the same side.
  const next = { left: 1, right: 2 }
  for (const plan of circuitsOf(chance, home)) {
    const side = next.left < next.right ? 'left' : 'right'
    const position = next[side]
    next[side] += 2 * (plan.poles ?? 1)
    const isSmall = plan.amps <= 20
    const material: ConductorMaterial = aluminium && isSmall ? 'aluminium' : 'copper'
    // Here and there somebody put in a larger breaker, or left a line of the directory empty.
    const overfused = isSmall && chance.percent(0.5)
    add('circuit', {
      label: `Circuit ${position}`,
      parentId: panelId,
      installedOn,
      details: {
        position,
        poles: plan.poles ?? 1,
        ratingAmps: overfused ? plan.amps + 10 : plan.amps,
        device: year >= 2015 && isSmall ? chance.pick(['afci', 'dual', 'breaker'] as const) : 'breaker',
        material,
        size: material === 'aluminium' ? (plan.amps === 15 ? '12' : '10') : plan.size,
        wiring:
          home.property.yearBuilt < 1940 && chance.percent(12)
            ? 'knob-and-tube'
            : home.property.yearBuilt < 1962
              ? chance.pick(['cloth', 'nm', 'armoured'] as const)
              : 'nm',
        terminalC: year < 1990 ? '60' : '75',
        insulationC: home.property.yearBuilt < 1985 ? '60' : '90',
        serves: plan.serves,
        directory: isSloppy && chance.percent(20) ? '' : plan.says,
        directoryLegible: !(isSloppy && chance.percent(15)),
        conductorsUnderTerminal: chance.percent(4) ? 2 : 1,
        ...(plan.loadVA && { loadVA: plan.loadVA }),
        ...(aluminium &&
          isSmall && { aluminiumRepair: chance.pick(['none', 'twist-on', 'crimped-pigtail'] as const) }),
      },
    })
  }
}

function circuitsOf(chance: Chance, home: DemoHome): CircuitPlan[] {
  const bedrooms = home.spaces.filter((space) => space.kind === 'bedroom').map((space) => space.name)
  const plans: CircuitPlan[] = [
    { amps: 20, size: '12', serves: 'small-appliance', says: 'Kitchen counter, left of sink' },
    { amps: 20, size: '12', serves: 'small-appliance', says: 'Kitchen counter, right of sink' },
    { amps: 20, size: '12', serves: 'bathroom', says: 'Bathroom receptacles' },
    { amps: 20, size: '12', serves: 'laundry', says: 'Laundry receptacle' },
    { amps: 15, size: '14', serves: 'lighting', says: 'Lights, ground floor' },
    { amps: 15, size: '14', serves: 'lighting-and-receptacles', says: 'Living room' },
    ...bedrooms.map((name): CircuitPlan => ({
      amps: 15,
      size: '14',
      serves: 'lighting-and-receptacles',
      says: chance.percent(2) ? 'Kid’s room' : name,
    })),
    { amps: 20, size: '12', serves: 'dishwasher', says: 'Dishwasher', loadVA: 1200 },
    { amps: 15, size: '14', serves: 'alarms', says: 'Smoke alarms' },
  ]
  if (home.garage !== 'none')
    plans.push({ amps: 20, size: '12', serves: 'receptacles', says: 'Garage receptacles' })
  if (home.hasBasement)
    plans.push({ amps: 20, size: '12', serves: 'receptacles', says: 'Basement receptacles' })
  if (!home.hasGas || chance.percent(40))
    plans.push({ amps: 50, size: '6', serves: 'range', says: 'Range', poles: 2, loadVA: 12_000 })
  plans.push({ amps: 30, size: '10', serves: 'dryer', says: 'Dryer', poles: 2, loadVA: 5000 })
  if (!home.hasGas)
    plans.push({ amps: 30, size: '10', serves: 'water-heater', says: 'Water heater', poles: 2, loadVA: 4500 })
  if (chance.percent(45))
    plans.push({
      amps: 40,
      size: '8',
      serves: chance.pick(['air-conditioner', 'heat-pump'] as const),
      says: 'Outdoor unit, north side',
      poles: 2,
      loadVA: 4800,
    })
  if (chance.percent(12))
    plans.push({
      amps: 50,
      size: '6',
      serves: 'vehicle',
      says: 'Vehicle charger in garage',
      poles: 2,
      loadVA: 9600,
    })
  return plans
}

function addGrounding(chance: Chance, home: DemoHome, year: number, add: Add): void {
  const rods = year < 1987 ? 1 : 2
  for (let number = 1; number <= rods; number++) {
    add('electrode', {
      label: `Ground rod ${number}`,
      details: {
        kind: 'rod',
        lengthFeet: 8,
        diameterInches: 0.625,
        rodMaterial: 'copper-bonded',
        conductorMaterial: 'copper',
        conductorSize: '6',
        soleConnection: true,
        clamp: chance.percent(88) ? 'sound' : chance.pick(['loose', 'corroded'] as const),
        ...(rods === 2 && { spacingFeet: chance.percent(85) ? chance.pick([6, 8, 10]) : 4 }),
      },
    })
  }
  add('bond', {
    label: 'Water pipe bond',
    details: {
      of: 'water-pipe',
      present: chance.percent(92),
      conductorMaterial: 'copper',
      conductorSize: '4',
      clamp: 'sound',
      reachable: true,
    },
  })
  if (home.hasGas) {
    const corrugated = home.property.yearBuilt > 1998 || chance.percent(20)
    add('bond', {
      label: 'Gas pipe bond',
      details: {
        of: 'gas-pipe',
        present: corrugated ? chance.percent(70) : chance.percent(50),
        gasPipe: corrugated ? 'corrugated' : 'rigid',
        conductorMaterial: 'copper',
        conductorSize: '6',
        lengthFeet: chance.whole(8, 60),
        clamp: 'sound',
        clampedOn: 'rigid',
      },
    })
  }
}

function addAlarms(chance: Chance, home: DemoHome, today: Day, add: Add): void {
  const isWired = home.property.yearBuilt >= 1993
  // Most homes bought their alarms together, so that they grow old together.
  const setYear = yearOf(today) - (chance.percent(9) ? chance.whole(10, 12) : chance.whole(1, 9))
  const setDay = someDayIn(chance, setYear, today)
  const wanted = home.spaces.filter(
    (space) => space.kind === 'bedroom' || space.kind === 'hall' || space.kind.startsWith('basement'),
  )
  for (const space of wanted) {
    if (space.kind === 'bedroom' && home.property.yearBuilt < 1993 && chance.percent(35)) continue
    const hall = space.kind === 'hall'
    const undated = chance.percent(4)
    const own = chance.percent(12)
      ? someDayIn(chance, chance.whole(yearOf(today) - 10, yearOf(today) - 1), today)
      : setDay
    add('alarm', {
      label: `Alarm, ${space.name.toLowerCase()}`,
      spaceId: space.id,
      manufacturedOn: undated ? null : own,
      details: {
        senses: hall && (home.hasGas || home.garage === 'attached') ? 'smoke-and-co' : 'smoke',
        sensor: chance.percent(60) ? 'photoelectric' : 'ionisation',
        power: isWired ? 'mains-and-battery' : chance.percent(40) ? 'sealed-battery' : 'battery',
        interconnected: isWired,
        buttonTest: chance.percent(96) ? 'sounds' : 'silent',
        mounted: 'ceiling',
        ...(undated ? { labelUnreadable: true } : { labelText: own.replaceAll('-', ' ') }),
        ...(hall && chance.percent(85) && { coLifeYears: 10 }),
        ...(hall && { bedroomDoorFeet: chance.whole(6, 19) }),
      },
    })
  }
}

function addDevices(chance: Chance, home: DemoHome, add: Add, place: Place): void {
  const wet: [string, string, NonNullable<DetailsOf<'receptacle'>['place']>, number][] = [
    ['kitchen', 'Counter receptacle', 'kitchen-counter', 1987],
    ['bathroom', 'Basin receptacle', 'near-sink', 1975],
    ['outdoors', 'Porch receptacle', 'wet', 1973],
    ['garage', 'Bench receptacle', 'general', 1978],
  ]
  for (const [kind, label, where, since] of wet) {
    const spaceId = place(kind)
    if (!spaceId) continue
    const isProtected = home.property.yearBuilt >= since ? chance.percent(93) : chance.percent(62)
    add('receptacle', {
      label,
      spaceId,
      details: {
        slots: 'three',
        volts: 120,
        amps: 20,
        heightInches: kind === 'outdoors' ? 24 : 44,
        place: where,
        groundFault: isProtected ? chance.pick(['itself', 'upstream', 'breaker'] as const) : 'none',
        groundPresent: true,
        tamperResistant: home.property.yearBuilt >= 2009,
        weatherResistant: where === 'wet' ? home.property.yearBuilt >= 2009 : false,
        condition: 'sound',
      },
    })
  }
  add('luminaire', {
    label: 'Kitchen recessed lights',
    spaceId: place('kitchen'),
    details: {
      kind: 'recessed',
      lamps: 6,
      lampWatts: chance.pick([9, 65]),
      markedMaxWatts: 75,
      lumensPerLamp: 650,
      hoursPerDay: 3,
      condition: 'sound',
    },
  })
  if (home.property.levels === 2)
    add('switch', {
      label: 'Stair switches',
      spaceId: place('stairs'),
      details: { control: 'multi', condition: 'sound' },
    })
}
