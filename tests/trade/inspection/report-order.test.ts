import { describe, expect, test } from 'vitest'
import { CHECKLIST } from '../../../trade/checklist/checklist.ts'
import { day } from '../../../trade/dates.ts'
import type { InspectionRecord } from '../../../trade/inspection/completeness.ts'
import { leftOut } from '../../../trade/inspection/lines.ts'
import { progressByArea } from '../../../trade/inspection/progress.ts'
import type { Finding } from '../../../trade/inspection/records.ts'
import { reportContents } from '../../../trade/inspection/report-order.ts'
import { VERDICT_CAUTION } from '../../../trade/verdict.ts'
import { piece } from '../../build/pieces.ts'
import { answerTo, buildFinding, buildHome, buildRecord, UNKNOWN_PROPERTY, withAnswers } from './build.ts'

const report = (record: InspectionRecord, dates?: Parameters<typeof reportContents>[1]) =>
  reportContents({ ...record, leftOut: leftOut(record.home, CHECKLIST) }, dates)
const withFindings = (...findings: Partial<Finding>[]) => ({
  ...buildRecord(),
  findings: findings.map((finding, i) => buildFinding({ id: `f${i}`, ...finding })),
})

test('the parts come in the order in which a homeowner reads them', () => {
  expect(Object.keys(report(buildRecord()))).toEqual([
    'answer',
    'findings',
    'devices',
    'good',
    'settled',
    'notInspected',
    'leftOut',
    'cautions',
  ])
})

describe('the answer', () => {
  test.each<[string, Partial<Finding>[], string]>([
    ['nothing found', [], 'sound'],
    ['only to improve and to watch', [{ severity: 'improve' }, { severity: 'watch' }], 'sound'],
    ['to investigate', [{ severity: 'investigate' }, { severity: 'watch' }], 'more-work-needed'],
    ['to repair', [{ severity: 'repair' }, { severity: 'investigate' }], 'repairs-needed'],
    ['unsafe, made safe', [{ severity: 'unsafe', makeSafe: 'Locked off' }, {}], 'made-safe'],
    ['unsafe', [{ severity: 'unsafe' }], 'not-safe'],
    ['one of two made safe', [{ severity: 'unsafe', makeSafe: 'Off' }, { severity: 'unsafe' }], 'not-safe'],
    // A signature does not take the danger away.
    ['unsafe and refused', [{ severity: 'unsafe', refusal: { name: 'A', statement: 'No' } }], 'not-safe'],
    ['unsafe, put right on the spot', [{ severity: 'unsafe', state: 'corrected' }], 'sound'],
    ['unsafe, gone', [{ severity: 'unsafe', state: 'no-longer-applies' }], 'sound'],
  ])('%s', (_case, findings, safety) => {
    expect(report(withFindings(...findings)).answer.safety).toBe(safety)
  })

  test('says first what presses most: everything unsafe, or else at most three to repair or investigate', () => {
    const ids = (...findings: Partial<Finding>[]) =>
      report(withFindings(...findings)).answer.first.map(({ finding }) => finding.id)
    expect(
      ids({ severity: 'repair' }, { severity: 'unsafe', makeSafe: 'Off' }, { severity: 'unsafe' }),
    ).toEqual(['f2', 'f1'])
    expect(ids({ severity: 'watch' }, { severity: 'investigate' }, {}, {}, {})).toEqual(['f2', 'f3', 'f4'])
    expect(ids({ severity: 'improve' }, { severity: 'watch' })).toEqual([])
  })

  test('does not speak for what could not be reached', () => {
    expect(report(buildRecord()).answer.limits).toBeNull()
    const locked = { result: 'not-reached', notReachedReason: 'locked' } as const
    const one = withAnswers(buildRecord(), { 'alarms.ages': locked })
    expect(report(one).answer.limits).toMatch(/^One thing could not be inspected/)
    const two = withAnswers(one, { 'panel-cover-on.heat': locked })
    expect(report(two).answer.limits).toMatch(/^2 things could not be inspected/)
    expect(
      report(two).notInspected.map(({ line, answer }) => [line.item.id, answer.notReachedReason]),
    ).toEqual([
      ['panel-cover-on.heat', 'locked'],
      ['alarms.ages', 'locked'],
    ])
  })
})

test('findings are grouped gravest first, with plain words and the name of the place', () => {
  const home = buildHome({ equipment: [piece('alarm', 'Hall alarm', {})] })
  const { findings } = report({
    ...buildRecord({ home }),
    findings: [
      buildFinding({ id: 'later', severity: 'watch', itemId: 'alarms.device', equipmentId: 'Hall alarm' }),
      buildFinding({ id: 'first' }),
    ],
  })
  expect(findings.map(({ severity, title }) => [severity, title])).toEqual([
    ['repair', 'Repair'],
    ['watch', 'Watch'],
  ])
  expect(findings[1]!.findings).toMatchObject([
    { name: 'Hall alarm', plain: expect.stringMatching(/^Alarms age/), carried: false },
  ])
})

test('a carried finding that is still there is a finding; one that was put right is told as settled', () => {
  const carried = [
    buildFinding({ id: 'there' }),
    buildFinding({ id: 'right' }),
    buildFinding({ id: 'unasked' }),
  ]
  const contents = report({
    ...buildRecord(),
    carried,
    reviews: [
      { findingId: 'there', outcome: 'still-there' },
      { findingId: 'right', outcome: 'corrected-by-others' },
    ],
  })
  expect(contents.findings[0]!.findings.map(({ finding, carried }) => [finding.id, carried])).toEqual([
    ['there', true],
    ['unasked', true],
  ])
  expect(contents.settled).toMatchObject([
    { finding: { id: 'right' }, review: { outcome: 'corrected-by-others' } },
  ])
})

test('devices that protect people are listed with their dates, what is due first on top', () => {
  const made = { manufacturedOn: day('2016-02-29') }
  const home = buildHome({
    spaces: [{ id: 'hall', kind: 'hall', name: 'Hall', level: 1 }],
    equipment: [
      piece('circuit', 'plain', { device: 'breaker' }),
      piece('circuit', 'arc', { device: 'afci' }),
      piece('circuit', 'both', { device: 'dual' }),
      piece('receptacle', 'bath', { groundFault: 'itself' }),
      piece('receptacle', 'downstream', { groundFault: 'upstream' }),
      piece('surge-protector', 'surge', {}),
      piece('alarm', 'undated', {}),
      piece('alarm', 'later', {}),
      piece('alarm', 'sooner', {}, { spaceId: 'hall', ...made }),
      { ...piece('alarm', 'gone', {}), retiredOn: day('2020-01-01') },
    ],
  })
  const dates = new Map([
    ['later', { replaceBy: day('2030-01-01'), nextCheckOn: null }],
    ['sooner', { replaceBy: day('2026-02-28'), nextCheckOn: null }],
    ['surge', { replaceBy: null, nextCheckOn: day('2027-01-01') }],
  ])
  const { devices } = report(buildRecord({ home }), dates)
  expect(devices.map(({ name, kind }) => [name, kind])).toEqual([
    ['sooner', 'alarm'],
    ['later', 'alarm'],
    ['undated', 'alarm'],
    ['surge', 'surge-protector'],
    ['both', 'ground-fault'],
    ['bath', 'ground-fault'],
    ['arc', 'arc-fault'],
  ])
  expect(devices[0]).toMatchObject({ place: 'Hall', manufacturedOn: '2016-02-29', replaceBy: '2026-02-28' })
})

test('devices due on one day, or without a date, keep the order in which they were recorded', () => {
  const due = { replaceBy: day('2030-01-01'), nextCheckOn: null }
  const names = ['second', 'first', 'undated', 'undated too']
  const equipment = names.map((name) => piece('alarm', name, {}))
  const dates = new Map([
    ['second', due],
    ['first', due],
  ])
  expect(
    report(buildRecord({ home: buildHome({ equipment }) }), dates).devices.map(({ name }) => name),
  ).toEqual(names)
})

test('a finding at an item that the home no longer has is told without name and words', () => {
  const { findings } = report(withFindings({ itemId: 'garden.gate', spaceId: 'garden' }))
  expect(findings[0]!.findings).toMatchObject([{ name: '', plain: '' }])
})

test('a line that nobody answered is neither good nor told as not inspected', () => {
  const { good, notInspected } = report(buildRecord({ answers: [] }))
  expect([good, notInspected]).toEqual([[], []])
})

test('a make-safe note that says nothing makes nothing safe', () => {
  expect(report(withFindings({ severity: 'unsafe', makeSafe: '  ' })).answer.safety).toBe('not-safe')
})

test('a repair comes before what is to be investigated, and both are what to do first', () => {
  const { first } = report(withFindings({ severity: 'investigate' }, { severity: 'repair' })).answer
  expect(first.map(({ finding }) => finding.severity)).toEqual(['repair', 'investigate'])
})

test('a GFCI breaker protects against ground faults', () => {
  const home = buildHome({ equipment: [piece('circuit', 'bath', { device: 'gfci' })] })
  expect(report(buildRecord({ home })).devices).toMatchObject([{ name: 'bath', kind: 'ground-fault' }])
})

test('what was found good is told by area, in the order of the checklist', () => {
  const record = withAnswers(buildRecord(), {
    'alarms.ages': { result: 'absent' },
    'alarms.device': { result: 'finding' },
  })
  const { good } = report(record)
  expect(good.map(({ areaId }) => areaId)).toEqual(CHECKLIST.areas.map(({ id }) => id))
  const alarms = good.find(({ areaId }) => areaId === 'alarms')!
  expect(alarms.lines.map(({ item }) => item.id)).toEqual([
    'alarms.smoke-coverage',
    'alarms.co-coverage',
    'alarms.interconnection',
  ])
})

test('every automatic exclusion is shown with its reason', () => {
  const home = buildHome({ property: { ...UNKNOWN_PROPERTY, hasGasPiping: false } })
  expect(report(buildRecord({ home })).leftOut.map(({ item, reason }) => [item.id, reason])).toEqual([
    ['gas-bond.pipe-kind', 'The home has no gas piping.'],
    ['gas-bond.bond', 'The home has no gas piping.'],
    ['gas-bond.clamp', 'The home has no gas piping.'],
  ])
})

test('the cautions end with who decides, and begin with what must stay off', () => {
  const calm = report(buildRecord()).cautions
  expect(calm.at(-1)).toBe(VERDICT_CAUTION)
  const unsafe = report(withFindings({ severity: 'unsafe', makeSafe: 'Off' })).cautions
  expect(unsafe[0]).toMatch(/stays off until it is put right/)
  expect(unsafe.slice(1)).toEqual(calm)
})

test('progress counts each area by itself, covers that stayed on included', () => {
  const record = buildRecord()
  const progress = (answers = record.answers) => progressByArea(record.lines, answers, record.home)
  expect(progress().every(({ lines, answered }) => lines === answered)).toBe(true)
  expect(
    progress([]).every(({ answered, findings, notReached }) => answered + findings + notReached === 0),
  ).toBe(true)
  const opening = record.lines.find(({ item }) => item.id === 'equipment-disconnect.opened')!
  const heat = record.lines.find(({ item }) => item.id === 'panel-cover-on.heat')!
  const some = progress([
    answerTo(opening, { result: 'not-reached', notReachedReason: 'locked' }),
    answerTo(heat, { result: 'finding' }),
  ])
  expect(some.find(({ areaId }) => areaId === 'equipment-disconnect')).toEqual({
    areaId: 'equipment-disconnect',
    title: 'Outdoor equipment disconnect',
    lines: 9,
    answered: 4,
    findings: 0,
    notReached: 4,
  })
  expect(some.find(({ areaId }) => areaId === 'panel-cover-on')).toMatchObject({ answered: 1, findings: 1 })
})
