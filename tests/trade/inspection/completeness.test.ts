import { describe, expect, test } from 'vitest'
import type { Home } from '../../../trade/home.ts'
import {
  type InspectionRecord,
  isComplete,
  type OpenKind,
  whatIsOpen,
} from '../../../trade/inspection/completeness.ts'
import type { Answer, Finding } from '../../../trade/inspection/records.ts'
import { piece } from '../../build/pieces.ts'
import { buildFinding, buildHome, buildRecord, withAnswers } from './build.ts'

const kindsOf = (record: InspectionRecord): OpenKind[] => whatIsOpen(record).map(({ kind }) => kind)
const NOTHING_READ = { readings: {} }

test('an inspection with every line answered is complete', () => {
  expect(whatIsOpen(buildRecord())).toEqual([])
  expect(isComplete(buildRecord())).toBe(true)
})

test('nothing is skipped in silence: an empty sheet is open at every line', () => {
  const record = buildRecord({ answers: [] })
  expect(whatIsOpen(record)).toHaveLength(record.lines.length)
  expect(new Set(kindsOf(record))).toEqual(new Set(['unanswered']))
  expect(isComplete(record)).toBe(false)
})

test('what is open says where and what to do', () => {
  const home = buildHome({ equipment: [piece('panel', 'Hall panel', {})] })
  const record = withAnswers(buildRecord({ home }), { 'panel-cover-on.heat': null })
  expect(whatIsOpen(record)).toEqual([
    {
      kind: 'unanswered',
      itemId: 'panel-cover-on.heat',
      subjectKind: 'equipment',
      subjectId: 'Hall panel',
      findingId: null,
      text: 'Signs of heat, Hall panel: Not answered yet.',
    },
  ])
})

test('an answer about a piece that is no longer there answers nothing', () => {
  const gone = {
    itemId: 'alarms.device',
    subjectKind: 'equipment',
    subjectId: 'gone',
    result: 'ok',
    readings: {},
  }
  const record = withAnswers(buildRecord(), { 'alarms.device': null })
  expect(kindsOf({ ...record, answers: [...record.answers, gone as Answer] })).toEqual(['unanswered'])
})

test.each<[string, Partial<Answer>, OpenKind[]]>([
  ['without a reason', { notReachedReason: null }, ['no-reason']],
  ['with a reason', { notReachedReason: 'locked' }, []],
  ['for another reason without saying which', { notReachedReason: 'other' }, ['no-note']],
  ['for another reason, blank', { notReachedReason: 'other', note: '  ' }, ['no-note']],
  ['for another reason that is told', { notReachedReason: 'other', note: 'Dog in the yard' }, []],
])('not reached %s', (_case, answer, open) => {
  const record = withAnswers(buildRecord(), { 'panel-cover-on.heat': { result: 'not-reached', ...answer } })
  expect(kindsOf(record)).toEqual(open)
})

describe('covers', () => {
  const home = buildHome({
    equipment: [
      piece('panel', 'main', {}),
      piece('panel', 'sub', {}),
      piece('circuit', 'c1', {}, { parentId: 'main' }),
      piece('circuit', 'c2', {}, { parentId: 'sub' }),
    ],
  })
  const opening =
    (subjectId: string, change: Partial<Answer>) =>
    (record: InspectionRecord): InspectionRecord => ({
      ...record,
      answers: record.answers.map((each) =>
        each.itemId === 'panel-cover-off.opened' && each.subjectId === subjectId
          ? { ...each, ...change }
          : each,
      ),
    })
  const drop = (record: InspectionRecord, itemId: string, subjectId: string): InspectionRecord => ({
    ...record,
    answers: record.answers.filter((each) => each.itemId !== itemId || each.subjectId !== subjectId),
  })
  const NOT_OPENED: Partial<Answer> = { result: 'not-reached', notReachedReason: 'energised', readings: {} }

  // The caution of NFPA 70E: absence of voltage is tested, and the tester itself before and after.
  test.each<[string, Partial<Answer>]>([
    ['missing', NOTHING_READ],
    ['refused', { readings: { voltageTested: false } }],
    ['null', { readings: { voltageTested: null } }],
    ['with a finding', { result: 'finding', readings: {} }],
  ])('cover off with the voltage test %s blocks completion', (_case, change) => {
    const record = opening('main', change)(buildRecord({ home }))
    expect(kindsOf(record)).toContain('voltage-test')
    expect(isComplete(record)).toBe(false)
  })

  test('a cover that stayed on answers what lies behind it, in that panel only', () => {
    const record = opening('main', NOT_OPENED)(buildRecord({ home }))
    const behindMain = record.lines.filter(
      ({ item, subjectId }) => item.behind && (subjectId === 'main' || subjectId === 'c1'),
    )
    expect(behindMain.length).toBeGreaterThan(4)
    const without = behindMain.reduce((rest, { item, subjectId }) => drop(rest, item.id, subjectId!), record)
    expect(kindsOf(without)).toEqual([])
    expect(kindsOf(drop(record, 'panel-cover-off.circuit', 'c1')).includes('unanswered')).toBe(false)
    expect(kindsOf(drop(record, 'panel-cover-off.circuit', 'c2'))).toContain('unanswered')
  })

  test('what was seen behind a cover that stayed on is contradicted', () => {
    const open = whatIsOpen(opening('main', NOT_OPENED)(buildRecord({ home })))
    expect(open.every(({ kind }) => kind === 'cover-stayed-on')).toBe(true)
    const circuits = open.filter(({ itemId }) => itemId === 'panel-cover-off.circuit')
    expect(circuits.map(({ subjectId }) => subjectId)).toEqual(['c1'])
    expect(open.some(({ itemId }) => itemId === 'panel-cover-off.openings')).toBe(false)
  })

  test('a circuit of nobody knows which panel needs any of the covers', () => {
    const loose: Home = { ...home, equipment: [...home.equipment, piece('circuit', 'c3', {})] }
    const record = opening('main', NOT_OPENED)(buildRecord({ home: loose }))
    expect(whatIsOpen(record).some(({ subjectId }) => subjectId === 'c3')).toBe(false)
    const both = opening('sub', NOT_OPENED)(record)
    expect(whatIsOpen(both).some(({ subjectId }) => subjectId === 'c3')).toBe(true)
  })

  test('no disconnect at all: what lies inside it needs no answer', () => {
    const record = withAnswers(buildRecord(), {
      'equipment-disconnect.opened': { result: 'absent', readings: {} },
      'equipment-disconnect.inside': null,
      'equipment-disconnect.device': null,
      'equipment-disconnect.conductor': null,
    })
    expect(kindsOf(record)).toEqual([])
  })

  test('the meter enclosure needs the permission, and its seal keeps lugs and inhibitor out of reach', () => {
    const unauthorised = withAnswers(buildRecord(), { 'service.enclosure-opened': NOTHING_READ })
    expect(whatIsOpen(unauthorised)).toMatchObject([
      { kind: 'reading-missing', text: expect.stringContaining('(Authorised by)') },
    ])
    const sealed = withAnswers(buildRecord(), {
      'service.enclosure-opened': { result: 'not-reached', notReachedReason: 'utility-seal', readings: {} },
      'service.lugs': null,
      'service.inhibitor': null,
    })
    expect(kindsOf(sealed)).toEqual([])
  })
})

describe('findings', () => {
  const withFinding = (finding: Partial<Finding>) => {
    const record = withAnswers(buildRecord(), { 'panel-cover-off.load': { result: 'finding' } })
    return { ...record, findings: [buildFinding(finding)] }
  }
  const refusal = { name: 'A. Owner', statement: 'I want it left as it is.' }

  test.each<[string, Partial<Finding>, OpenKind[]]>([
    ['whole', {}, []],
    ['without severity', { severity: null }, ['no-severity']],
    ['without a note', { text: ' ' }, ['no-text']],
    ['raised', { proposedSeverity: 'watch', severity: 'repair' }, []],
    ['as proposed', { proposedSeverity: 'repair', severity: 'repair' }, []],
    ['lowered in silence', { proposedSeverity: 'repair', severity: 'improve' }, ['lowered-without-reason']],
    [
      'lowered with a blank reason',
      { proposedSeverity: 'repair', severity: 'watch', loweredReason: ' ' },
      ['lowered-without-reason'],
    ],
    [
      'lowered with a reason',
      { proposedSeverity: 'repair', severity: 'watch', loweredReason: 'Unused circuit' },
      [],
    ],
    ['unsafe', { severity: 'unsafe' }, ['unsafe-unsettled']],
    ['unsafe, blankly made safe', { severity: 'unsafe', makeSafe: '  ' }, ['unsafe-unsettled']],
    ['unsafe, made safe', { severity: 'unsafe', makeSafe: 'Breaker off and locked' }, []],
    ['unsafe, refused with a signed statement', { severity: 'unsafe', refusal }, []],
    [
      'unsafe, refused by nobody',
      { severity: 'unsafe', refusal: { ...refusal, name: '' } },
      ['unsafe-unsettled'],
    ],
    [
      'unsafe, refused without a word',
      { severity: 'unsafe', refusal: { ...refusal, statement: '' } },
      ['unsafe-unsettled'],
    ],
    ['unsafe, put right on the spot', { severity: 'unsafe', state: 'corrected' }, []],
  ])('%s', (_case, finding, open) => {
    expect(kindsOf(withFinding(finding))).toEqual(open)
  })

  test('a line marked as a finding needs one written down at the same place', () => {
    const record = withAnswers(buildRecord(), { 'panel-cover-off.load': { result: 'finding' } })
    expect(kindsOf(record)).toEqual(['no-finding'])
    expect(kindsOf({ ...record, findings: [buildFinding({ itemId: 'alarms.ages' })] })).toEqual([
      'no-finding',
    ])
    expect(
      kindsOf({
        ...record,
        carried: [buildFinding()],
        reviews: [{ findingId: 'finding-1', outcome: 'still-there' }],
      }),
    ).toEqual([])
  })

  test('it names the finding and its place', () => {
    const open = whatIsOpen({
      ...buildRecord(),
      findings: [
        buildFinding({ severity: 'unsafe', equipmentId: 'main' }),
        buildFinding({ id: 'f2', severity: null, text: '', spaceId: 'hall' }),
      ],
    })
    expect(open).toMatchObject([
      {
        findingId: 'finding-1',
        subjectKind: 'equipment',
        subjectId: 'main',
        text: expect.stringMatching(/^“Loose lug”: Unsafe/),
      },
      { findingId: 'f2', subjectKind: 'space', subjectId: 'hall', text: 'The finding has no severity.' },
      { findingId: 'f2', kind: 'no-text' },
    ])
  })
})

describe('findings of earlier inspections', () => {
  const carried = buildFinding({ severity: 'unsafe', state: 'declined' })
  const reviewed = (
    finding: Finding,
    outcome?: 'still-there' | 'corrected-by-us' | 'corrected-by-others' | 'no-longer-applies',
  ) =>
    kindsOf({
      ...buildRecord(),
      carried: [finding],
      reviews: outcome ? [{ findingId: finding.id, outcome }] : [],
    })

  test('must be answered', () => {
    expect(reviewed(carried)).toEqual(['carried-unanswered'])
    expect(reviewed({ ...carried, severity: 'watch' }, 'still-there')).toEqual([])
    expect(reviewed(carried, 'corrected-by-us')).toEqual([])
    expect(reviewed(carried, 'corrected-by-others')).toEqual([])
    expect(reviewed(carried, 'no-longer-applies')).toEqual([])
  })

  test('unsafe and still there needs a make-safe action or a refusal again', () => {
    expect(reviewed(carried, 'still-there')).toEqual(['unsafe-unsettled'])
    expect(reviewed({ ...carried, makeSafe: 'Switched off' }, 'still-there')).toEqual([])
  })

  test('closed ones need no answer', () => {
    expect(reviewed({ ...carried, state: 'checked' })).toEqual([])
    expect(reviewed({ ...carried, state: 'no-longer-applies' })).toEqual([])
  })
})
