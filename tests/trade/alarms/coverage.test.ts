import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { bedroomPath, judgeBedroomPath } from '../../../trade/alarms/bedroom-path.ts'
import { coSources } from '../../../trade/alarms/co-sources.ts'
import { type CoveragePlace, coveragePicture, isMissing } from '../../../trade/alarms/coverage-picture.ts'
import {
  coCoverage,
  judgeCoCoverage,
  judgeSmokeCoverage,
  smokeCoverage,
} from '../../../trade/alarms/coverage-rules.ts'
import { levelName, storeysOf } from '../../../trade/alarms/dwelling-places.ts'
import { judgeLargeLevels, largeLevel } from '../../../trade/alarms/large-level.ts'
import type { Amendment, Edition } from '../../../trade/editions.ts'
import type { Property, Space } from '../../../trade/property.ts'
import { context, d, device, home, smokeIn, space, UNKNOWN_PROPERTY } from './build.ts'

const NOW = context('2023')
const amend = (requirement: string, effect: Amendment['effect']) =>
  context('2023', null, {
    amendments: [{ requirement, effect, from: d('1950-01-01'), source: 'local ordinance' }],
  })

/** Two storeys and a basement, three bedrooms off one hall upstairs. */
function houseOfThree() {
  const bedrooms = [1, 2, 3].map((number) => space('bedroom', 1, { name: `Bedroom ${number}` }))
  const hall = space('hall', 1)
  const living = space('living', 0)
  const kitchen = space('kitchen', 0)
  const basement = space('basement-unfinished', -1)
  return { bedrooms, hall, living, kitchen, basement, all: [...bedrooms, hall, living, kitchen, basement] }
}
const covered = (house: ReturnType<typeof houseOfThree>) =>
  [...house.bedrooms, house.hall, house.living, house.basement].map((each) => smokeIn(each))

describe('storeys', () => {
  test('crawl space, unfinished attic, garage, shed and garden make none', () => {
    const spaces = (
      ['crawl-space', 'attic-unfinished', 'garage', 'accessory-building', 'outdoors'] as const
    ).map((kind, level) => space(kind, level + 3))
    expect(storeysOf(home([...spaces, space('attic-habitable', 2), space('living')]))).toMatchObject([
      { level: 0, isBasement: false },
      { level: 2, isBasement: false },
    ])
  })
  test('lowest first; a basement by its level or by its rooms', () => {
    const spaces = [space('living'), space('basement-finished', -1), space('utility', -2)]
    expect(storeysOf(home(spaces)).map(({ level, isBasement }) => [level, isBasement])).toEqual([
      [-2, true],
      [-1, true],
      [0, false],
    ])
    expect(storeysOf(home([space('basement-unfinished', 0)]))[0]?.isBasement).toBe(true)
    expect(storeysOf(home([space('basement-unfinished', 0), space('living', 0)]))[0]?.isBasement).toBe(false)
  })
  test('names', () => {
    expect([levelName(-1), levelName(0), levelName(2), levelName(0, true)]).toEqual([
      'basement',
      'ground floor',
      'upper floor 2',
      'basement',
    ])
  })
})

describe('smoke coverage: NFPA 72 §29.5.1.1, IRC R314.3', () => {
  test('SA6: 3 bedrooms off one hall, 2 storeys and a basement want 3 + 1 + 2 = 6', () => {
    const picture = coveragePicture(home(houseOfThree().all), NOW)
    expect(picture.smokePlaces).toBe(6)
    expect(picture.smokeMissing).toBe(6)
    expect(
      picture.levels.map(({ name, isBasement, places }) => [
        name,
        isBasement,
        places.map(({ kind }) => kind),
      ]),
    ).toEqual([
      ['basement', true, ['level']],
      ['ground floor', false, ['level']],
      ['upper floor 1', false, ['sleeping-room', 'sleeping-room', 'sleeping-room', 'sleeping-area']],
    ])
  })

  test('six alarms, one at each place: sound', () => {
    const house = houseOfThree()
    const record = home(house.all, covered(house))
    expect(coveragePicture(record, NOW).smokeMissing).toBe(0)
    const [verdict, ...more] = judgeSmokeCoverage(record, NOW)
    expect(more).toEqual([])
    expect(verdict).toMatchObject({
      rule: 'alarms.smoke-coverage',
      outcome: 'sound',
      inputs: { places: 6, covered: 6 },
      requiredToday: 'yes',
    })
    expect(verdict!.references.map(({ code }) => code)).toEqual(['IRC', 'CPSC'])
    expect(verdict!.technician).toBe('A smoke alarm at each of 6 places that want one.')
  })

  test('each missing place is a finding of its own', () => {
    const house = houseOfThree()
    const kept = covered(house).filter(
      ({ spaceId }) => spaceId !== house.hall.id && spaceId !== house.basement.id,
    )
    const verdicts = judgeSmokeCoverage(home(house.all, kept), NOW)
    expect(verdicts).toMatchObject([
      {
        outcome: 'finding',
        severity: 'repair',
        inputs: { places: 6, covered: 4, place: 'level', level: -1, name: 'basement' },
        references: [{ code: 'IRC', article: 'R310.3' }, { code: 'CPSC' }],
      },
      {
        outcome: 'finding',
        severity: 'repair',
        inputs: { place: 'sleeping-area', level: 1, name: 'outside the bedrooms, upper floor 1' },
      },
    ])
    expect(verdicts[1]!.technician).toContain('No smoke alarm: outside the bedrooms, upper floor 1')
  })

  test.each<[Edition, string, string]>([
    ['1999', 'R317.1', 'from memory'],
    ['2005', 'R313.1', 'from memory'],
    ['2017', 'R314.3', 'IRC R314.3'],
    ['2023', 'R310.3', 'from memory'],
  ])('with NFPA 70-%s it stands in IRC %s (%s)', (edition, article) => {
    const [verdict] = judgeSmokeCoverage(home([space('living')]), context(edition))
    expect(verdict).toMatchObject({
      outcome: 'finding',
      severity: 'repair',
      references: [{ code: 'IRC', article }, {}],
    })
  })

  test('an older or unknown home: an improvement, never silence', () => {
    for (const editionWhenBuilt of ['1968', null] as const) {
      const [verdict] = judgeSmokeCoverage(home([space('living')]), context('2023', editionWhenBuilt))
      expect(verdict).toMatchObject({ outcome: 'finding', severity: 'improve', requiredWhenBuilt: 'unknown' })
    }
    const [verdict] = judgeSmokeCoverage(home([space('living')]), context(null))
    expect(verdict).toMatchObject({ outcome: 'finding', severity: 'improve', requiredToday: 'unknown' })
    expect(verdict!.technician).toBe('No smoke alarm: ground floor; advised for every home.')
  })

  test('HT3: a heat alarm as the only device in a bedroom leaves the finding open', () => {
    const bedroom = space('bedroom', 0, { name: 'Back bedroom' })
    const hall = space('hall')
    const heat = device('alarm', { senses: 'heat' }, { spaceId: bedroom.id })
    const [verdict] = judgeSmokeCoverage(home([bedroom, hall], [heat, smokeIn(hall)]), NOW)
    expect(verdict).toMatchObject({
      outcome: 'finding',
      inputs: { name: 'Back bedroom', place: 'sleeping-room' },
    })
    expect(verdict!.technician).toContain('No smoke alarm: Back bedroom (a heat alarm is no substitute)')
  })

  test('a retired or a CO alarm does not count', () => {
    const living = space('living')
    const alarms = [
      device('alarm', { senses: 'co' }, { spaceId: living.id }),
      { ...smokeIn(living), retiredOn: d('2025-01-01') },
    ]
    expect(judgeSmokeCoverage(home([living], alarms), NOW)[0]?.outcome).toBe('finding')
    expect(
      judgeSmokeCoverage(home([living], [smokeIn(living, { senses: 'smoke-and-co' })]), NOW)[0]?.outcome,
    ).toBe('sound')
  })

  test('an alarm whose room or sense nobody noted may be the missing one', () => {
    const living = space('living')
    for (const alarm of [smokeIn(null), device('alarm', {}, { spaceId: living.id })]) {
      expect(judgeSmokeCoverage(home([living], [alarm]), NOW)).toMatchObject([
        {
          outcome: 'undetermined',
          missing: ['Room of each alarm and what it senses', 'Smoke alarm: ground floor'],
        },
      ])
    }
    const co = device('alarm', { senses: 'co' })
    expect(judgeSmokeCoverage(home([living], [co]), NOW)[0]?.outcome).toBe('finding')
  })

  test('rooms unknown', () => {
    expect(judgeSmokeCoverage(home([]), NOW)).toMatchObject([
      { outcome: 'undetermined', missing: ['Rooms and their levels'] },
    ])
  })

  test('levels that the property counts and no room stands on', () => {
    const living = space('living')
    const verdicts = judgeSmokeCoverage(home([living], [smokeIn(living)], { levels: 3 }), NOW)
    expect(verdicts).toMatchObject([
      { outcome: 'sound' },
      {
        outcome: 'undetermined',
        missing: ['Rooms on every level of the home'],
        figures: [{ label: 'Levels without a room on record', value: 2, unit: 'count' }],
      },
    ])
    expect(judgeSmokeCoverage(home([living], [smokeIn(living)], { levels: 1 }), NOW)).toHaveLength(1)
  })

  test('a local change drops one place, or all', () => {
    const bedroom = space('bedroom', 0, { name: 'Bedroom' })
    const hall = space('hall')
    const record = home([bedroom, hall], [smokeIn(hall)])
    expect(judgeSmokeCoverage(record, amend('alarms.smoke-coverage/sleeping-room', 'remove'))).toMatchObject([
      { outcome: 'sound', inputs: { places: 1 } },
    ])
    expect(judgeSmokeCoverage(record, amend('alarms.smoke-coverage', 'remove'))).toMatchObject([
      { outcome: 'not-applicable', why: 'no place of the home wants one' },
    ])
  })

  test('only places that make no storey: nothing to cover', () => {
    expect(judgeSmokeCoverage(home([space('garage')]), NOW)).toMatchObject([{ outcome: 'not-applicable' }])
  })

  test('the order of rooms and alarms does not matter', () => {
    const house = houseOfThree()
    const alarms = covered(house).slice(1)
    const spaces = fc.shuffledSubarray(house.all, { minLength: house.all.length })
    const some = fc.shuffledSubarray(alarms, { minLength: alarms.length })
    const missing = (record: ReturnType<typeof home>) =>
      judgeSmokeCoverage(record, NOW)
        .map(({ technician }) => technician)
        .sort()
    const expected = missing(home(house.all, alarms))
    fc.assert(
      fc.property(spaces, some, (a, b) => {
        expect(missing(home(a, b))).toEqual(expected)
      }),
    )
  })

  test('one home, one picture for each context', () => {
    const record = home([space('living')])
    expect(coveragePicture(record, NOW)).toBe(coveragePicture(record, NOW))
    expect(coveragePicture(record, context(null)).levels[0]!.places[0]!.smoke.wanted).toBe('advised')
    expect(coveragePicture({ ...record, spaces: [] }, NOW).levels).toEqual([])
  })

  test('the rule hands over the home', () => {
    const record = home([space('living')])
    expect(smokeCoverage.inputs(record)).toBe(record)
    expect(coCoverage.inputs(record)).toBe(record)
    expect(smokeCoverage.watches).toEqual(['alarm'])
    expect(coCoverage.watches).toEqual(['alarm'])
  })
})

describe('outside the bedrooms', () => {
  const presence = (spaces: Space[], alarms: Parameters<typeof home>[1], level = 0) =>
    coveragePicture(home(spaces, alarms), NOW)
      .levels.flatMap(({ places }) => places)
      .filter((place) => place.kind === 'sleeping-area' && place.level === level)
      .map(({ smoke }) => smoke.present)

  test.each(['hall', 'stairs'] as const)('an alarm in the %s serves them', (kind) => {
    const way = space(kind)
    expect(presence([space('bedroom'), way], [smokeIn(way)])).toEqual(['yes'])
  })
  test('one on another level does not', () => {
    const way = space('hall', 1)
    expect(presence([space('bedroom'), way], [smokeIn(way)])).toEqual(['no'])
  })
  test.each(['living', 'dining', 'family', 'office', 'other'] as const)(
    'one in an open %s serves them when the path is measured: NFPA 72 21 ft',
    (kind) => {
      const room = space(kind)
      const at = (bedroomDoorFeet?: number) =>
        presence([space('bedroom'), room], [smokeIn(room, { bedroomDoorFeet })])
      expect(at(21)).toEqual(['yes'])
      expect(at(21.1)).toEqual(['no'])
      expect(at()).toEqual(['unknown'])
    },
  )
  test.each(['bedroom', 'kitchen', 'bathroom', 'laundry', 'closet'] as const)(
    'one in the %s does not',
    (kind) => {
      const room = space(kind)
      expect(presence([space('bedroom'), room], [smokeIn(room, { bedroomDoorFeet: 5 })])).toEqual(['no'])
    },
  )
  test('two sleeping areas each want their own hall', () => {
    const east = { sleepingArea: 'east' }
    const west = { sleepingArea: 'west' }
    const rooms = [space('bedroom', 0, east), space('bedroom', 0, west)]
    const hall = space('hall', 0, east)
    const plain = space('hall', 0)
    expect(presence([...rooms, hall], [smokeIn(hall)])).toEqual(['yes', 'no'])
    expect(presence([...rooms, plain], [smokeIn(plain)])).toEqual(['unknown', 'unknown'])
    const picture = coveragePicture(home([...rooms, hall], [smokeIn(hall)]), NOW)
    expect(picture.levels[0]!.places.map(({ name }) => name).slice(2)).toEqual([
      'outside the bedrooms (east), ground floor',
      'outside the bedrooms (west), ground floor',
    ])
  })
  test('a named hall serves the only sleeping area whatever its name', () => {
    const hall = space('hall', 0, { sleepingArea: 'other' })
    expect(presence([space('bedroom', 0, { sleepingArea: 'a' }), hall], [smokeIn(hall)])).toEqual(['yes'])
  })
  test('ids of the alarms stand in the picture', () => {
    const hall = space('hall')
    const alarm = smokeIn(hall)
    const heat = device('alarm', { senses: 'heat' }, { spaceId: hall.id })
    const places = coveragePicture(home([space('bedroom'), hall], [alarm, heat]), NOW).levels[0]!.places
    expect(places[1]).toMatchObject({ smoke: { alarmIds: [alarm.id], present: 'yes' }, hasHeatAlarm: true })
    expect(places[0]).toMatchObject({ smoke: { alarmIds: [], present: 'no' }, hasHeatAlarm: false })
    const open = space('living')
    const maybe = smokeIn(open)
    const unsure = coveragePicture(home([space('bedroom'), open], [maybe]), NOW).levels[0]!.places
    expect(unsure[1]!.smoke).toMatchObject({ present: 'unknown', alarmIds: [maybe.id] })
  })
})

describe('sources of carbon monoxide: IRC R315', () => {
  const property = (more: Partial<Property>): Property => ({ ...UNKNOWN_PROPERTY, ...more })
  test.each<[Partial<Property>, Edition | null, string, string]>([
    [{ fuels: ['electric'], garage: 'none' }, '2023', 'no', 'CO6: all-electric, no garage'],
    [
      { fuels: ['electric'], garage: 'attached', garageOpensIntoHome: true },
      '2023',
      'yes',
      'CO6: all-electric and an attached garage',
    ],
    [
      { fuels: ['electric'], garage: 'attached', garageOpensIntoHome: false },
      '2014',
      'no',
      'IRC 2015: no opening',
    ],
    [
      { fuels: ['electric'], garage: 'attached', garageOpensIntoHome: false },
      '2011',
      'yes',
      'IRC 2012: attached',
    ],
    [
      { fuels: ['electric'], garage: 'attached', garageOpensIntoHome: false },
      null,
      'unknown',
      'edition unknown',
    ],
    [{ fuels: ['electric'], garage: 'attached' }, '2023', 'unknown', 'opening unknown'],
    [{ fuels: ['electric'], garage: 'detached' }, '2023', 'no', 'detached'],
    [{ fuels: ['electric', 'natural-gas'] }, '2023', 'yes', 'gas'],
    [{ fuels: ['wood'], garage: 'none' }, '2023', 'yes', 'wood'],
    [{ fuels: null, garage: 'none' }, '2023', 'unknown', 'fuels unknown'],
    [{ fuels: [], garage: 'none' }, '2023', 'unknown', 'no fuel entered'],
    [{ fuels: ['electric'], garage: null }, '2023', 'unknown', 'garage unknown'],
  ])('%j under NFPA 70-%s: %s (%s)', (known, edition, possible) => {
    expect(coSources(property(known), [], edition).possible).toBe(possible)
  })
  test('a burner noted in a room settles it', () => {
    expect(coSources(property({}), [space('utility', 0, { hasFuelBurner: true })], null)).toEqual({
      possible: 'yes',
      why: 'fuel is burned in the home',
      missing: [],
    })
    expect(coSources(property({}), [space('utility', 0, { hasFuelBurner: false })], null)).toMatchObject({
      possible: 'unknown',
      missing: ['Fuels used in the home', 'Garage'],
    })
  })
  test('what would settle it, and why', () => {
    expect(coSources(property({ fuels: ['electric'], garage: 'attached' }), [], '2023').missing).toEqual([
      'Whether the garage opens into the home',
    ])
    expect(coSources(property({ garage: 'attached', garageOpensIntoHome: true }), [], '2023')).toEqual({
      possible: 'yes',
      why: 'a garage is attached',
      missing: [],
    })
    expect(coSources(property({ fuels: ['electric'], garage: 'none' }), [], '2023').why).toBe(
      'nothing burns fuel and no garage opens into the home',
    )
  })
})

describe('CO coverage', () => {
  const gas = { fuels: ['natural-gas'] as const }
  const places = (record: ReturnType<typeof home>, ctx = NOW): CoveragePlace[] =>
    coveragePicture(record, ctx).levels.flatMap((level) => [...level.places])

  test('CO6: all-electric without a garage wants none', () => {
    const record = home(houseOfThree().all, [], { fuels: ['electric'], garage: 'none' })
    expect(judgeCoCoverage(record, NOW)).toMatchObject([
      {
        rule: 'alarms.co-coverage',
        outcome: 'not-applicable',
        why: 'nothing burns fuel and no garage opens into the home',
        inputs: { sources: 'no' },
      },
    ])
    expect(coveragePicture(record, NOW).coMissing).toBe(0)
  })

  test('a gas home: outside the bedrooms and on the other level that people use, not in the basement', () => {
    const record = home(houseOfThree().all, [], gas)
    expect(places(record).map(({ kind, co }) => [kind, co.wanted])).toEqual([
      ['level', 'no'],
      ['level', 'required'],
      ['sleeping-room', 'no'],
      ['sleeping-room', 'no'],
      ['sleeping-room', 'no'],
      ['sleeping-area', 'required'],
    ])
    expect(coveragePicture(record, NOW).coMissing).toBe(2)
    expect(judgeCoCoverage(record, NOW)).toMatchObject([
      {
        outcome: 'finding',
        severity: 'repair',
        inputs: { place: 'level' },
        references: [{ code: 'NFPA 72' }, { code: 'CPSC' }],
      },
      {
        outcome: 'finding',
        severity: 'repair',
        inputs: { place: 'sleeping-area', places: 2, covered: 0 },
        references: [{ code: 'IRC', article: 'R311.3' }, { code: 'CPSC' }],
      },
    ])
  })

  test.each<[Edition, string, string]>([
    ['2008', 'R315.1', 'IRC-2009 R315'],
    ['2014', 'R315.3', 'IRC R315'],
    ['2023', 'R311.3', 'from memory'],
  ])('with NFPA 70-%s it stands in IRC %s (%s)', (edition, article) => {
    const record = home([space('bedroom'), space('hall')], [], gas)
    expect(judgeCoCoverage(record, context(edition))[0]).toMatchObject({
      severity: 'repair',
      references: [{ code: 'IRC', article }, {}],
    })
  })

  test('a home of before: an improvement', () => {
    const record = home([space('bedroom'), space('hall')], [], gas)
    expect(judgeCoCoverage(record, context('2023', '1999'))[0]).toMatchObject({
      outcome: 'finding',
      severity: 'improve',
    })
    expect(judgeCoCoverage(record, context(null))[0]).toMatchObject({
      outcome: 'finding',
      severity: 'improve',
    })
  })

  test('covered', () => {
    const house = houseOfThree()
    const alarms = [
      device('alarm', { senses: 'co' }, { spaceId: house.hall.id }),
      device('alarm', { senses: 'smoke-and-co' }, { spaceId: house.kitchen.id }),
    ]
    const [verdict] = judgeCoCoverage(home(house.all, alarms, gas), NOW)
    expect(verdict).toMatchObject({ outcome: 'sound', inputs: { places: 2, covered: 2 } })
    expect(verdict!.technician).toBe('A carbon monoxide alarm at each of 2 places that want one.')
    expect(verdict!.homeowner).toBe('There is a carbon monoxide alarm wherever your home wants one.')
  })

  test('a burner in a bedroom wants one there: IRC 2015 (year from memory)', () => {
    const bedroom = space('bedroom', 0, { hasFuelBurner: true, name: 'Bedroom' })
    const record = home([bedroom, space('hall')], [], {})
    expect(places(record, context('2014'))[0]!.co.wanted).toBe('required')
    expect(places(record, context('2011'))[0]!.co.wanted).toBe('advised')
  })

  test('basement only where an admin enters it', () => {
    const record = home([space('basement-finished', -1)], [], gas)
    expect(judgeCoCoverage(record, NOW)).toMatchObject([{ outcome: 'not-applicable' }])
    const local = amend('alarms.co-coverage/basement', 'add')
    expect(judgeCoCoverage(record, local)).toMatchObject([
      { outcome: 'finding', inputs: { name: 'basement' } },
    ])
  })

  test('a basement with bedrooms has a sleeping area', () => {
    const record = home([space('bedroom', -1), space('hall', -1)], [], gas)
    expect(judgeCoCoverage(record, NOW)).toMatchObject([{ inputs: { place: 'sleeping-area', level: -1 } }])
  })

  test('sources unknown: undetermined where an alarm is missing, sound where all have one', () => {
    const hall = space('hall')
    const spaces = [space('bedroom'), hall]
    expect(judgeCoCoverage(home(spaces), NOW)).toMatchObject([
      {
        outcome: 'undetermined',
        missing: [
          'Fuels used in the home',
          'Garage',
          'Carbon monoxide alarm: outside the bedrooms, ground floor',
        ],
      },
    ])
    const co = device('alarm', { senses: 'co' }, { spaceId: hall.id })
    expect(judgeCoCoverage(home(spaces, [co]), NOW)).toMatchObject([{ outcome: 'sound' }])
    expect(judgeCoCoverage(home([]), NOW)).toMatchObject([
      { missing: ['Fuels used in the home', 'Garage', 'Rooms and their levels'] },
    ])
  })

  test('missing is what is wanted and not there', () => {
    const [place] = places(home([space('living')], [], gas))
    expect(isMissing(place!.co)).toBe(true)
    expect(isMissing({ ...place!.co, wanted: 'advised' })).toBe(true)
    expect(isMissing({ ...place!.co, wanted: 'no' })).toBe(false)
    expect(isMissing({ ...place!.co, wanted: 'unknown' })).toBe(false)
    expect(isMissing({ ...place!.co, present: 'unknown' })).toBe(false)
  })
})

describe('path to the bedroom doors: NFPA 72-2010 §29.5.1.1, 21 ft', () => {
  const judge = (pathFeet: (number | null)[], ctx = NOW) =>
    judgeBedroomPath({ areas: [{ name: 'ground floor', pathFeet }] }, ctx)[0]!

  test.each([
    [[22], 'finding', 'SA7'],
    [[21], 'sound', 'SA7'],
    [[30, 21], 'sound', 'one near enough is enough'],
    [[21, null], 'sound', 'one near enough is enough'],
    [[22, null], 'undetermined', 'the other may be nearer'],
    [[null], 'undetermined', 'not measured'],
  ])('%j: %s (%s)', (pathFeet, outcome) => {
    expect(judge(pathFeet).outcome).toBe(outcome)
  })
  test('figures, articles, severity', () => {
    expect(judge([22, 30])).toMatchObject({
      rule: 'alarms.bedroom-path',
      severity: 'repair',
      inputs: { area: 'ground floor', nearestFeet: 22, alarms: 2 },
      figures: [{ label: 'Farthest allowed', value: 21, unit: 'ft' }],
      references: [{ code: 'NFPA 72', article: '29.8.1.1' }],
    })
    expect(judge([22]).technician).toContain(
      '22 ft from the farthest bedroom door, ground floor; 21 ft at most',
    )
    expect(judge([22], context('2011')).references).toEqual([{ code: 'NFPA 72', article: '29.5.1.1' }])
    expect(judge([22], context('2011', '1999'))).toMatchObject({ severity: 'improve' })
    expect(judge([null])).toMatchObject({ missing: ['Path to the farthest bedroom door, ground floor'] })
  })
  test('inputs: one entry for each sleeping area with an alarm outside', () => {
    const hall = space('hall', 1)
    const west = space('hall', 0, { sleepingArea: 'west' })
    const spaces = [
      space('bedroom', 1),
      hall,
      space('bedroom', 0, { sleepingArea: 'west' }),
      space('bedroom', 0, { sleepingArea: 'east' }),
      west,
    ]
    const alarms = [
      smokeIn(hall, { bedroomDoorFeet: 12 }),
      smokeIn(hall),
      smokeIn(west, { bedroomDoorFeet: 9 }),
    ]
    expect(bedroomPath.inputs(home(spaces, alarms))).toEqual({
      areas: [
        { name: 'west, ground floor', pathFeet: [9] },
        { name: 'upper floor 1', pathFeet: [12, null] },
      ],
    })
    expect(bedroomPath.watches).toEqual(['alarm'])
  })
})

describe('large floors: NFPA 72-2016, over 1,000 ft² (500 ft² for each alarm from memory)', () => {
  const judge = (areaSqFt: number | null, alarms: number, ctx = NOW) =>
    judgeLargeLevels({ levels: [{ name: 'ground floor', areaSqFt, alarms }] }, ctx)[0]!

  test.each([
    [1000, 1, 'sound', 1],
    [1001, 2, 'finding', 3],
    [1001, 3, 'sound', 3],
    [1500, 3, 'sound', 3],
    [1501, 3, 'finding', 4],
    [1000, 0, 'sound', 1],
  ])('%i ft² with %i alarms: %s, %i wanted', (areaSqFt, alarms, outcome, wanted) => {
    expect(judge(areaSqFt, alarms)).toMatchObject({
      rule: 'alarms.large-level',
      outcome,
      figures: [{ label: 'Alarms for this area', value: wanted, unit: 'count' }],
      references: [{ code: 'NFPA 72', article: '29.8.1.3' }],
    })
  })
  test('words, severity, unknown', () => {
    expect(judge(1200, 1)).toMatchObject({ severity: 'repair' })
    expect(judge(1200, 1, context('2014'))).toMatchObject({ severity: 'improve' })
    expect(judge(1200, 1).technician).toContain('1200 ft² with 1 smoke alarm, ground floor: 3 wanted')
    expect(judge(1200, 2).technician).toContain('with 2 smoke alarms')
    expect(judge(null, 1)).toMatchObject({
      outcome: 'undetermined',
      missing: ['Floor area of each room, ground floor'],
    })
  })
  test('inputs add up the rooms of a level, unknown as soon as one is', () => {
    const rooms = [space('living', 0, { areaSqFt: 800 }), space('kitchen', 0, { areaSqFt: 300 })]
    const alarms = [
      smokeIn(rooms[0]!),
      smokeIn(rooms[1]!),
      device('alarm', { senses: 'co' }, { spaceId: rooms[0]!.id }),
    ]
    expect(largeLevel.inputs(home(rooms, alarms))).toEqual({
      levels: [{ name: 'ground floor', areaSqFt: 1100, alarms: 2 }],
    })
    expect(largeLevel.inputs(home([...rooms, space('hall')], alarms)).levels[0]!.areaSqFt).toBeNull()
    expect(largeLevel.watches).toEqual(['alarm'])
  })
})
