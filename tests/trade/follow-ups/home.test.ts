import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { addDays, type Day } from '../../../trade/dates.ts'
import type { DetailsOf, EquipmentOf } from '../../../trade/equipment.ts'
import { alarmFollowUpKind, dueFollowUps, followUpsOf } from '../../../trade/follow-ups/due-dates.ts'
import { equipmentDates, surgeHasFailed } from '../../../trade/follow-ups/equipment-dates.ts'
import { inspectionAdvice } from '../../../trade/follow-ups/inspection-advice.ts'
import { DEFAULT_POLICY, policyWith } from '../../../trade/follow-ups/policy.ts'
import { d, device, home, TODAY } from '../alarms/build.ts'

const alarm = (details: DetailsOf<'alarm'>, more: Partial<EquipmentOf<'alarm'>> = {}) =>
  device('alarm', { senses: 'smoke', ...details }, { label: 'Hall', ...more })
const surge = (details: DetailsOf<'surge-protector'>, more: Partial<EquipmentOf<'surge-protector'>> = {}) =>
  device('surge-protector', details, { label: 'Panel', ...more })

describe('dates kept beside an alarm', () => {
  test('its end, and the yearly battery', () => {
    const made = { manufacturedOn: d('2019-05-01') }
    expect(
      equipmentDates(alarm({ power: 'battery', batteryChangedOn: d('2025-09-30') }, made), TODAY),
    ).toEqual({
      replaceBy: '2029-05-01',
      assumed: false,
      nextCheckOn: '2026-09-30',
      checkAssumed: false,
      why: 'Made May 1, 2019; a smoke alarm serves 10 years from manufacture.',
    })
  })

  test.each<[DetailsOf<'alarm'>, Partial<EquipmentOf<'alarm'>>, string | null, boolean, string]>([
    [
      { power: 'mains-and-battery', batteryChangedOn: d('2024-02-29') },
      {},
      '2025-02-28',
      false,
      '29 February',
    ],
    [{ power: 'battery' }, { lastCheckedOn: d('2025-09-30') }, '2026-09-30', true, 'from the last look'],
    [
      { power: 'battery' },
      { installedOn: d('2025-03-30') },
      '2026-03-30',
      true,
      'from the day it was fitted',
    ],
    [{ power: 'battery' }, {}, null, false, 'nothing to count from'],
    [{ power: 'mains', batteryChangedOn: d('2025-09-30') }, {}, null, false, 'no battery'],
    [{ power: 'sealed-battery', batteryChangedOn: d('2025-09-30') }, {}, null, false, 'never changed'],
    [{ batteryChangedOn: d('2025-09-30') }, {}, null, false, 'power not known'],
    [{ power: 'battery', batteryChangedOn: d('2028-05-01') }, {}, null, false, 'the alarm ends on that day'],
    [
      { power: 'battery', batteryChangedOn: d('2028-04-30') },
      {},
      '2029-04-30',
      false,
      'a day before its end',
    ],
  ])('battery %j %j: %s, assumed %s (%s)', (details, more, nextCheckOn, checkAssumed) => {
    const found = equipmentDates(alarm(details, { manufacturedOn: d('2019-05-01'), ...more }), TODAY)
    expect(found).toMatchObject({ nextCheckOn, checkAssumed, replaceBy: '2029-05-01' })
  })

  test('the policy decides how often a battery is changed', () => {
    const each = alarm(
      { power: 'battery', batteryChangedOn: d('2025-09-30') },
      { manufacturedOn: d('2019-05-01') },
    )
    const found = equipmentDates(each, TODAY, { policy: policyWith({ batteryMonths: 6 }) })
    expect(found.nextCheckOn).toBe('2026-03-30')
  })

  test.each<[Partial<EquipmentOf<'alarm'>>, string]>([
    [{ lastCheckedOn: d('2025-12-01') }, '2025-12-01'],
    [{ lastCheckedOn: d('2025-12-01'), installedOn: d('2020-01-01') }, '2025-12-01'],
    [{ installedOn: d('2020-01-01') }, '2020-01-01'],
    [{}, '2026-01-15'],
    [{ lastCheckedOn: d('2027-01-01') }, '2026-01-15'],
  ])('SA3: undated, %j: replace now, noticed %s', (more, replaceBy) => {
    const found = equipmentDates(alarm({ power: 'battery', batteryChangedOn: d('2025-09-30') }, more), TODAY)
    expect(found).toMatchObject({ replaceBy, assumed: true, nextCheckOn: null, checkAssumed: false })
    expect(found.why).toContain('Age of the smoke alarm unknown')
  })

  test('SA5: silent at its button, two years old: replace now', () => {
    const failed = alarm(
      { buttonTest: 'silent' },
      { manufacturedOn: d('2024-01-01'), lastCheckedOn: d('2025-12-01') },
    )
    expect(equipmentDates(failed, TODAY)).toEqual({
      replaceBy: '2025-12-01',
      assumed: false,
      nextCheckOn: null,
      checkAssumed: false,
      why: 'It stays silent at its test button: replace it now.',
    })
  })
  test('UL 2034: the end-of-life signal sounds', () => {
    const worn = alarm({ endOfLifeSounding: true, buttonTest: 'silent' }, { manufacturedOn: d('2024-01-01') })
    expect(equipmentDates(worn, TODAY)).toMatchObject({
      replaceBy: '2026-01-15',
      why: 'Its end-of-life signal sounds: replace the whole alarm now.',
    })
    const older = alarm({ endOfLifeSounding: true }, { manufacturedOn: d('2014-01-01') })
    expect(equipmentDates(older, TODAY).replaceBy).toBe('2024-01-01')
  })

  test('a label is read as its place writes dates', () => {
    const label = alarm({ labelText: '04/03/2016' })
    expect(equipmentDates(label, TODAY, { isUs: true })).toMatchObject({
      replaceBy: '2026-04-03',
      assumed: true,
    })
    expect(equipmentDates(label, TODAY)).toMatchObject({ replaceBy: '2026-03-04', assumed: true })
  })

  test('out of use, and things without a dated life', () => {
    const gone = alarm({}, { manufacturedOn: d('2010-01-01'), retiredOn: d('2024-01-01') })
    expect(equipmentDates(gone, TODAY)).toEqual({
      replaceBy: null,
      assumed: false,
      nextCheckOn: null,
      checkAssumed: false,
      why: 'Out of use since January 1, 2024.',
    })
    expect(equipmentDates(device('receptacle', {}), TODAY)).toMatchObject({
      replaceBy: null,
      why: 'No dated life.',
    })
  })
})

describe('dates kept beside a surge protector', () => {
  test('SP3: looked at 2025-08-31, every twelve months: 2026-08-31', () => {
    const found = equipmentDates(surge({ indicator: 'good' }, { lastCheckedOn: d('2025-08-31') }), TODAY)
    expect(found).toEqual({
      replaceBy: null,
      assumed: false,
      nextCheckOn: '2026-08-31',
      checkAssumed: false,
      why: 'Last looked at August 31, 2025; checked every 12 months.',
    })
  })

  test.each<
    [
      DetailsOf<'surge-protector'>,
      Partial<EquipmentOf<'surge-protector'>>,
      string | null,
      boolean,
      string | null,
      boolean,
    ]
  >([
    [{}, { installedOn: d('2020-06-01') }, '2030-06-01', true, '2021-06-01', true],
    [{ lifeYears: 5 }, { installedOn: d('2020-06-01') }, '2025-06-01', false, '2021-06-01', true],
    [{}, { manufacturedOn: d('2019-06-01') }, '2029-06-01', true, '2026-01-15', true],
    [
      {},
      { installedOn: d('2020-06-01'), manufacturedOn: d('2019-06-01') },
      '2030-06-01',
      true,
      '2021-06-01',
      true,
    ],
    [
      { lifeYears: 6 },
      { installedOn: d('2020-06-01'), lastCheckedOn: d('2025-12-01') },
      '2026-06-01',
      false,
      '2026-06-01',
      false,
    ],
    [
      { lifeYears: 5 },
      { installedOn: d('2020-06-01'), lastCheckedOn: d('2025-12-01') },
      '2025-06-01',
      false,
      '2026-12-01',
      false,
    ],
    [
      { lifeYears: 5 },
      { installedOn: d('2020-06-01'), lastCheckedOn: d('2025-06-01') },
      '2025-06-01',
      false,
      '2026-06-01',
      false,
    ],
    [{}, {}, null, false, '2026-01-15', true],
  ])(
    '%j %j: life to %s (assumed %s), look on %s (assumed %s); own choice',
    (details, more, replaceBy, assumed, nextCheckOn, checkAssumed) => {
      expect(equipmentDates(surge(details, more), TODAY)).toMatchObject({
        replaceBy,
        assumed,
        nextCheckOn,
        checkAssumed,
      })
    },
  )
  test('nobody has noted a check', () => {
    expect(equipmentDates(surge({}), TODAY).why).toBe('Nobody has noted a check: look at its indicator now.')
  })
  test.each(['fault', 'dark'] as const)('SP1: indicator %s: protection lost, now', (indicator) => {
    const device = surge({ indicator }, { installedOn: d('2020-06-01'), lastCheckedOn: d('2025-12-01') })
    expect(surgeHasFailed(device)).toBe(true)
    expect(equipmentDates(device, TODAY)).toEqual({
      replaceBy: '2025-12-01',
      assumed: false,
      nextCheckOn: null,
      checkAssumed: false,
      why: 'Its indicator says that protection is lost.',
    })
  })
  test.each(['good', 'degraded', 'power-only', undefined] as const)(
    'indicator %s has not failed',
    (indicator) => {
      expect(surgeHasFailed(surge({ indicator }))).toBe(false)
    },
  )
})

describe('follow-ups of one home', () => {
  const short = (found: ReturnType<typeof followUpsOf>) =>
    found.map(({ kind, subjectId, dueOn, assumed }) => [kind, subjectId, dueOn, assumed])

  test('what a home has coming, earliest first', () => {
    const dated = alarm(
      { power: 'battery', batteryChangedOn: d('2025-06-01') },
      { manufacturedOn: d('2016-03-01') },
    )
    const undated = alarm({ labelUnreadable: true }, { lastCheckedOn: d('2025-12-01') })
    const ambiguous = alarm({ labelText: '2315' })
    const assumed = alarm({ senses: 'co' }, { manufacturedOn: d('2020-03-01') })
    const good = surge({}, { lastCheckedOn: d('2025-08-31') })
    const dark = surge({ indicator: 'dark' }, { lastCheckedOn: d('2025-12-20') })
    const gone = alarm({}, { retiredOn: d('2024-01-01') })
    const record = home([], [dated, undated, ambiguous, assumed, good, dark, gone, device('panel', {})], {
      tenure: 'owner',
      lastInspectedOn: d('2020-01-31'),
    })
    expect(short(followUpsOf(record, [], DEFAULT_POLICY, TODAY))).toEqual([
      ['alarm-undated', ambiguous.id, '2025-06-01', true],
      ['alarm-undated', undated.id, '2025-12-01', true],
      ['surge-failed', dark.id, '2025-12-20', false],
      ['alarm-end-of-life', dated.id, '2026-03-01', false],
      ['surge-check', good.id, '2026-08-31', false],
      ['alarm-end-of-life', assumed.id, '2027-03-01', true],
      ['re-inspection', null, '2030-01-31', false],
    ])
  })

  test('only what has begun to speak is due', () => {
    const each = alarm({}, { manufacturedOn: d('2016-04-15') })
    const on = (today: string) => dueFollowUps(home([], [each]), [], DEFAULT_POLICY, d(today))
    expect(on('2026-01-14')).toEqual([])
    expect(on('2026-01-15')).toEqual([
      {
        kind: 'alarm-end-of-life',
        subjectKind: 'equipment',
        subjectId: each.id,
        dueOn: '2026-04-15',
        opensOn: '2026-01-15',
        assumed: false,
        severity: null,
        reason: {
          en: 'The alarm “Hall” should be replaced by April 15, 2026: alarms lose their sensitivity with age.',
          es: 'La alarma «Hall» debería cambiarse a más tardar el 15 de abril de 2026: con los años pierde sensibilidad.',
        },
      },
    ])
  })

  test('a changed cadence opens earlier', () => {
    const each = alarm({}, { manufacturedOn: d('2016-06-15') })
    const policy = policyWith({
      cadences: { 'alarm-end-of-life': { steps: [{ days: -200, by: ['mail'] }] } },
    })
    expect(dueFollowUps(home([], [each]), [], policy, TODAY)[0]?.opensOn).toBe('2025-11-27')
    expect(dueFollowUps(home([], [each]), [], DEFAULT_POLICY, TODAY)).toEqual([])
  })

  test('findings: danger the same day and the day after, repair in four weeks', () => {
    const found = followUpsOf(
      home([]),
      [
        { id: 'u', severity: 'unsafe', state: 'open', foundOn: TODAY, text: 'Burnt lug' },
        { id: 'r', severity: 'repair', state: 'open', foundOn: TODAY },
      ],
      DEFAULT_POLICY,
      TODAY,
    )
    expect(
      found.map(({ kind, subjectId, dueOn, opensOn, severity }) => [
        kind,
        subjectId,
        dueOn,
        opensOn,
        severity,
      ]),
    ).toEqual([
      ['open-finding', 'u', '2026-01-15', '2026-01-15', 'unsafe'],
      ['make-safe-check', 'u', '2026-01-16', '2026-01-16', 'unsafe'],
      ['open-finding', 'r', '2026-02-12', '2026-01-29', 'repair'],
    ])
    expect(found[0]!.reason.en).toBe(
      'Our inspection noted: Burnt lug. It should be made safe today; until then please do not use that part.',
    )
    expect(found[2]!.reason.en).toContain('a finding of the inspection')
    expect(found.every(({ subjectKind }) => subjectKind === 'finding')).toBe(true)
  })

  test('other records: estimate, visit, event, tips, the report’s own date', () => {
    const each = surge({}, { lastCheckedOn: d('2026-01-01') })
    const record = home([], [each], { tenure: 'owner', lastInspectedOn: d('2025-01-31') })
    const found = followUpsOf(record, [], DEFAULT_POLICY, TODAY, {
      estimates: [{ id: 'e', state: 'sent', sentOn: d('2026-01-10'), expiresOn: null }],
      visits: [
        { id: 'v', state: 'booked', on: d('2026-02-01'), bookedOn: d('2026-01-14') },
        { id: 'n', state: 'no-access', on: d('2026-01-13'), bookedOn: d('2026-01-02') },
      ],
      surgeEvents: [
        { kind: 'storm', on: d('2026-01-05') },
        { kind: 'utility', on: d('2026-01-08') },
        { kind: 'storm', on: d('2026-01-03') },
        { kind: 'panel-work', on: d('2026-02-05') },
      ],
      reportDueOn: d('2028-01-31'),
      tipsSince: d('2025-10-10'),
    })
    expect(short(found)).toEqual([
      ['self-test-tips', null, '2025-12-01', false],
      ['no-access-rebooking', 'n', '2026-01-14', false],
      ['visit-confirmation', 'v', '2026-01-14', false],
      ['surge-after-event', each.id, '2026-01-15', false],
      ['estimate-unanswered', 'e', '2026-01-17', false],
      ['visit-reminder', 'v', '2026-02-01', false],
      ['surge-check', each.id, '2027-01-01', false],
      ['re-inspection', null, '2028-01-31', false],
    ])
    expect(found.map(({ subjectKind }) => subjectKind)).toEqual([
      'home',
      'visit',
      'visit',
      'equipment',
      'estimate',
      'visit',
      'equipment',
      'home',
    ])
  })

  test('where dates are written month first the label follows', () => {
    const each = alarm({ labelText: '04/03/2016' })
    const found = followUpsOf(home([], [each]), [], DEFAULT_POLICY, TODAY, { isUs: true })
    expect(short(found)).toEqual([['alarm-undated', each.id, '2026-04-03', true]])
  })

  test('a battery that can be changed is due before the alarm', () => {
    const each = alarm(
      { power: 'battery', batteryChangedOn: d('2025-02-01') },
      { manufacturedOn: d('2020-03-01') },
    )
    const found = followUpsOf(home([], [each]), [], DEFAULT_POLICY, TODAY)
    expect(short(found)).toEqual([
      ['alarm-battery', each.id, '2026-02-01', false],
      ['alarm-end-of-life', each.id, '2030-03-01', false],
    ])
  })

  test('an event of today counts; a protector out of use, and other equipment, are left out', () => {
    const each = surge({}, { lastCheckedOn: d('2026-01-01') })
    const gone = surge({}, { retiredOn: d('2025-01-01') })
    const record = home([], [each, gone, device('panel', {})])
    const found = followUpsOf(record, [], DEFAULT_POLICY, TODAY, {
      surgeEvents: [
        { kind: 'storm', on: TODAY },
        { kind: 'storm', on: d('2026-01-02') },
      ],
    })
    expect(short(found)).toEqual([
      ['surge-after-event', each.id, '2026-01-22', false],
      ['surge-check', each.id, '2027-01-01', false],
    ])
    const checked = followUpsOf(record, [], DEFAULT_POLICY, TODAY, {
      surgeEvents: [{ kind: 'storm', on: d('2025-12-31') }],
    })
    expect(checked.map(({ kind }) => kind)).toEqual(['surge-check'])
  })

  test('same day and kind: by subject, however the home was recorded', () => {
    const pair = [2, 1].map(() => alarm({}, { manufacturedOn: d('2016-03-01') }))
    const ids = (equipment: typeof pair) =>
      followUpsOf(home([], equipment), [], DEFAULT_POLICY, TODAY).map(({ subjectId }) => subjectId)
    const sorted = pair.map(({ id }) => id).sort()
    expect(ids(pair)).toEqual(sorted)
    expect(ids([...pair].reverse())).toEqual(sorted)
  })

  test('kind of an alarm’s follow-up', () => {
    expect(alarmFollowUpKind({ manufacturedOn: null }, true)).toBe('alarm-undated')
    expect(alarmFollowUpKind({ manufacturedOn: null }, false)).toBe('alarm-end-of-life')
    expect(alarmFollowUpKind({ manufacturedOn: d('2020-01-01') }, true)).toBe('alarm-end-of-life')
  })

  test('a home of which nothing is known has nothing due, and asking never throws', () => {
    expect(followUpsOf(home([]), [], DEFAULT_POLICY, TODAY)).toEqual([])
    const anyDay = fc.option(
      fc.integer({ min: -9000, max: 900 }).map((days): Day => addDays(TODAY, days)),
      { nil: null },
    )
    const anyAlarm = fc
      .record({
        details: fc.record(
          {
            senses: fc.constantFrom('smoke', 'co', 'smoke-and-co', 'heat'),
            labelText: fc.string({ maxLength: 12 }),
          },
          { requiredKeys: [] },
        ),
        manufacturedOn: anyDay,
        installedOn: anyDay,
        lastCheckedOn: anyDay,
      })
      .map(({ details, ...dates }) => device('alarm', details, dates))
    fc.assert(
      fc.property(fc.array(anyAlarm, { maxLength: 5 }), (alarms) => {
        const found = followUpsOf(home([], alarms), [], DEFAULT_POLICY, TODAY)
        const named = found.filter(({ kind }) => kind !== 'alarm-battery').map(({ subjectId }) => subjectId)
        expect(named.sort()).toEqual(alarms.map(({ id }) => id).sort())
        const reversed = followUpsOf(home([], [...alarms].reverse()), [], DEFAULT_POLICY, TODAY)
        expect(reversed).toEqual(found)
      }),
    )
  })
})

describe('advice of the CPSC and ESFI', () => {
  const advice = (facts: Partial<Parameters<typeof inspectionAdvice>[0]>, today = d('2026-06-01')) =>
    inspectionAdvice({ lastInspectedOn: null, yearBuilt: null, ...facts }, today)

  test.each([
    ['1984-06-01', 'overdue', 'CPSC: 40 years and more'],
    ['1985-05-01', 'overdue', 'RI4: 41 years ago'],
    ['1986-06-01', 'overdue', 'exactly 40 years ago'],
    ['1986-06-02', 'advised', 'a day short of 40'],
    ['2001-06-01', 'advised', 'RI4: 25 years ago'],
    ['2005-03-01', 'advised', 'CPSC: 10 to 40 years'],
    ['2016-06-01', 'advised', 'exactly 10 years ago'],
    ['2016-06-02', 'none', 'a day short of 10'],
    ['2017-06-01', 'none', 'RI4: 9 years ago'],
    ['2020-03-01', 'none', 'CPSC: under 10 years'],
  ])('last inspected %s: %s (%s)', (last, expected) => {
    const found = advice({ lastInspectedOn: d(last), yearBuilt: 1950 })
    expect(found.advice).toBe(expected)
    expect(found.reference.code).toBe('CPSC')
  })

  test('RI5: a new owner, even if the last visit was two years ago', () => {
    const sold = { lastInspectedOn: d('2024-06-01'), soldOn: d('2026-05-01') }
    expect(advice(sold)).toMatchObject({ advice: 'advised', why: 'The home has a new owner since.' })
    expect(advice({ ...sold, soldOn: d('2024-06-01') }).advice).toBe('none')
    expect(advice({ soldOn: d('2024-06-01') }).advice).toBe('advised')
  })
  test('signs count at any time', () => {
    expect(advice({ lastInspectedOn: d('2025-06-01'), signs: ['flicker', 'buzzing'] })).toMatchObject({
      advice: 'advised',
      why: 'Lights flicker or dim; Outlets or switches buzz or crackle.',
      reference: { code: 'CPSC and ESFI' },
    })
  })
  test.each<[number | null, number | null, string, string]>([
    [2012, 2024, 'advised', 'built 2012, new kitchen 2024: 14 years old'],
    [2012, null, 'none', 'no work since'],
    [2012, 2012, 'none', 'the work is the building itself'],
    [2017, 2020, 'none', 'not yet ten years old'],
    [2016, 2020, 'advised', 'ten years old'],
    [1980, null, 'advised', 'over 40 years old'],
    [1986, null, 'none', '40 years old, not more'],
    [1985, null, 'advised', '41 years old'],
    [null, 2024, 'unknown', 'year unknown'],
  ])('never inspected, built %s, work %s: %s (%s; CPSC and ESFI)', (yearBuilt, majorWorkYear, expected) => {
    expect(advice({ yearBuilt, majorWorkYear }).advice).toBe(expected)
  })
  test('words', () => {
    expect(advice({ yearBuilt: 1980 }).why).toBe('The home is 46 years old and no inspection is known.')
    expect(advice({ yearBuilt: 2012, majorWorkYear: 2024 }).why).toBe(
      'The home is 14 years old, with major work since.',
    )
    expect(advice({ yearBuilt: 2012 }).why).toBe('The home is 14 years old.')
    expect(advice({}).why).toBe('Neither year built nor last inspection is known.')
    expect(advice({ lastInspectedOn: d('2001-06-01') }).why).toBe('Last inspected 25 years ago.')
    expect(advice({ lastInspectedOn: d('2020-06-01') }).why).toBe(
      'Inspected 6 years ago, no signs of trouble.',
    )
    expect(advice({ lastInspectedOn: d('1980-06-01') }).why).toBe('Last inspected 46 years ago.')
  })
})
