import { describe, expect, test } from 'vitest'
import { PROTECTION } from '../../../trade/checklist/readings.ts'
import {
  judgeProtectionReading,
  protectionReading,
  type ProtectionReadingInputs,
} from '../../../trade/ground-fault/reading.ts'
import type { Verdict } from '../../../trade/verdict.ts'
import { articles, figure, homeOf, spoken, under } from '../overcurrent/verdicts.ts'

const missing = (verdict: Verdict) => (verdict.outcome === 'undetermined' ? verdict.missing : null)
const bath = { kind: 'bathroom' } as const
const garage = { kind: 'garage' } as const
const judge = (inputs: Partial<ProtectionReadingInputs>, context = under('2023', '1999')) =>
  spoken(judgeProtectionReading({ space: bath, ...inputs }, context))
const device = { protectedBy: 'receptacle' } as const
const good = { ...device, ownButtonTrips: true, resets: true } as const

describe('ground-fault device as tried', () => {
  test('trips by its own button and resets', () => {
    expect(judge(good)).toMatchObject({
      rule: 'ground-fault.reading',
      outcome: 'sound',
      technician: 'Device trips by its own button and resets.',
      requiredWhenBuilt: 'yes',
      requiredToday: 'yes',
    })
    expect(judge({ ...device, testerTrips: true, resets: true }).technician).toBe(
      'Device trips by the tester and resets.',
    )
  })
  test.each([
    ['near water', bath, 'unsafe'],
    ['elsewhere', garage, 'repair'],
    ['place unknown', null, 'repair'],
  ] as const)('GF1: test pressed and still live, %s: %s', (_, space, severity) => {
    expect(judge({ ...device, space, ownButtonTrips: false })).toMatchObject({
      outcome: 'finding',
      severity,
      technician: 'Device does not trip by its own button: replace it.',
    })
  })
  test('GF2: trips but will not reset with the supply live', () => {
    expect(judge({ ...good, resets: false })).toMatchObject({
      outcome: 'finding',
      severity: 'repair',
      technician: 'Device trips but will not reset: replace it.',
    })
  })
  test.each([
    // UL 943: holds below 4 mA, trips from 6 mA within (20/I)^1.43 s.
    [{ tripMilliamps: 20, tripMs: 1000 }, 'sound', null],
    [{ tripMilliamps: 20, tripMs: 1001 }, 'finding', 'Device takes 1001 ms at 20 mA, 1000 ms at most.'],
    [{ tripMilliamps: 30, tripMs: 700 }, 'finding', 'Device takes 700 ms at 30 mA, 561 ms at most.'],
    [{ tripMilliamps: 6, tripMs: 5590 }, 'sound', null],
    [{ tripMilliamps: 264, tripMs: 25 }, 'sound', null],
    [{ tripMilliamps: 3.9 }, 'finding', 'Device trips at 3.9 mA; it must hold below 4 mA.'],
    [{ tripMilliamps: 8, testerTrips: false }, 'finding', 'Device holds at 8 mA; it must trip from 6 mA.'],
    [{ tripMilliamps: 5 }, 'sound', null],
    [{ tripMilliamps: 3.9, testerTrips: false }, 'sound', null],
  ] as const)('%o with a working button: %s', (inputs, outcome, technician) => {
    const verdict = judge({ ...good, ...inputs })
    expect(verdict.outcome).toBe(outcome)
    if (technician) expect(verdict.technician).toBe(technician)
  })
  test('too slow or holding is a danger near water; tripping early never is', () => {
    const slow = { ...good, tripMilliamps: 20, tripMs: 3000 }
    expect(judge(slow)).toMatchObject({ severity: 'unsafe' })
    expect(judge({ ...slow, space: garage })).toMatchObject({ severity: 'repair' })
    expect(judge({ ...good, tripMilliamps: 2 })).toMatchObject({ severity: 'repair' })
    expect(judge({ ...good, tripMilliamps: 9, testerTrips: false })).toMatchObject({ severity: 'unsafe' })
    expect(judge(slow).homeowner).toMatch('too slowly')
    expect(judge({ ...good, tripMilliamps: 2 }).homeowner).toMatch('too easily')
    expect(judge({ ...good, tripMilliamps: 9, testerTrips: false }).homeowner).toMatch('does not switch off')
  })
  test('figures carry the reading and the limit', () => {
    const verdict = judge({ ...good, tripMilliamps: 20, tripMs: 40 })
    expect(figure(verdict, 'Trip current')).toBe(20)
    expect(figure(verdict, 'Trip time')).toBe(40)
    expect(figure(verdict, 'Longest trip time')).toBe(1000)
    expect(verdict.technician).toBe('Device trips by its own button and resets; 40 ms at 20 mA.')
    expect(figure(judge({ ...good, tripMilliamps: 5 }), 'Longest trip time')).toBeUndefined()
    expect(judge(good).figures).toEqual([])
    expect(articles(verdict)).toEqual(['210-8(a)', '210.8(A)', undefined])
    expect(verdict.references.at(-1)).toEqual({
      code: 'UL 943',
      row: 'class A: holds below 4 mA, trips from 6 mA within (20/I)^1.43 s',
    })
  })
  test('a meter alone can prove the device', () => {
    expect(judge({ ...device, resets: true, tripMilliamps: 20, tripMs: 40 })).toMatchObject({
      outcome: 'sound',
    })
    expect(missing(judge({ ...device, resets: true, tripMilliamps: 20 }))).toEqual([
      PROTECTION.ownButtonTrips.label,
      PROTECTION.tripMs.label,
    ])
    // 5 mA lies in the band that proves neither.
    expect(missing(judge({ ...device, resets: true, tripMilliamps: 5, tripMs: 40 }))).toEqual([
      PROTECTION.ownButtonTrips.label,
      'A trip test at 6 mA or more',
    ])
    expect(missing(judge({ ...device, resets: true, tripMilliamps: 3, testerTrips: false }))).toEqual([
      PROTECTION.ownButtonTrips.label,
      'A trip test at 6 mA or more',
    ])
  })
})

describe('what a plug-in tester cannot do', () => {
  test('without an equipment ground it cannot trip the device: its own button decides', () => {
    const silent = { ...device, testerTrips: false, pattern: 'open-ground', resets: true } as const
    expect(judge({ ...silent, ownButtonTrips: true })).toMatchObject({
      outcome: 'sound',
      technician:
        'Device trips by its own button and resets; a plug-in tester cannot trip it without an equipment ground.',
    })
    expect(missing(judge(silent))).toEqual([PROTECTION.ownButtonTrips.label])
  })
  test('on a grounded outlet the tester should trip it', () => {
    const silent = { ...device, testerTrips: false, pattern: 'correct', resets: true } as const
    expect(judge(silent)).toMatchObject({
      severity: 'unsafe',
      technician: 'Tester does not trip the device on a grounded outlet.',
    })
    expect(judge({ ...silent, space: garage })).toMatchObject({ severity: 'repair' })
    expect(judge({ ...silent, ownButtonTrips: true })).toMatchObject({
      severity: 'investigate',
      technician:
        'Own button trips, the tester does not: outlet not behind the device, or its ground is poor.',
    })
  })
  test('whether there is a ground must be known', () => {
    expect(missing(judge({ ...device, testerTrips: false }))).toEqual([PROTECTION.pattern.label])
    expect(missing(judge({ ...good, testerTrips: false }))).toEqual([PROTECTION.pattern.label])
  })
})

describe('unprotected and unknown', () => {
  test.each([
    ['1999', 'repair', 'Bathroom: no ground-fault protection; it was required when this was built.'],
    [
      '1971',
      'improve',
      'Bathroom: no ground-fault protection; would be required in new work under the 2023 edition, not when this was built.',
    ],
  ] as const)('bathroom without, built under %s: %s', (built, severity, technician) => {
    expect(judge({ protectedBy: 'none' }, under('2023', built))).toMatchObject({ severity, technician })
  })
  test('no edition, no room, no requirement', () => {
    expect(missing(judge({ protectedBy: 'none' }, under(null)))).toEqual(['Code edition in force'])
    expect(missing(judge({ protectedBy: 'none', space: null }))).toEqual(['Room or place'])
    expect(judge({ protectedBy: 'none', space: { kind: 'bedroom' } })).toMatchObject({
      outcome: 'not-applicable',
      why: 'no edition asks for protection in such a room',
    })
    expect(judge({ ...good, space: null })).toMatchObject({ outcome: 'sound', requiredToday: 'unknown' })
  })
  test('nothing written down is asked for', () => {
    expect(missing(judge({}))).toEqual([PROTECTION.protectedBy.label])
    expect(missing(judge(device))).toEqual([PROTECTION.ownButtonTrips.label])
    expect(missing(judge({ ...device, ownButtonTrips: true }))).toEqual([PROTECTION.resets.label])
    expect(judge({ ownButtonTrips: false })).toMatchObject({ severity: 'unsafe' })
  })
  test('inputs take the readings and the room', () => {
    const readings = {
      protectedBy: 'breaker',
      deviceAt: 'panel',
      ownButtonTrips: true,
      testerTrips: true,
      resets: true,
      pattern: 'correct',
      tripMilliamps: 6,
      tripMs: 30,
    } as const
    const space = { id: 's', kind: 'bathroom', name: 'Bath', level: 0, hasSink: true } as const
    const { deviceAt: _, ...rest } = readings
    expect(protectionReading.inputs(readings, { space }, homeOf())).toEqual({
      ...rest,
      space: { kind: 'bathroom', hasSink: true, hasTubOrShower: undefined },
    })
    expect(protectionReading.inputs({}, { space: null }, homeOf()).space).toBeNull()
    expect(protectionReading.judge({ space: null }, under(null)).rule).toBe(protectionReading.id)
  })
})
