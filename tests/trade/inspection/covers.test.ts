import { describe, expect, test } from 'vitest'
import { CHECKLIST } from '../../../trade/checklist/checklist.ts'
import { byLine, coversOf, impliedAnswers } from '../../../trade/inspection/covers.ts'
import { type Line, linesOf } from '../../../trade/inspection/lines.ts'
import type { Answer } from '../../../trade/inspection/records.ts'
import { piece } from '../../build/pieces.ts'
import { answerTo, buildHome } from './build.ts'

const home = buildHome({
  equipment: [
    piece('panel', 'main', {}),
    piece('panel', 'sub', {}),
    piece('circuit', 'in-sub', {}, { parentId: 'sub' }),
    piece('circuit', 'loose', {}),
    piece('disconnect', 'outside', {}),
  ],
})
const lines = linesOf(home, CHECKLIST)
const at = (key: string): Line => lines.find((line) => line.key === key)!
const NOT_OPENED: Partial<Answer> = {
  result: 'not-reached',
  notReachedReason: 'energised',
  note: 'Hot',
  readings: {},
}
const openings = (change: Readonly<Record<string, Partial<Answer>>>) =>
  Object.entries(change).map(([id, answer]) => answerTo(at(`panel-cover-off.opened@${id}`), answer))

describe('the covers of a line', () => {
  test.each<[string, string[]]>([
    ['panel-cover-off.condition@main', ['main']],
    ['panel-cover-off.circuit@in-sub', ['sub']],
    ['panel-cover-off.circuit@loose', ['main', 'sub']],
    ['equipment-disconnect.inside@outside', ['outside']],
    ['panel-cover-on.heat@main', []],
    ['panel-cover-off.opened@main', []],
  ])('%s: %j', (key, covers) => {
    expect(coversOf(at(key), lines, home).map(({ subjectId }) => subjectId)).toEqual(covers)
  })
})

describe('what follows from covers that stayed on', () => {
  const impliedAt = (answers: Answer[]) =>
    new Set(impliedAnswers(lines, answers, home).map(({ itemId, subjectId }) => `${itemId}@${subjectId}`))

  test('the same result, reason and note, with no readings', () => {
    const implied = impliedAnswers(lines, openings({ main: NOT_OPENED }), home)
    expect(implied).toContainEqual({
      itemId: 'panel-cover-off.condition',
      subjectKind: 'equipment',
      subjectId: 'main',
      result: 'not-reached',
      notReachedReason: 'energised',
      note: 'Hot',
      readings: {},
    })
  })

  test('nothing while nobody has said anything of the cover, or when it came off', () => {
    expect(impliedAnswers(lines, [], home)).toEqual([])
    expect(impliedAnswers(lines, openings({ main: {}, sub: { result: 'finding' } }), home)).toEqual([])
  })

  test('only in the panel that stayed shut; a circuit of an unknown panel only when all did', () => {
    const one = impliedAt(openings({ sub: NOT_OPENED }))
    expect(one).toContain('panel-cover-off.circuit@in-sub')
    expect(one).not.toContain('panel-cover-off.condition@main')
    expect(one).not.toContain('panel-cover-off.circuit@loose')
    const mixed = impliedAt(openings({ main: {}, sub: NOT_OPENED }))
    expect(mixed).not.toContain('panel-cover-off.circuit@loose')
    const both = impliedAt(openings({ main: NOT_OPENED, sub: NOT_OPENED }))
    expect(both).toContain('panel-cover-off.circuit@loose')
  })

  test('covers of different results imply nothing', () => {
    const mixed = impliedAt(openings({ main: NOT_OPENED, sub: { result: 'absent', readings: {} } }))
    expect(mixed).not.toContain('panel-cover-off.circuit@loose')
  })

  test('an answer that someone gave stays as it is', () => {
    const given = answerTo(at('panel-cover-off.condition@main'))
    const implied = impliedAt([...openings({ main: NOT_OPENED }), given])
    expect(implied).not.toContain('panel-cover-off.condition@main')
    expect(implied).toContain('panel-cover-off.openings@main'.replace('openings', 'breakers-listed'))
  })
})

test('of two answers to one line the later one counts', () => {
  const line = at('panel-cover-on.heat@main')
  const answers = byLine([answerTo(line), answerTo(line, { result: 'finding' })])
  expect(answers.size).toBe(1)
  expect(answers.get(line.key)?.result).toBe('finding')
})
