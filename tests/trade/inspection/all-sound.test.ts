import { describe, expect, test } from 'vitest'
import { CHECKLIST, findItem } from '../../../trade/checklist/checklist.ts'
import { day } from '../../../trade/dates.ts'
import type { Equipment } from '../../../trade/equipment.ts'
import { sweepOf } from '../../../trade/inspection/all-sound.ts'
import { whatIsOpen } from '../../../trade/inspection/completeness.ts'
import { linesOf } from '../../../trade/inspection/lines.ts'
import { repeatableDetails, repeatableReadings } from '../../../trade/inspection/repeat.ts'
import type { Answer } from '../../../trade/inspection/records.ts'
import { answerTo, buildHome } from './build.ts'

// What may be swept is common practice, no source: a look is enough, or it is not.

const quiet = { isSpokenAgainst: () => false, isUnjudged: () => false, hasEarlierFinding: () => false }
const piece = (more: Partial<Equipment>) =>
  ({
    id: 'one',
    kind: 'alarm',
    label: 'Hall',
    spaceId: null,
    parentId: null,
    details: {},
    manufacturedOn: null,
    installedOn: null,
    retiredOn: null,
    ...more,
  }) as Equipment
const panel = piece({ id: 'panel', kind: 'panel', details: { role: 'service', mainAmps: 100 } as never })
const circuit = piece({
  id: 'circuit',
  kind: 'circuit',
  parentId: 'panel',
  details: { position: 1, ratingAmps: 15 } as never,
})

function sweep(equipment: Equipment[], answers: Answer[] = [], beside = quiet) {
  const home = buildHome({
    equipment,
    spaces: [{ id: 'kitchen', kind: 'kitchen', name: 'Kitchen', level: 0 } as never],
  })
  const lines = linesOf(home, CHECKLIST)
  const { sound, staying } = sweepOf(lines, lines, answers, home, beside)
  return {
    home,
    lines,
    sound: new Set(sound.map(({ key }) => key)),
    why: Object.fromEntries(staying.map(({ line, why }) => [line.key, why])),
  }
}

describe('the others here are sound', () => {
  test('every line is either swept or stays with a reason', () => {
    const { lines, sound, why } = sweep([panel, circuit, piece({})])
    for (const { key } of lines) expect(sound.has(key) !== key in why, key).toBe(true)
  })

  test('what is swept leaves nothing open', () => {
    const { home, lines, sound } = sweep([panel, circuit, piece({ manufacturedOn: day('2024-05-01') })])
    const swept = lines.filter(({ key }) => sound.has(key))
    const answers = swept.map((line) => answerTo(line, { readings: {} }))
    expect(whatIsOpen({ home, lines: swept, answers, findings: [], carried: [], reviews: [] })).toEqual([])
    expect(swept.length).toBeGreaterThan(10)
  })

  test.each([
    ['a meter is needed for receptacles', 'receptacles.room@kitchen', 'reading'],
    ['light may be judged by eye', 'lighting.room@kitchen', undefined],
    ['nothing is on record', 'surge.device@home', 'none-recorded'],
    ['an alarm without a date', 'alarms.device@one', 'date'],
    ['a circuit behind a cover that nobody took off', 'panel-cover-off.circuit@circuit', 'cover'],
    ['taking off a cover has to be confirmed', 'panel-cover-off.opened@panel', 'reading'],
  ])('%s', (_, key, reason) => {
    const { why, lines } = sweep([panel, circuit, piece({})])
    expect(
      lines.some((line) => line.key === key),
      key,
    ).toBe(true)
    expect(why[key]).toBe(reason)
  })

  test('behind a cover that came off, a circuit that is on record may be swept; a blank one may not', () => {
    const opened: Answer = {
      itemId: 'panel-cover-off.opened',
      subjectKind: 'equipment',
      subjectId: 'panel',
      result: 'ok',
      readings: { voltageTested: true },
    }
    expect(sweep([panel, circuit], [opened]).sound.has('panel-cover-off.circuit@circuit')).toBe(true)
    const blank = piece({ ...circuit, details: {} as never })
    expect(sweep([panel, blank], [opened]).why['panel-cover-off.circuit@circuit']).toBe('unknown')
  })

  test('a rule that speaks against it, or an earlier finding, keeps a line', () => {
    const dated = piece({ manufacturedOn: day('2024-05-01') })
    expect(sweep([dated]).sound.has('alarms.device@one')).toBe(true)
    expect(sweep([dated], [], { ...quiet, isSpokenAgainst: () => true }).why['alarms.device@one']).toBe(
      'rule',
    )
    expect(sweep([dated], [], { ...quiet, hasEarlierFinding: () => true }).why['alarms.device@one']).toBe(
      'earlier',
    )
  })
})

test('of the whole home a look says nothing where no rule can judge yet', () => {
  const { why } = sweep([], [], { ...quiet, isUnjudged: () => true })
  expect(why['alarms.smoke-coverage@home']).toBe('unjudged')
  expect(why['switches.room@kitchen']).toBeUndefined()
})

describe('the same as before', () => {
  test('readings are taken over, what must be confirmed each time is not', () => {
    const opened = findItem('panel-cover-off.opened')!
    expect(repeatableReadings(opened, { voltageTested: true })).toEqual({})
    const room = findItem('receptacles.room')!
    expect(
      repeatableReadings(room, {
        pattern: 'correct',
        volts: 121,
        dropAlong: 'a | 1 | 1',
        steady: null,
        other: 1,
      }),
    ).toEqual({
      pattern: 'correct',
      volts: 121,
    })
  })

  test('details alike are taken over where there are none; what tells pieces apart never is', () => {
    const from = { position: 3, ratingAmps: 15, size: '14', directory: 'Kitchen', material: 'copper' }
    expect(repeatableDetails('circuit', from, { material: 'aluminium' })).toEqual({
      ratingAmps: 15,
      size: '14',
    })
    expect(
      repeatableDetails('alarm', { senses: 'smoke', labelText: '2016', buttonTest: 'passed' }, {}),
    ).toEqual({ senses: 'smoke' })
    expect(repeatableDetails('panel', { mainAmps: 100 }, {})).toEqual({})
  })
})
