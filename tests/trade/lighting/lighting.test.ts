import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import type { Edition } from '../../../trade/editions.ts'
import { generalLight, LUX_PER_FOOTCANDLE, taskLight } from '../../../trade/lighting/illuminance.ts'
import { insulationContact, judgeInsulationContact } from '../../../trade/lighting/insulation-contact.ts'
import { LAMP_SWAPS, replacesLamp } from '../../../trade/lighting/lamp-swaps.ts'
import { judgeLampWatts, lampWatts } from '../../../trade/lighting/lamp-watts.ts'
import { lampsNeeded } from '../../../trade/lighting/lumen-method.ts'
import { judgeRoomLight, roomLight } from '../../../trade/lighting/room-light.ts'
import { judgeSaving, saving, type SavingInputs } from '../../../trade/lighting/saving-rule.ts'
import { kwhPerYear, labelCostUsd, lampLifeYears, ledSaving } from '../../../trade/lighting/saving.ts'
import { judgeStairLight, stairLight } from '../../../trade/lighting/stair-light.ts'
import { SPACE_KINDS, type SpaceKind } from '../../../trade/property.ts'
import { context, d, device, home, space } from '../alarms/build.ts'

const NOW = context('2023')

describe('published light', () => {
  test('one footcandle is 10.764 lx (computed from the foot)', () => {
    expect(LUX_PER_FOOTCANDLE).toBeCloseTo(10.7639, 4)
  })

  test.each<[SpaceKind, number, string]>([
    ['living', 3, '2017'],
    ['kitchen', 10, 'older'],
    ['bedroom', 5, 'later'],
    ['hall', 5, 'later'],
    ['stairs', 5, 'later'],
    ['dining', 5, 'later'],
    ['family', 5, 'later'],
    ['bathroom', 5, 'later'],
    ['laundry', 5, 'later'],
    ['office', 5, 'later'],
    ['utility', 5, 'later'],
    ['basement-finished', 5, 'later'],
    ['attic-habitable', 5, 'later'],
  ])('%s, general: %i fc (IES, %s list)', (kind, footcandles, edition) => {
    expect(generalLight(kind)[0]).toMatchObject({ footcandles, task: 'general' })
    expect(generalLight(kind)[0]!.source).toContain(edition)
  })

  test('the older figure stays beside the newer', () => {
    expect(generalLight('living').map(({ footcandles }) => footcandles)).toEqual([3, 5])
  })

  test.each<[SpaceKind, string[]]>([
    ['kitchen', ['counter 30', 'counter, range, sink 40']],
    ['dining', ['table 20']],
    ['bathroom', ['grooming 30', 'mirror 40']],
    ['laundry', ['laundry 40']],
    ['office', ['desk 40']],
    ['living', ['casual reading 30', 'serious reading 50']],
    ['bedroom', []],
  ])('%s, tasks: %j (IES lists of three editions)', (kind, expected) => {
    expect(taskLight(kind).map(({ task, footcandles }) => `${task} ${footcandles}`)).toEqual(expected)
    for (const { source } of taskLight(kind)) expect(source).toMatch(/^IES/)
  })

  test('nothing is published for sheds and gardens', () => {
    const without = (Object.keys(SPACE_KINDS) as SpaceKind[]).filter((kind) => !generalLight(kind).length)
    expect(without).toEqual([
      'closet',
      'basement-unfinished',
      'crawl-space',
      'attic-unfinished',
      'garage',
      'accessory-building',
      'outdoors',
      'other',
    ])
  })
})

describe('a room', () => {
  test.each([
    ['kitchen', 9.9, 'fc', 'finding'],
    ['kitchen', 10, 'fc', 'sound'],
    ['living', 3, 'fc', 'sound'],
    ['living', 2.9, 'fc', 'finding'],
    ['bedroom', 53, 'lx', 'finding'],
    ['bedroom', 54, 'lx', 'sound'],
  ] as const)('%s with %s %s: %s', (kind, illuminance, illuminanceUnit, outcome) => {
    const verdict = judgeRoomLight({ space: kind, illuminance, illuminanceUnit })
    expect(verdict).toMatchObject({
      rule: 'lighting.room',
      outcome,
      requiredToday: 'no',
      requiredWhenBuilt: 'no',
    })
    if (verdict.outcome === 'finding') expect(verdict.severity).toBe('improve')
  })

  test('a meter that shows lux leads to the same verdict and figures as one that shows footcandles', () => {
    const halfFootcandles = fc.integer({ min: 0, max: 100 }).map((count) => count / 2)
    fc.assert(
      fc.property(halfFootcandles, fc.constantFrom('kitchen', 'living', 'bedroom'), (footcandles, space) => {
        // NIST SP 811: 1 ft is 0.3048 m.
        const lux = footcandles / 0.3048 ** 2
        const inFootcandles = judgeRoomLight({ space, illuminance: footcandles, illuminanceUnit: 'fc' })
        const inLux = judgeRoomLight({ space, illuminance: lux, illuminanceUnit: 'lx' })
        expect(inLux.outcome).toBe(inFootcandles.outcome)
        expect(inLux.technician).toBe(inFootcandles.technician)
        expect(inLux.figures[0]!.value).toBeCloseTo(footcandles, 9)
      }),
      { numRuns: 300 },
    )
  })

  test('figures in both units, words with edition and task', () => {
    const verdict = judgeRoomLight({ space: 'kitchen', illuminance: 8, illuminanceUnit: 'fc' })
    expect(verdict.figures).toEqual([
      { label: 'Light', value: 8, unit: 'fc' },
      { label: 'Recommended', value: 10, unit: 'fc' },
      { label: 'Recommended', value: expect.closeTo(107.64, 2), unit: 'lx' },
    ])
    expect(verdict.technician).toBe(
      '8 fc, 10 fc recommended (IES handbook, older edition, table 10-7). Where it is done: counter 30 fc, counter, ' +
        'range, sink 40 fc.',
    )
    expect(verdict.references).toContainEqual({
      code: 'IES',
      article: 'IESNA residential list, later edition',
      row: 'counter: 30 fc',
    })
    const lux = judgeRoomLight({ space: 'hall', illuminance: 107.639, illuminanceUnit: 'lx' })
    expect(lux.figures[0]?.value).toBeCloseTo(10, 3)
    expect(lux.technician).toBe('10 fc, 5 fc recommended (IESNA residential list, later edition).')
  })

  test.each([
    ['enough', 'sound', 'enough for its use'],
    ['poor', 'finding', 'poor for its use'],
    ['none', 'finding', 'No light'],
  ] as const)('judged by eye %s: %s', (judged, outcome, words) => {
    const verdict = judgeRoomLight({ space: 'hall', judged })
    expect(verdict.outcome).toBe(outcome)
    expect(verdict.technician).toContain(words)
    if (verdict.outcome === 'finding') expect(verdict.severity).toBe('improve')
  })

  test.each([
    [{ space: null, illuminance: 3, illuminanceUnit: 'fc' }, ['Room']],
    [{ space: 'hall', illuminance: 3 }, ['Unit of the reading']],
    [{ space: 'hall', illuminance: 3, judged: 'enough' }, ['Unit of the reading']],
    [{ space: 'hall' }, ['Light measured or judged by eye']],
    [{ space: 'hall', illuminanceUnit: 'fc' }, ['Light measured or judged by eye']],
  ] as const)('%j: not known %j', (inputs, missing) => {
    expect(judgeRoomLight(inputs)).toMatchObject({ outcome: 'undetermined', missing })
  })

  test('no figure, no verdict', () => {
    expect(judgeRoomLight({ space: 'garage', illuminance: 1, illuminanceUnit: 'fc' })).toMatchObject({
      outcome: 'not-applicable',
      why: 'no figure is published for: Garage',
    })
  })

  test('inputs', () => {
    expect(roomLight.inputs({ judged: 'poor' }, { space: space('hall') }, home([]))).toEqual({
      judged: 'poor',
      space: 'hall',
    })
    expect(roomLight.inputs({}, { space: null }, home([]))).toEqual({ space: null })
  })
})

describe('stairs', () => {
  const good = { lightTop: true, lightBottom: true, controlTop: true, controlBottom: true }
  const chicago = context('2023', null, {
    amendments: [
      {
        requirement: 'lighting.stair-light/bright',
        effect: 'add',
        from: d('2000-01-01'),
        source: 'Chicago 13-172-080',
      },
    ],
  })

  test('LT6: 0.9 fc falls short, 1 fc is enough (IRC R303.6, R303.7)', () => {
    const dark = judgeStairLight({ ...good, footcandles: 0.9 }, context('2017'))
    expect(dark).toMatchObject({
      rule: 'lighting.stairs',
      outcome: 'finding',
      severity: 'repair',
      references: [{ code: 'IRC', article: 'R303.7' }],
      figures: [{ label: 'Least light', value: 1, unit: 'fc' }],
    })
    expect(dark.technician).toContain('0.9 fc, 1 fc wanted')
    expect(judgeStairLight({ ...good, footcandles: 1 }, context('2017')).outcome).toBe('sound')
  })
  test('LT6: Chicago 13-172-080: 9 fc falls short, 10 fc is enough', () => {
    const dark = judgeStairLight({ ...good, footcandles: 9 }, chicago)
    expect(dark).toMatchObject({ outcome: 'finding', figures: [{ value: 10 }] })
    expect(dark.references[0]).toMatchObject({ code: 'Chicago 13-172-080' })
    expect(judgeStairLight({ ...good, footcandles: 10 }, chicago).outcome).toBe('sound')
    expect(judgeStairLight({ ...good, footcandles: 9 }, NOW).outcome).toBe('sound')
  })
  test.each<[Edition, string, string]>([
    ['1999', 'R303.4', 'from memory'],
    ['2002', 'R303.6', 'IRC-2003 R303.6'],
    ['2011', 'R303.7', 'from memory'],
    ['2023', 'R325', 'from memory'],
  ])('with NFPA 70-%s it stands in IRC %s (%s)', (edition, article) => {
    expect(judgeStairLight({ footcandles: 0 }, context(edition)).references).toEqual([
      { code: 'IRC', article },
    ])
  })
  test.each([
    [{ lightTop: false }, 'No light at the top;', 'R325'],
    [{ lightBottom: false }, 'No light at the bottom;', 'R325'],
    [{ lightTop: false, lightBottom: false }, 'No light at the top and bottom;', 'R325'],
    [{ controlTop: false }, 'No switch at the top, six', '210.70(A)(2)'],
    [{ controlBottom: false }, 'No switch at the bottom, six', '210.70(A)(2)'],
    [{ controlTop: false, controlBottom: false }, 'No switch at the top and bottom, six', '210.70(A)(2)'],
  ])('%j: %s (NFPA 70 from memory)', (more, words, article) => {
    const verdict = judgeStairLight({ ...good, ...more }, NOW)
    expect(verdict).toMatchObject({ outcome: 'finding', severity: 'repair', references: [{ article }] })
    expect(verdict.technician).toContain(words)
  })
  test('older homes: an improvement; edition unknown: undetermined', () => {
    expect(judgeStairLight({ ...good, controlTop: false }, context('2023', null))).toMatchObject({
      severity: 'improve',
    })
    expect(judgeStairLight({ ...good, controlTop: false }, context('1987')).references[0]).toMatchObject({
      code: 'NFPA 70',
      article: '210-70(a)',
    })
    expect(judgeStairLight({ ...good, controlTop: false }, context(null))).toMatchObject({
      outcome: 'undetermined',
    })
  })
  test('what nobody noted is named', () => {
    expect(judgeStairLight({ lightTop: true, footcandles: 20 }, NOW)).toMatchObject({
      outcome: 'undetermined',
      missing: ['Light at the bottom', 'Switch at the top', 'Switch at the bottom'],
    })
    expect(judgeStairLight({ ...good, lightTop: undefined }, NOW)).toMatchObject({
      missing: ['Light at the top'],
    })
  })
  test('inputs', () => {
    const readings = { ...good, footcandles: 3 }
    expect(stairLight.inputs({ ...readings, other: 1 } as never, { space: null }, home([]))).toEqual(readings)
  })
})

describe('lumen method', () => {
  test('LT1, published example: 200 lx, 60 m × 24 m, 18,000 lm, 0.4, 0.75: 53.33, so 54 lamps', () => {
    const found = lampsNeeded({
      area: 60 * 24,
      illuminance: 200,
      lumensPerLamp: 18_000,
      utilisation: 0.4,
      maintenance: 0.75,
    })
    expect(found).toMatchObject({ kind: 'count', lamps: 54, exact: expect.closeTo(53.333, 3) })
  })
  test('LT2: kitchen 12 × 14 ft, 30 fc, 650 lm, 0.6, 0.8: 16.15, so 17 lamps and 31.57 fc (computed)', () => {
    const found = lampsNeeded({
      area: 12 * 14,
      illuminance: 30,
      lumensPerLamp: 650,
      utilisation: 0.6,
      maintenance: 0.8,
    })
    expect(found).toMatchObject({
      kind: 'count',
      lamps: 17,
      exact: expect.closeTo(16.154, 3),
      illuminance: expect.closeTo(31.571, 3),
    })
  })
  test('a whole number is not rounded up, and no light asked wants no lamp', () => {
    const even = { area: 10, illuminance: 10, lumensPerLamp: 100, utilisation: 1, maintenance: 1 }
    expect(lampsNeeded(even)).toEqual({ kind: 'count', lamps: 1, exact: 1, illuminance: 10 })
    expect(lampsNeeded({ ...even, illuminance: 0 })).toMatchObject({ lamps: 0, illuminance: 0 })
  })
  test.each([
    [{ lumensPerLamp: 0 }, 'area and give light'],
    [{ utilisation: 0 }, 'area and give light'],
    [{ maintenance: 0 }, 'area and give light'],
    [{ area: 0 }, 'area and give light'],
    [{ area: -1 }, 'not negative'],
    [{ illuminance: NaN }, 'not negative'],
    [{ lumensPerLamp: Infinity }, 'not negative'],
    [{ utilisation: 1.1 }, 'parts of one'],
    [{ maintenance: 1.1 }, 'parts of one'],
  ])('%j cannot be counted: %s', (more, why) => {
    const base = { area: 10, illuminance: 10, lumensPerLamp: 100, utilisation: 1, maintenance: 1 }
    expect(lampsNeeded({ ...base, ...more })).toEqual({ kind: 'cannot', why: expect.stringContaining(why) })
  })
})

describe('LED saving', () => {
  const cans = { lamps: 6, oldWatts: 65, newWatts: 9, hoursPerDay: 3, costUsd: 72, centsPerKwh: 15.04 }

  test.each<[object, number, number, number, string]>([
    [{}, 367.92, 55.34, 1.3, 'computed, price of 2022'],
    [{ hoursPerDay: 2.3, centsPerKwh: 16 }, 282.07, 45.13, 1.6, 'computed, kitchen hours of the 2013 study'],
    [
      { hoursPerDay: 1.6, centsPerKwh: 16 },
      196.22,
      31.4,
      2.29,
      'computed, hours of all lamps in the 2013 study',
    ],
  ])('six cans 65 to 9 W, %j: %s kWh, %s USD, %s years (%s)', (more, kwh, usd, years) => {
    expect(ledSaving({ ...cans, ...more })).toEqual({
      kind: 'payback',
      kwhPerYear: expect.closeTo(kwh, 2),
      usdPerYear: expect.closeTo(usd, 2),
      years: expect.closeTo(years, 2),
    })
  })
  test.each([
    [{ newWatts: 65 }, 'take no less power'],
    [{ newWatts: 70 }, 'take no less power'],
    [{ centsPerKwh: 0 }, 'Nothing is saved'],
    [{ hoursPerDay: 0 }, 'Nothing is saved'],
    [{ lamps: 0 }, 'Nothing is saved'],
    [{ newWatts: 65, oldWatts: 65, centsPerKwh: 0 }, 'take no less power'],
  ])('LT7: %j: no payback, %s', (more, why) => {
    const found = ledSaving({ ...cans, ...more })
    expect(found).toMatchObject({ kind: 'no-payback', why: expect.stringContaining(why) })
  })
  test('lamps for nothing pay back at once', () => {
    expect(ledSaving({ ...cans, costUsd: 0 })).toMatchObject({ kind: 'payback', years: 0 })
  })
  test.each([
    [{ lamps: null }, ['Lamps']],
    [{ oldWatts: NaN, newWatts: null }, ['Watts per lamp', 'Watts of one LED lamp']],
    [{ hoursPerDay: -1 }, ['Hours lit per day']],
    [{ costUsd: Infinity, centsPerKwh: null }, ['Price of the lamps', 'Price of electricity']],
  ])('%j: not known %j', (more, missing) => {
    expect(ledSaving({ ...cans, ...more })).toEqual({ kind: 'unknown', missing })
  })
  test('LT7: no number in any answer is endless or not a number', () => {
    const any = fc.oneof(fc.double(), fc.constant(null), fc.constant(0), fc.double({ min: 0, max: 1e6 }))
    const swap = fc.record({
      lamps: any,
      oldWatts: any,
      newWatts: any,
      hoursPerDay: any,
      costUsd: any,
      centsPerKwh: any,
    })
    fc.assert(
      fc.property(swap, (each) => {
        const found = ledSaving(each)
        if (found.kind === 'payback') expect(Number.isFinite(found.years) && found.years >= 0).toBe(true)
      }),
    )
  })
  test('LT4, consumer label rule: 9 W cost $1.08 a year, 60 W $7.23', () => {
    expect(labelCostUsd(9)).toBeCloseTo(1.08, 2)
    expect(labelCostUsd(60)).toBeCloseTo(7.23, 2)
    expect(kwhPerYear(9, 3)).toBeCloseTo(9.855, 6)
  })
  test('LT5: 25,000 h at 3 h a day last 22.8 years', () => {
    expect(lampLifeYears(25_000, 3)).toBeCloseTo(22.83, 2)
    expect(lampLifeYears(25_000, 0)).toBeNull()
  })

  const kitchen = { lamps: 6, lampWatts: 65, hoursPerDay: 3 }
  const judge = (more: Partial<SavingInputs>) =>
    judgeSaving({ luminaires: [kitchen], centsPerKwh: 15.04, lampCents: 1200, ledWatts: 9, ...more })

  test('of the whole home', () => {
    const verdict = judge({ luminaires: [kitchen, { lamps: 1, lampWatts: 7, hoursPerDay: 3 }] })
    expect(verdict).toMatchObject({
      rule: 'lighting.saving',
      outcome: 'finding',
      severity: 'improve',
      inputs: { luminaires: 2, centsPerKwh: 15.04, lampCents: 1200, ledWatts: 9 },
      figures: [
        { label: 'Saved per year', value: expect.closeTo(367.92, 2), unit: 'kWh' },
        { label: 'Saved per year', value: expect.closeTo(55.34, 2), unit: 'USD' },
        { label: 'Cost', value: 72, unit: 'USD' },
        { label: 'Paid back in', value: expect.closeTo(1.301, 3), unit: 'years' },
      ],
    })
    expect(verdict.technician).toBe('368 kWh and 55.34 USD a year for 72.00 USD: 1.3 years.')
    expect(verdict.homeowner).toContain('about 55 dollars')
    const both = judge({ luminaires: [kitchen, kitchen] })
    expect(both.figures.map(({ value }) => value)).toEqual([
      expect.closeTo(735.84, 2),
      expect.closeTo(110.67, 2),
      144,
      expect.closeTo(1.301, 3),
    ])
  })
  test('too slow to offer, or nothing to save: sound', () => {
    const slow = judge({ lampCents: 5000 })
    expect(slow.outcome).toBe('sound')
    expect(slow.figures[3]?.value).toBeCloseTo(5.42, 2)
    expect(judge({ ledWatts: 65 })).toMatchObject({ outcome: 'sound', figures: [] })
  })
  test('five years is still offered', () => {
    const verdict = judge({
      luminaires: [{ lamps: 1, lampWatts: 109, hoursPerDay: 1 }],
      centsPerKwh: 100,
      lampCents: 18_250,
    })
    expect(verdict.figures[3]?.value).toBeCloseTo(5, 9)
    expect(verdict.outcome).toBe('finding')
  })
  test('unknowns are named once', () => {
    expect(
      judge({
        luminaires: [{ lamps: null, lampWatts: 65, hoursPerDay: null }, kitchen],
        centsPerKwh: undefined,
      }),
    ).toMatchObject({
      outcome: 'undetermined',
      missing: ['Lamps', 'Hours lit per day', 'Price of the lamps', 'Price of electricity'],
    })
    expect(judge({ lampCents: undefined })).toMatchObject({ missing: ['Price of the lamps'] })
    expect(judge({ ledWatts: undefined })).toMatchObject({ missing: ['Watts of one LED lamp'] })
    expect(judge({ luminaires: [] })).toMatchObject({ outcome: 'not-applicable' })
  })
  test('inputs: luminaires in use', () => {
    const record = home(
      [],
      [
        device('luminaire', { lamps: 6, lampWatts: 65, hoursPerDay: 3, kind: 'recessed' }),
        device('luminaire', {}),
        { ...device('luminaire', {}), retiredOn: d('2020-01-01') },
      ],
    )
    const readings = { centsPerKwh: 15, lampCents: 1200, ledWatts: 9 }
    expect(saving.inputs(readings, { space: null }, record)).toEqual({
      ...readings,
      luminaires: [kitchen, { lamps: null, lampWatts: null, hoursPerDay: null }],
    })
  })
})

describe('lamp swaps: EISA 2007, DOE list', () => {
  test.each([
    [40, 450, 310, 749, 29],
    [60, 800, 750, 1049, 43],
    [75, 1100, 1050, 1489, 53],
    [100, 1600, 1490, 2600, 72],
  ])('%i W gave %i lm; efficient %i to %i lm, at most %i W', (oldWatts, lumens, from, to, maxWatts) => {
    const row = LAMP_SWAPS.find((each) => each.oldWatts === oldWatts)
    expect(row).toEqual({ oldWatts, lumens, efficientLumens: [from, to], maxWatts })
    expect(replacesLamp(from)).toBe(row)
    expect(replacesLamp(to)).toBe(row)
  })
  test('outside the list', () => {
    expect([replacesLamp(309), replacesLamp(2601)]).toEqual([null, null])
  })
})

describe('lamp against the marking: NFPA 70 110.3(B) (from memory)', () => {
  test.each([
    [60, 60, 'sound'],
    [61, 60, 'finding'],
    [9, 60, 'sound'],
  ])('%i W where %i W is marked: %s', (watts, markedMaxWatts, outcome) => {
    const verdict = judgeLampWatts({ lampWatts: watts, markedMaxWatts }, NOW)
    expect(verdict).toMatchObject({
      rule: 'lighting.lamp-watts',
      outcome,
      references: [{ code: 'NFPA 70', edition: '2023', article: '110.3(B)' }],
      figures: [
        { label: 'Lamp', value: watts, unit: 'W' },
        { label: 'Marked maximum', value: markedMaxWatts, unit: 'W' },
      ],
      requiredToday: 'yes',
      requiredWhenBuilt: 'yes',
    })
    if (verdict.outcome === 'finding') expect(verdict.severity).toBe('repair')
    expect(verdict.technician).toContain(`${watts} W where ${markedMaxWatts} W is marked`)
  })
  test('heat marks, whatever the lamp', () => {
    expect(judgeLampWatts({ lampWatts: 9, markedMaxWatts: 60, condition: 'overheated' }, NOW)).toMatchObject({
      outcome: 'finding',
      severity: 'repair',
      technician: expect.stringContaining('Heat marks'),
    })
    expect(judgeLampWatts({ lampWatts: 9, markedMaxWatts: 60, condition: 'loose' }, NOW).outcome).toBe(
      'sound',
    )
  })
  test.each([
    [{}, ['Watts per lamp', 'Marked maximum per lamp']],
    [{ lampWatts: 60 }, ['Marked maximum per lamp']],
    [{ markedMaxWatts: 60 }, ['Watts per lamp']],
  ])('%j: not known %j', (inputs, missing) => {
    expect(judgeLampWatts(inputs, NOW)).toMatchObject({ outcome: 'undetermined', missing })
  })
  test('inputs', () => {
    const each = device('luminaire', { lampWatts: 60, markedMaxWatts: 40, condition: 'sound', lamps: 2 })
    expect(lampWatts.inputs(each, home([]))).toEqual({
      lampWatts: 60,
      markedMaxWatts: 40,
      condition: 'sound',
    })
  })
})

describe('recessed light and insulation: NFPA 70 410.116(B) (from memory)', () => {
  test('touching and not rated for it', () => {
    const inputs = { kind: 'recessed', insulationContactRated: false, touchesInsulation: true } as const
    const verdict = judgeInsulationContact(inputs, NOW)
    expect(verdict).toMatchObject({
      rule: 'lighting.insulation-contact',
      outcome: 'finding',
      severity: 'repair',
      references: [{ code: 'NFPA 70', edition: '2023', article: '410.116(B)' }],
      figures: [{ label: 'Kept clear', value: 3, unit: 'in' }],
    })
    expect(verdict.technician).toContain('3 in to be kept clear')
    expect(judgeInsulationContact(inputs, context('2023', null))).toMatchObject({ severity: 'improve' })
    expect(judgeInsulationContact(inputs, context('1984')).references[0]?.article).toBe('410-66')
    expect(judgeInsulationContact(inputs, context('2005')).references[0]?.article).toBe('410.66(B)')
  })
  test.each([
    [{ insulationContactRated: true, touchesInsulation: true }, 'sound', 'Rated for contact'],
    [{ insulationContactRated: true }, 'sound', 'Rated for contact'],
    [{ insulationContactRated: false, touchesInsulation: false }, 'sound', 'kept clear'],
    [{ touchesInsulation: false }, 'sound', 'kept clear'],
    [{ touchesInsulation: true }, 'undetermined', 'Rated for insulation contact'],
    [{ insulationContactRated: false }, 'undetermined', 'Insulation touches it'],
    [{}, 'undetermined', 'Rated for insulation contact; Insulation touches it'],
  ])('%j: %s', (more, outcome, words) => {
    const verdict = judgeInsulationContact({ kind: 'recessed', ...more }, NOW)
    expect(verdict.outcome).toBe(outcome)
    expect(verdict.technician).toContain(words)
  })
  test('only recessed ones', () => {
    expect(judgeInsulationContact({ kind: 'pendant' }, NOW).outcome).toBe('not-applicable')
    expect(judgeInsulationContact({}, NOW)).toMatchObject({ outcome: 'undetermined', missing: ['Kind'] })
    const details = { kind: 'recessed', insulationContactRated: false, touchesInsulation: true } as const
    expect(insulationContact.inputs(device('luminaire', { ...details, lamps: 1 }), home([]))).toEqual(details)
  })
})
