import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { airAndSteam, judgeAirAndSteam } from '../../../trade/alarms/air-and-steam.ts'
import { buttonTest, judgeButtonTest } from '../../../trade/alarms/button-test.ts'
import {
  cookingDistance,
  cookingFeetByIrc,
  cookingFeetByNfpa,
  type CookingInputs,
  judgeCookingDistance,
} from '../../../trade/alarms/cooking-distance.ts'
import { heatClassOf } from '../../../trade/alarms/heat-classes.ts'
import { heatRating, judgeHeatRating } from '../../../trade/alarms/heat-rating.ts'
import { judgeMounting, mounting, type MountingInputs } from '../../../trade/alarms/mounting.ts'
import { judgePlace, place } from '../../../trade/alarms/place.ts'
import { judgePower, power } from '../../../trade/alarms/power.ts'
import type { Edition } from '../../../trade/editions.ts'
import { context, device, home, smokeIn, space } from './build.ts'

const IRC_2018 = context('2017')
const IRC_2024 = context('2023')

describe('test button: NFPA 72-2013 §14.4.7.1', () => {
  test('SA5: silent at two years of age is a repair', () => {
    const verdict = judgeButtonTest({ buttonTest: 'silent' })
    expect(verdict).toMatchObject({
      rule: 'alarms.button-test',
      outcome: 'finding',
      severity: 'repair',
      requiredToday: 'yes',
      requiredWhenBuilt: 'yes',
      references: [
        { code: 'NFPA 72', article: '14.4.7.1', row: 'replaced where it fails the operability test' },
      ],
    })
  })
  test('sounds', () => expect(judgeButtonTest({ buttonTest: 'sounds' })).toMatchObject({ outcome: 'sound' }))
  test.each([undefined, 'not-tried'] as const)('%s is no pass', (value) => {
    expect(judgeButtonTest({ buttonTest: value })).toMatchObject({
      outcome: 'undetermined',
      missing: ['Test button'],
    })
  })
  test('inputs', () => {
    const alarm = device('alarm', { buttonTest: 'silent', senses: 'smoke' })
    expect(buttonTest.inputs(alarm, home([]))).toEqual({ buttonTest: 'silent' })
  })
})

describe('distance to the cooker', () => {
  const photo: CookingInputs = {
    senses: 'smoke',
    sensor: 'photoelectric',
    silenceButton: false,
    cookingListed: false,
  }
  const ionisation: CookingInputs = { ...photo, sensor: 'ionisation' }

  test.each<[Partial<CookingInputs>, Edition, number | null, number | null, string]>([
    [{ sensor: 'photoelectric' }, '2017', 6, 6, 'IRC-2018 R314.3.1'],
    [{ sensor: 'ionisation', silenceButton: false }, '2017', 20, 20, 'IRC-2018 R314.3.1'],
    [{ sensor: 'ionisation', silenceButton: true }, '2017', 10, 10, 'IRC-2018 R314.3.1'],
    [{ sensor: 'ionisation' }, '2017', 10, 20, 'silence button not known'],
    [{ sensor: 'dual', silenceButton: false }, '2014', 20, 20, 'taken as ionisation'],
    [{}, '2017', 6, 20, 'nothing known'],
    [{ cookingListed: true }, '2017', 6, 20, 'IRC-2018 does not know the listing'],
    [{ cookingListed: true }, '2020', 6, 6, 'IRC-2021 R314.3.1'],
    [{ sensor: 'ionisation', silenceButton: false }, '2020', 6, 20, 'the listing is not known'],
    [{ sensor: 'ionisation', silenceButton: false, cookingListed: false }, '2020', 20, 20, 'IRC-2021'],
  ])('%j under the IRC that goes with NFPA 70-%s: %s to %s ft (%s)', (inputs, edition, atLeast, atMost) => {
    expect(cookingFeetByIrc({ senses: 'smoke', ...inputs }, edition)).toEqual({ atLeast, atMost })
  })

  test.each([['2023'], ['2026'], ['2011'], [null]] as const)(
    'IRC with NFPA 70-%s asks for no distance',
    (edition) => {
      expect(cookingFeetByIrc(photo, edition)).toBeNull()
    },
  )

  test.each<[Partial<CookingInputs>, number, number]>([
    [{ sensor: 'photoelectric' }, 10, 10],
    [{ silenceButton: true }, 10, 10],
    [{ cookingListed: true }, 10, 10],
    [{ sensor: 'ionisation', silenceButton: false, cookingListed: false }, 20, 20],
    [{ sensor: 'dual', silenceButton: false, cookingListed: false }, 20, 20],
    [{ sensor: 'ionisation', silenceButton: false }, 10, 20],
    [{ sensor: 'ionisation', cookingListed: false }, 10, 20],
    [{ silenceButton: false, cookingListed: false }, 10, 20],
    [{}, 10, 20],
  ])('NFPA 72 §29.11.3.4: %j: %i to %i ft', (inputs, atLeast, atMost) => {
    expect(cookingFeetByNfpa({ senses: 'smoke', ...inputs })).toEqual({ atLeast, atMost })
  })

  test('SA8: photoelectric 8 ft from the range: IRC 2018 allows it, NFPA 72 does not', () => {
    const verdict = judgeCookingDistance({ ...photo, cookingFeet: 8 }, IRC_2018)
    expect(verdict).toMatchObject({
      rule: 'alarms.cooking-distance',
      outcome: 'finding',
      severity: 'repair',
      figures: [
        { label: 'Least by NFPA 72', value: 10, unit: 'ft' },
        { label: 'Least by IRC', value: 6, unit: 'ft' },
      ],
    })
    expect(verdict.references).toEqual([{ code: 'NFPA 72', article: '29.8.3.4' }])
    expect(verdict.technician).toBe(
      '8 ft from the cooker; NFPA 72 wants 10 ft; it was required when this was built.',
    )
  })

  test('SA8: ionisation without silence 15 ft away: IRC flags it', () => {
    const verdict = judgeCookingDistance({ ...ionisation, cookingFeet: 15 }, IRC_2018)
    expect(verdict).toMatchObject({ outcome: 'finding', severity: 'repair' })
    expect(verdict.references).toContainEqual({ code: 'IRC', article: 'R314.3.1' })
    expect(verdict.technician).toContain('NFPA 72 wants 20 ft, IRC wants 20 ft')
  })

  test.each<[Partial<CookingInputs>, string]>([
    [{ ...photo, cookingFeet: 10 }, 'sound'],
    [{ ...photo, cookingFeet: 9.9 }, 'finding'],
    [{ ...ionisation, cookingFeet: 20 }, 'sound'],
    [{ ...ionisation, cookingFeet: 19.9 }, 'finding'],
    [{ senses: 'smoke', cookingFeet: 20 }, 'sound'],
    [{ senses: 'smoke', cookingFeet: 9 }, 'finding'],
    [{ senses: 'smoke-and-co', cookingFeet: 9 }, 'finding'],
    [{ senses: 'co', cookingFeet: 1 }, 'not-applicable'],
    [{ senses: 'heat', cookingFeet: 1 }, 'not-applicable'],
  ])('%j: %s', (inputs, outcome) => {
    expect(judgeCookingDistance(inputs, IRC_2024).outcome).toBe(outcome)
  })

  test('between the distances it depends on what nobody noted', () => {
    expect(
      judgeCookingDistance({ senses: 'smoke', sensor: 'ionisation', cookingFeet: 15 }, IRC_2018),
    ).toMatchObject({
      outcome: 'undetermined',
      missing: ['Has a silence button', 'Listed as resisting cooking nuisance'],
    })
    expect(judgeCookingDistance({ senses: 'smoke' }, IRC_2018)).toMatchObject({
      outcome: 'undetermined',
      missing: ['Distance to the cooker'],
    })
    expect(judgeCookingDistance({ cookingFeet: 3 }, IRC_2018)).toMatchObject({
      outcome: 'undetermined',
      missing: ['Senses'],
    })
  })

  test('an unknown edition does not silence the advice', () => {
    const verdict = judgeCookingDistance({ ...photo, cookingFeet: 5 }, context(null))
    expect(verdict).toMatchObject({ outcome: 'finding', severity: 'improve' })
    expect(verdict.technician).toContain('advised for every home')
  })

  test('farther is never worse, and a dropped local rule is no finding', () => {
    const rank = { finding: 0, undetermined: 1, sound: 2, 'not-applicable': 3 }
    fc.assert(
      fc.property(
        fc.constantFrom('photoelectric', 'ionisation', 'dual', undefined),
        fc.constantFrom(true, false, undefined),
        fc.constantFrom(true, false, undefined),
        fc.integer({ min: 0, max: 30 }),
        fc.constantFrom<Edition>('2014', '2017', '2020', '2023'),
        (sensor, silenceButton, cookingListed, cookingFeet, edition) => {
          const at = (feet: number) =>
            judgeCookingDistance(
              { senses: 'smoke', sensor, silenceButton, cookingListed, cookingFeet: feet },
              context(edition),
            )
          expect(rank[at(cookingFeet + 1).outcome]).toBeGreaterThanOrEqual(rank[at(cookingFeet).outcome])
        },
      ),
    )
    const amendments = [
      { requirement: 'alarms.cooking-distance', effect: 'remove', from: '1990-01-01', source: 'town' },
    ] as never
    expect(
      judgeCookingDistance({ ...photo, cookingFeet: 5 }, context('2023', '2023', { amendments })),
    ).toMatchObject({
      outcome: 'not-applicable',
    })
  })

  test('inputs', () => {
    const alarm = device('alarm', { ...photo, cookingFeet: 8, power: 'mains' })
    expect(cookingDistance.inputs(alarm, home([]))).toEqual({ ...photo, cookingFeet: 8 })
  })
})

describe('bathroom door, air outlet, fan: 36 in, NFPA 72 §29.11.3.4 and IRC R314.3.1', () => {
  const clear = { senses: 'smoke', bathDoorInches: 36, supplyRegisterInches: 36, fanTipInches: 36 } as const

  test.each([
    ['bathDoorInches', 30, '30 in from the door of a room with a tub or shower', 'SA11'],
    ['bathDoorInches', 35.9, '35.9 in from the door of a room with a tub or shower', 'SA11'],
    ['supplyRegisterInches', 12, '12 in from an air outlet', 'Vermont fire safety'],
    ['fanTipInches', 0, '0 in from the tip of a fan blade', 'Vermont fire safety'],
  ])('%s %s in: %s (%s)', (name, inches, words) => {
    const verdict = judgeAirAndSteam({ ...clear, [name]: inches }, IRC_2024)
    expect(verdict).toMatchObject({
      rule: 'alarms.air-and-steam',
      outcome: 'finding',
      severity: 'repair',
      figures: [{ label: 'Least distance', value: 36, unit: 'in' }],
      references: [{ code: 'NFPA 72', article: '29.11.3.4' }],
    })
    expect(verdict.technician).toContain(words)
  })

  test('SA11: 36 in from all of them is enough', () => {
    expect(judgeAirAndSteam(clear, IRC_2024).outcome).toBe('sound')
  })
  test('a unit listed for it may hang nearer to the bathroom', () => {
    const inputs = { ...clear, bathDoorInches: 10, listedForBathroom: true }
    expect(judgeAirAndSteam(inputs, IRC_2024).outcome).toBe('sound')
    expect(judgeAirAndSteam({ ...inputs, bathDoorInches: undefined }, IRC_2024).outcome).toBe('sound')
  })
  test('each distance that nobody noted is named', () => {
    expect(judgeAirAndSteam({ senses: 'smoke-and-co', bathDoorInches: 40 }, IRC_2024)).toMatchObject({
      outcome: 'undetermined',
      missing: ['Distance to an air outlet', 'Distance to a fan blade tip'],
    })
    expect(judgeAirAndSteam({}, IRC_2024)).toMatchObject({ outcome: 'undetermined', missing: ['Senses'] })
  })
  test('two at once are told together', () => {
    const verdict = judgeAirAndSteam({ ...clear, bathDoorInches: 20, fanTipInches: 10 }, IRC_2024)
    expect(verdict.technician).toContain('shower, 10 in from the tip')
  })
  test.each(['co', 'heat'] as const)('%s alarms are left out', (senses) => {
    expect(judgeAirAndSteam({ ...clear, senses, fanTipInches: 1 }, IRC_2024).outcome).toBe('not-applicable')
  })
  test('inputs', () => {
    expect(airAndSteam.inputs(device('alarm', { ...clear, power: 'mains' }), home([]))).toEqual(clear)
  })
})

describe('mounting', () => {
  test.each<
    [MountingInputs['senses'], MountingInputs['mounted'], Partial<MountingInputs>, Edition, string, string]
  >([
    ['smoke', 'wall', { belowCeilingInches: 13 }, '2023', 'finding', 'SA9'],
    ['smoke', 'wall', { belowCeilingInches: 2 }, '2011', 'sound', 'SA9: NFPA 72-2010 and later'],
    ['smoke', 'wall', { belowCeilingInches: 2 }, '2008', 'finding', 'NFPA 72 before 2010: at least 4 in'],
    ['smoke', 'wall', { belowCeilingInches: 4 }, '2008', 'sound', 'NFPA 72 before 2010'],
    ['smoke', 'wall', { belowCeilingInches: 12 }, '2023', 'sound', 'up to 12 in'],
    ['smoke-and-co', 'wall', { belowCeilingInches: 0 }, '2023', 'sound', 'touching the ceiling'],
    ['heat', 'wall', { belowCeilingInches: 2 }, '2023', 'finding', 'heat alarms keep the 4 in'],
    ['heat', 'wall', { belowCeilingInches: 4 }, '2023', 'sound', 'heat alarms keep the 4 in'],
    ['smoke', 'peak', { peakInches: 36 }, '2023', 'sound', 'within 36 in of the peak'],
    ['smoke', 'peak', { peakInches: 37 }, '2023', 'finding', 'within 36 in of the peak'],
    ['smoke', 'peak', { peakInches: 3 }, '2023', 'finding', 'not in the top 4 in'],
    ['smoke', 'peak', { peakInches: 4 }, '2023', 'sound', 'not in the top 4 in'],
    ['smoke', 'ceiling', {}, '2023', 'sound', 'a flat ceiling'],
    ['co', 'wall', { belowCeilingInches: 60 }, '2023', 'sound', 'as its maker says'],
  ])('%s on the %s, %j under %s: %s (NFPA 72, %s)', (senses, mounted, inches, edition, outcome) => {
    const verdict = judgeMounting({ senses, mounted, ...inches }, context(edition))
    expect(verdict.outcome).toBe(outcome)
    expect(verdict.rule).toBe('alarms.mounting')
  })

  test('figures and words', () => {
    const verdict = judgeMounting(
      { senses: 'smoke', mounted: 'wall', belowCeilingInches: 13 },
      context('2023'),
    )
    expect(verdict).toMatchObject({
      severity: 'repair',
      figures: [
        { label: 'Nearest', value: 0, unit: 'in' },
        { label: 'Farthest', value: 12, unit: 'in' },
      ],
      references: [{ code: 'NFPA 72', article: '29.11.3.2' }],
    })
    expect(verdict.technician).toContain('13 in below the ceiling, 0 to 12 in wanted')
    const peak = judgeMounting({ senses: 'smoke', mounted: 'peak', peakInches: 20 }, context('2023'))
    expect(peak.technician).toBe('20 in from the peak, between 4 and 36 in.')
  })

  test('no edition known: the newest figures, as advice', () => {
    const at = (belowCeilingInches: number) =>
      judgeMounting({ senses: 'smoke', mounted: 'wall', belowCeilingInches }, context(null))
    expect(at(2).outcome).toBe('sound')
    expect(at(13)).toMatchObject({ outcome: 'finding', severity: 'improve' })
  })

  test.each([
    [{}, ['Senses']],
    [{ senses: 'smoke' }, ['Mounted']],
    [{ senses: 'smoke', mounted: 'wall' }, ['Top below the ceiling']],
    [{ senses: 'smoke', mounted: 'peak' }, ['Distance from the peak']],
  ] as const)('%j: not known %j', (inputs, missing) => {
    expect(judgeMounting(inputs, context('2023'))).toMatchObject({ outcome: 'undetermined', missing })
  })

  test('inputs', () => {
    const details = { senses: 'smoke', mounted: 'wall', belowCeilingInches: 3, peakInches: 4 } as const
    expect(mounting.inputs(device('alarm', { ...details, power: 'mains' }), home([]))).toEqual(details)
  })
})

describe('place: NFPA 72 annex', () => {
  test.each(['kitchen', 'garage', 'attic-unfinished', 'crawl-space', 'outdoors'] as const)(
    'a smoke alarm in the %s is not recommended',
    (kind) => {
      const verdict = judgePlace({ senses: 'smoke', space: kind, nearFuelBurner: false })
      expect(verdict).toMatchObject({
        rule: 'alarms.place',
        outcome: 'finding',
        severity: 'improve',
        requiredToday: 'no',
        requiredWhenBuilt: 'no',
      })
      expect(verdict.references[0]).toMatchObject({ code: 'NFPA 72', article: 'annex to chapter 29' })
      expect(judgePlace({ senses: 'heat', space: kind, nearFuelBurner: true }).outcome).toBe('not-applicable')
      expect(judgePlace({ senses: 'co', space: kind, nearFuelBurner: false }).outcome).toBe('sound')
    },
  )
  test.each(['hall', 'bedroom', 'living', 'basement-unfinished'] as const)('%s suits', (kind) => {
    expect(judgePlace({ senses: 'smoke', space: kind, nearFuelBurner: false }).outcome).toBe('sound')
  })
  test('beside a burner', () => {
    const verdict = judgePlace({ senses: 'co', space: 'utility', nearFuelBurner: true })
    expect(verdict).toMatchObject({ outcome: 'finding', severity: 'improve' })
    expect(verdict.technician).toContain('Beside a fuel-burning appliance')
  })
  test.each([
    [{}, ['Senses']],
    [{ senses: 'smoke', space: null }, ['Room of the alarm']],
    [{ senses: 'smoke', space: 'hall' }, ['Beside a fuel-burning appliance']],
  ] as const)('%j: not known %j', (inputs, missing) => {
    expect(judgePlace({ space: null, ...inputs })).toMatchObject({ outcome: 'undetermined', missing })
  })
  test('inputs look up the room', () => {
    const kitchen = space('kitchen')
    const alarm = smokeIn(kitchen, { nearFuelBurner: true })
    expect(place.inputs(alarm, home([kitchen], [alarm]))).toEqual({
      senses: 'smoke',
      space: 'kitchen',
      nearFuelBurner: true,
    })
    expect(place.inputs(smokeIn(null), home([])).space).toBeNull()
  })
})

describe('power: IRC R314.6, R315.6', () => {
  test('wired with a battery', () => {
    expect(judgePower({ senses: 'smoke', power: 'mains-and-battery' }, IRC_2018)).toMatchObject({
      rule: 'alarms.power',
      outcome: 'sound',
      references: [{ code: 'IRC', article: 'R314.6' }],
    })
  })
  test.each([
    ['battery', 'Battery only'],
    ['sealed-battery', 'Battery only'],
    ['mains', 'without a battery'],
  ] as const)('%s in a home built under IRC 2018 falls short', (source, words) => {
    const verdict = judgePower({ senses: 'smoke', power: source }, IRC_2018)
    expect(verdict).toMatchObject({ outcome: 'finding', severity: 'repair', requiredWhenBuilt: 'yes' })
    expect(verdict.technician).toContain(words)
    const old = judgePower({ senses: 'smoke-and-co', power: source }, context('2017', null))
    expect(old).toMatchObject({ outcome: 'finding', severity: 'improve', requiredWhenBuilt: 'unknown' })
  })
  test.each<[Edition, string, string]>([
    ['1999', 'R317.3', 'from memory'],
    ['2008', 'R314.4', 'IRC-2012 R314.4'],
    ['2014', 'R314.6', 'IRC R314.6'],
    ['2023', 'R310.6', 'from memory'],
  ])('with NFPA 70-%s it stands in IRC %s (%s)', (edition, article) => {
    expect(judgePower({ senses: 'smoke', power: 'mains' }, context(edition)).references).toEqual([
      { code: 'IRC', article },
    ])
  })
  test('CO alarms: wired since IRC 2015 (from memory), before that nothing was asked', () => {
    expect(judgePower({ senses: 'co', power: 'battery' }, IRC_2018)).toMatchObject({
      outcome: 'finding',
      references: [{ code: 'IRC', article: 'R315.6' }],
    })
    expect(judgePower({ senses: 'co', power: 'battery' }, context('2011')).outcome).toBe('not-applicable')
    expect(judgePower({ senses: 'co', power: 'battery' }, context('2017', '2011'))).toMatchObject({
      severity: 'improve',
      technician: expect.stringContaining(
        'would be required in new work under the 2017 edition, not when this was built.',
      ),
    })
  })
  test('heat alarms and unknowns', () => {
    expect(judgePower({ senses: 'heat', power: 'battery' }, IRC_2018).outcome).toBe('not-applicable')
    expect(judgePower({}, IRC_2018)).toMatchObject({ outcome: 'undetermined', missing: ['Senses', 'Power'] })
    expect(judgePower({ senses: 'smoke' }, IRC_2018)).toMatchObject({ missing: ['Power'] })
  })
  test('inputs', () => {
    const alarm = device('alarm', { senses: 'smoke', power: 'mains', ratingF: 135 })
    expect(power.inputs(alarm, home([]))).toEqual({ senses: 'smoke', power: 'mains' })
  })
})

describe('heat classes: NFPA 72 Table 17.6.2.1', () => {
  test.each([
    [99, undefined, undefined, undefined],
    [100, 'Low', 80, null],
    [134, 'Low', 80, null],
    [135, 'Ordinary', 115, null],
    [174, 'Ordinary', 115, null],
    [175, 'Intermediate', 155, 'white'],
    [194, 'Intermediate', 155, 'white'],
    [249, 'Intermediate', 155, 'white'],
    [250, 'High', 230, 'blue'],
    [324, 'High', 230, 'blue'],
    [325, 'Extra high', 305, 'red'],
    [399, 'Extra high', 305, 'red'],
    [400, 'Very extra high', 380, 'green'],
    [499, 'Very extra high', 380, 'green'],
    [500, 'Ultra high', 480, 'orange'],
    [575, 'Ultra high', 480, 'orange'],
    [576, undefined, undefined, undefined],
  ])('HT1: %i °F is %s, ceiling to %s °F, %s', (ratingF, name, maxCeilingF, colour) => {
    const found = heatClassOf(ratingF)
    expect(found?.name).toBe(name)
    expect(found?.maxCeilingF).toBe(maxCeilingF)
    expect(found?.colour).toBe(colour)
  })

  test.each([
    [135, 150, 'finding', 'HT2'],
    [194, 150, 'sound', 'HT2'],
    [194, 156, 'finding', 'above the class’s ceiling'],
    [194, 155, 'sound', 'at the class’s ceiling'],
    [135, 115, 'sound', 'exactly 20 °F above'],
    [135, 116, 'finding', 'less than 20 °F above'],
    [100, 80, 'sound', 'lowest of all'],
    [100, 81, 'finding', 'less than 20 °F above'],
  ])('%i °F under a ceiling that reaches %i °F: %s (%s)', (ratingF, ceilingPeakF, outcome) => {
    const verdict = judgeHeatRating({ senses: 'heat', ratingF, ceilingPeakF })
    expect(verdict).toMatchObject({
      rule: 'alarms.heat-rating',
      outcome,
      references: [{ code: 'NFPA 72', article: '17.6.2 and Table 17.6.2.1' }],
    })
    expect(verdict.figures[0]).toEqual({
      label: 'Least rating for this ceiling',
      value: ceilingPeakF + 20,
      unit: 'F',
    })
    if (verdict.outcome === 'finding') expect(verdict.severity).toBe('repair')
  })

  test.each([
    [{}, ['Senses']],
    [{ senses: 'heat' }, ['Heat rating', 'Hottest the ceiling gets']],
    [{ senses: 'heat', ratingF: 135 }, ['Hottest the ceiling gets']],
    [{ senses: 'heat', ceilingPeakF: 90 }, ['Heat rating']],
    [{ senses: 'heat', ratingF: 600, ceilingPeakF: 90 }, ['Heat rating between 100 and 575 °F']],
  ] as const)('%j: not known %j', (inputs, missing) => {
    expect(judgeHeatRating(inputs)).toMatchObject({ outcome: 'undetermined', missing })
  })
  test('other alarms', () => {
    expect(judgeHeatRating({ senses: 'smoke' }).outcome).toBe('not-applicable')
    const alarm = device('alarm', { senses: 'heat', ratingF: 194, ceilingPeakF: 150, power: 'mains' })
    expect(heatRating.inputs(alarm, home([]))).toEqual({ senses: 'heat', ratingF: 194, ceilingPeakF: 150 })
  })
})
