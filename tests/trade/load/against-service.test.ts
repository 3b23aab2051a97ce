import { describe, expect, test } from 'vitest'
import type { Edition } from '../../../trade/editions.ts'
import type { DetailsOf, Equipment } from '../../../trade/equipment.ts'
import type { Home } from '../../../trade/home.ts'
import { EDITION_MISSING } from '../../../trade/judging.ts'
import { calculatedAgainstService, judgeLoad, lowestLoad } from '../../../trade/load/against-service.ts'
import { CIRCUITS_MISSING, type LoadOfHome, loadOfHome } from '../../../trade/load/from-home.ts'
import { NO_LOAD } from '../../../trade/load/inputs.ts'
import { VEHICLE_FIGURE } from '../../../trade/load/standard.ts'
import { articles, figure, homeOf, item, spoken, under } from '../overcurrent/verdicts.ts'
import { D1A, D2A } from './homes.ts'

const judge = (inputs: Partial<LoadOfHome>, now: Edition | null = '2023') =>
  spoken(judgeLoad({ load: D2A, serviceAmps: 100, missing: [], ...inputs }, under(now, '1990')))

describe('calculated load against the service', () => {
  test('D2(a), 90 A by the optional method, on 100 A', () => {
    expect(judge({}, '2005')).toMatchObject({
      rule: 'load.calculated-against-service',
      outcome: 'sound',
      technician: '90 A calculated on a 100 A service: 10 A left (optional method for a dwelling).',
      homeowner: 'Your supply is large enough for what is in the home, with about 10 A to spare.',
      requiredToday: 'yes',
      requiredWhenBuilt: 'yes',
      inputs: { serviceAmps: 100, areaSqFt: 1500, smallApplianceCircuits: 2, laundryCircuits: 1 },
      references: [
        { code: 'NFPA 70', edition: '2005', article: '230.42' },
        { code: 'NFPA 70', edition: '2005', article: '220.82', row: 'Optional method for a dwelling' },
      ],
      figures: [
        { label: 'Calculated load', value: 21_480, unit: 'VA' },
        { label: 'Calculated load at 240 V', value: 90, unit: 'A' },
        { label: 'Service rating', value: 100, unit: 'A' },
        { label: 'Margin', value: 10, unit: 'A' },
        { label: 'Neutral load at 240 V', value: 64, unit: 'A' },
      ],
    })
  })
  test('below 100 A only the standard method may be used', () => {
    // D1(a): 18600 VA, 78 A standard; 22000 VA connected would be 14800 VA optional.
    expect(judge({ load: D1A, serviceAmps: 80 })).toMatchObject({
      outcome: 'sound',
      technician: '78 A calculated on an 80 A service: 2 A left (standard method).',
    })
    expect(judge({ load: D1A, serviceAmps: 60 })).toMatchObject({ outcome: 'finding' })
    expect(lowestLoad(D1A, 99, '2023').worksheet?.method).toBe('standard')
    expect(lowestLoad(D1A, 100, '2023').worksheet?.method).toBe('optional')
  })
  test('the lower of both methods binds', () => {
    const bare = { ...NO_LOAD, areaSqFt: 1500 }
    expect(lowestLoad(bare, 200, '2023').worksheet).toMatchObject({ method: 'standard', totalVA: 5100 })
  })
  test('exactly full is sound; one ampere over is looked into', () => {
    expect(judge({ load: D1A, serviceAmps: 78 }).outcome).toBe('sound')
    expect(judge({ load: D1A, serviceAmps: 77 })).toMatchObject({
      outcome: 'finding',
      severity: 'investigate',
      technician:
        '78 A calculated on a 77 A service: 1 A short (standard method); measure demand by 220.87 or plan a larger service.',
    })
  })
  describe('what is not known', () => {
    test('rating, edition and loads are named', () => {
      expect(judge({ serviceAmps: null, missing: ['Circuits of the panel'] }, null)).toMatchObject({
        outcome: 'undetermined',
        missing: ['Service rating', 'Circuits of the panel', EDITION_MISSING],
      })
      expect(judge({ serviceAmps: null })).toMatchObject({ missing: ['Service rating'] })
      expect(judge({}, null)).toMatchObject({ missing: [EDITION_MISSING] })
      expect(judge({ load: { ...D2A, areaSqFt: null } })).toMatchObject({
        outcome: 'undetermined',
        missing: ['Floor area'],
      })
      expect(judge({ missing: ['Serves: 7'] })).toMatchObject({
        outcome: 'undetermined',
        missing: ['Serves: 7'],
      })
    })
    test('what is known can already be too much', () => {
      const verdict = judge({ load: { ...D1A, dryers: [{ name: 'the dryer', va: null }] }, serviceAmps: 50 })
      // 18600 VA less the dryer's 5500: 13100 VA, 55 A.
      expect(verdict).toMatchObject({
        outcome: 'finding',
        severity: 'investigate',
        technician:
          'At least 55 A calculated on a 50 A service: 5 A short (standard method); measure demand by 220.87 or plan a larger service.',
      })
    })
    test('what is known is shown with the open question', () => {
      const verdict = judge({ load: { ...D1A, dryers: [{ name: 'the dryer', va: null }] }, serviceAmps: 60 })
      expect(verdict).toMatchObject({ outcome: 'undetermined', missing: ['Load of the dryer'] })
      expect(figure(verdict, 'Calculated load')).toBe(13_100)
    })
    test('editions and factors that are not kept', () => {
      expect(judge({}, '2002')).toMatchObject({
        outcome: 'undetermined',
        missing: ['Load figures of editions before 2005'],
      })
      const charging = { ...D2A, vehicles: [{ name: 'the charger', va: 7200 }] }
      expect(judge({ load: charging }, '2026')).toMatchObject({
        outcome: 'undetermined',
        missing: [VEHICLE_FIGURE],
      })
      expect(articles(judge({ load: charging }, '2026'))).toEqual(['230.42'])
    })
  })
})

describe('the load as a home’s record tells it', () => {
  let next = 0
  const circuit = (
    serves: DetailsOf<'circuit'>['serves'],
    loadVA?: number,
    more: DetailsOf<'circuit'> = {},
  ) => item(`c${(next += 1)} ${serves}`, 'circuit', { serves, loadVA, poles: 2, ...more })
  const withArea = (areaSqFt: number | null, ...equipment: Equipment[]): Home => {
    const home = homeOf(...equipment)
    return { ...home, property: { ...home.property, areaSqFt } }
  }

  test('every circuit by what it serves', () => {
    const home = withArea(
      1800,
      item('s', 'service', { ratingAmps: 200 }),
      circuit('range', 12_000),
      circuit('dryer', 5500),
      circuit('water-heater', 4500),
      circuit('dishwasher', 1200, { poles: 1 }),
      circuit('disposer', 900, { poles: 1 }),
      circuit('other', 1000),
      circuit('vehicle', 7680),
      circuit('motor', 1500),
      circuit('hot-tub', 6000),
      circuit('air-conditioner', 4000),
      circuit('heat-pump', 5000),
      circuit('electric-heat', 9000),
      circuit('feeder', 3000),
      circuit('small-appliance'),
      circuit('small-appliance'),
      circuit('small-appliance'),
      circuit('laundry'),
      circuit('lighting', 1400),
      circuit('receptacles'),
      circuit('lighting-and-receptacles'),
      circuit('bathroom'),
      circuit('alarms'),
      circuit('spare'),
    )
    const { load, serviceAmps, missing } = loadOfHome(home)
    expect(missing).toEqual([])
    expect(serviceAmps).toBe(200)
    const named = (kind: string, va: number, more = {}) => [
      { name: expect.stringContaining(kind), va, ...more },
    ]
    expect(load).toEqual({
      ...NO_LOAD,
      areaSqFt: 1800,
      smallApplianceCircuits: 3,
      laundryCircuits: 1,
      cooking: named('range', 12_000),
      dryers: named('dryer', 5500),
      appliances: [
        ...named('water-heater', 4500),
        ...named('dishwasher', 1200, { volts: 120 }),
        ...named('disposer', 900, { volts: 120, motor: true }),
        ...named('other', 1000),
      ],
      vehicles: named('vehicle', 7680),
      others: [...named('motor', 1500, { motor: true }), ...named('hot-tub', 6000), ...named('feeder', 3000)],
      airConditioners: named('air-conditioner', 4000),
      heatPumps: named('heat-pump', 5000),
      electricHeat: named('electric-heat', 9000),
    })
  })

  test('a recorded sub-panel’s feeder is not counted beside its circuits', () => {
    const feeder = circuit('feeder', 9000)
    const home = withArea(1500, feeder, item('p2', 'panel', { role: 'sub-panel' }, { parentId: feeder.id }))
    expect(loadOfHome(home).load.others).toEqual([])
  })

  test('equipment on a circuit is that circuit’s load, once', () => {
    const charger = circuit('vehicle')
    const on = { parentId: charger.id }
    const home = withArea(
      1500,
      charger,
      item('charger', 'other', { what: 'vehicle-charger', loadVA: 7200 }, on),
      item('second', 'other', { what: 'vehicle-charger', loadVA: 4800 }, on),
    )
    expect(loadOfHome(home).load.vehicles).toEqual([{ name: charger.label, va: 12_000 }])
    const unread = withArea(1500, charger, item('charger', 'other', { what: 'vehicle-charger' }, on))
    expect(loadOfHome(unread).load.vehicles).toEqual([{ name: charger.label, va: null }])
    const halfRead = withArea(
      1500,
      charger,
      item('charger', 'other', { what: 'vehicle-charger' }, on),
      item('second', 'other', { what: 'vehicle-charger', loadVA: 4800 }, on),
    )
    expect(loadOfHome(halfRead).load.vehicles).toEqual([{ name: charger.label, va: null }])
    expect(loadOfHome(withArea(1500, charger)).load.vehicles).toEqual([{ name: charger.label, va: null }])
    const stated = circuit('vehicle', 9600)
    const both = withArea(
      1500,
      stated,
      item('x', 'other', { what: 'vehicle-charger', loadVA: 1 }, { parentId: stated.id }),
    )
    expect(loadOfHome(both).load.vehicles).toEqual([{ name: stated.label, va: 9600 }])
  })

  test('equipment of its own', () => {
    const home = withArea(
      1500,
      circuit('lighting'),
      item('pool', 'other', { what: 'pool', loadVA: 3000 }),
      item('well', 'other', { what: 'well-pump', loadVA: 1500 }),
      item('sump', 'other', { what: 'sump-pump' }),
      item('kiln', 'other', { what: 'other', loadVA: 8000 }),
      item('car', 'other', { what: 'vehicle-charger', loadVA: 7200 }),
      item('sun', 'other', { what: 'solar', loadVA: 5000 }),
      item('gen', 'other', { what: 'generator', loadVA: 5000 }),
      item('blank', 'other', { loadVA: 5000 }),
    )
    expect(loadOfHome(home).load).toMatchObject({
      others: [
        { name: 'pool', va: 3000 },
        { name: 'well', va: 1500, motor: true },
        { name: 'sump', va: null, motor: true },
        { name: 'kiln', va: 8000 },
      ],
      vehicles: [{ name: 'car', va: 7200 }],
    })
  })

  test('what the record leaves open is said', () => {
    expect(loadOfHome(withArea(null))).toEqual({
      load: NO_LOAD,
      serviceAmps: null,
      missing: [CIRCUITS_MISSING],
    })
    const blank = item('Kitchen east', 'circuit', {})
    expect(loadOfHome(withArea(1500, blank)).missing).toEqual(['Serves: Kitchen east'])
    const twice = withArea(
      1500,
      item('s1', 'service', { ratingAmps: 100 }),
      item('s2', 'service', { ratingAmps: 200 }),
    )
    expect(loadOfHome(twice).serviceAmps).toBeNull()
    expect(loadOfHome(withArea(1500, item('s', 'service', {}))).serviceAmps).toBeNull()
  })

  test('what is out of use does not count', () => {
    const gone = item(
      'old',
      'circuit',
      { serves: 'range', loadVA: 12_000 },
      { retiredOn: '2020-01-01' as never },
    )
    expect(loadOfHome(withArea(1500, gone)).load.cooking).toEqual([])
  })

  test('the rule reads the home and gives one verdict', () => {
    const home = withArea(
      1500,
      item('s', 'service', { ratingAmps: 100 }),
      circuit('range', 12_000),
      circuit('dryer', 5500),
    )
    const verdicts = calculatedAgainstService.judge(calculatedAgainstService.inputs(home), under('2005'))
    expect(verdicts).toHaveLength(1)
    expect(verdicts[0]).toMatchObject({ outcome: 'sound' })
    expect(calculatedAgainstService).toMatchObject({
      id: 'load.calculated-against-service',
      title: 'Calculated load against the service',
      watches: ['service', 'panel', 'circuit', 'other'],
    })
  })
})
