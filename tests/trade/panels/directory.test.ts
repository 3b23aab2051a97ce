import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { EQUIPMENT_FIELDS } from '../../../trade/equipment.ts'
import { isSpare, lineQuality, roomsNamed, wordsOf } from '../../../trade/panels/directory-line.ts'
import {
  directory,
  type DirectoryInputs,
  directoryOf,
  judgeDirectory,
} from '../../../trade/panels/directory.ts'
import type { Verdict } from '../../../trade/verdict.ts'
import { articles, figure, homeOf, item, spoken, under } from '../overcurrent/verdicts.ts'

const missing = (verdict: Verdict) => (verdict.outcome === 'undetermined' ? verdict.missing : null)

describe('one directory line, NFPA 70 408.4(A)', () => {
  test.each([
    // Handbook cases: a name, a clear purpose, nothing.
    ["Tom's room", 'depends-on-occupant'],
    ['NE bedroom receptacles', 'clear'],
    ['', 'blank'],
    [undefined, 'blank'],
    ['   ', 'blank'],
    ['???', 'vague'],
    ['Bobby’s room', 'depends-on-occupant'],
    ["TOM'S ROOM", 'depends-on-occupant'],
    ["Girls' bath", 'depends-on-occupant'],
    ['Kids bedroom', 'depends-on-occupant'],
    ['my office', 'depends-on-occupant'],
    ['Grandma', 'depends-on-occupant'],
    ['Lights', 'vague'],
    ['plugs', 'vague'],
    ['General lighting', 'vague'],
    ['Outlets & lights', 'vague'],
    ['upstairs', 'vague'],
    ['Misc. #2', 'vague'],
    ['Circuit 7', 'vague'],
    ['Circuit 12', 'vague'],
    ['don’t know', 'vague'],
    ['rec', 'vague'],
    ['unknown', 'vague'],
    ['Rec room lights', 'clear'],
    ['rec. rm', 'clear'],
    ['Furnace', 'clear'],
    ['A/C', 'clear'],
    ['Dryer', 'clear'],
    ['Upstairs hall lights', 'clear'],
    ['Range 40A', 'clear'],
    ['Master bath GFCI', 'clear'],
    ['Guest bedroom', 'clear'],
    ['spare', 'clear'],
    ['Not used', 'clear'],
    ['Sunroom', 'clear'],
  ] as const)('%s: %s', (text, quality) => {
    expect(lineQuality({ text })).toBe(quality)
    expect(lineQuality({ text, legible: true })).toBe(quality)
    expect(lineQuality({ text, legible: false })).toBe('illegible')
  })
  test('words', () => {
    expect(wordsOf("Tom's A/C & W/H, 2nd-floor")).toEqual(['toms', 'ac', 'wh', '2nd', 'floor'])
    expect(wordsOf('Rec. Rm / rec')).toEqual(['recroom', 'rec'])
    expect(isSpare(['spare'])).toBe(true)
    expect(isSpare(['not', 'used'])).toBe(true)
    expect(isSpare(['spare', 'bedroom'])).toBe(false)
  })
  test.each([
    ['NE bedroom receptacles', ['bedroom']],
    ['Kitchen island + dining', ['dining', 'kitchen']],
    ['Bath GFCI', ['bathroom']],
    ['dishwasher', []],
    ['Washer', ['laundry']],
    ['Rec room', ['family']],
    ['rec', []],
    ['Garage & outside plugs', ['garage', 'outdoors']],
    ['Front porch', ['outdoors']],
    ['Hallway stairs', ['hall', 'stairs']],
    ['Office/Den', ['family', 'office']],
    ['Basement lights', []],
    ['Crawl space', ['crawl-space']],
    ['Shed', ['accessory-building']],
    ['Pantry', ['closet']],
    ['Mudroom', ['utility']],
    ['Living rm', ['living']],
    ['Lights', []],
    ['', []],
  ] as const)('%s names %o', (text, rooms) => {
    expect(roomsNamed(text).toSorted()).toEqual([...rooms].toSorted())
  })
})

describe('the whole directory', () => {
  const lines = (...texts: (string | undefined)[]): DirectoryInputs['lines'] =>
    texts.map((text, at) => ({ text, position: at + 1 }))
  const judge = (given: DirectoryInputs['lines'], context = under('2023', '2008')) =>
    spoken(judgeDirectory({ lines: given }, context))
  test('percentage and what is wrong where', () => {
    const given = [
      ...lines('Range', 'Lights', undefined, "Tom's room", 'Dryer', 'Dryer'),
      { position: 7, legible: false },
    ]
    expect(directoryOf(given)).toEqual({
      total: 7,
      complete: 1,
      percent: 14,
      poor: [
        { position: 2, quality: 'vague' },
        { position: 3, quality: 'blank' },
        { position: 4, quality: 'depends-on-occupant' },
        { position: 5, quality: 'repeated' },
        { position: 6, quality: 'repeated' },
        { position: 7, quality: 'illegible' },
      ],
    })
    const verdict = judge(given)
    expect(verdict).toMatchObject({
      rule: 'panels.directory',
      outcome: 'finding',
      severity: 'repair',
      technician:
        'Directory 14 % complete, 1 of 7 lines (2: does not say which, 3: blank, 4: depends on who lives there, 5: same as another line, 6: same as another line, 7: illegible); it was required when this was built.',
      inputs: { circuits: 7, described: 1 },
    })
    expect(figure(verdict, 'Directory complete')).toBe(14)
    expect(figure(verdict, 'Lines described')).toBe(1)
    expect(figure(verdict, 'Circuits')).toBe(7)
  })
  test('rounded down, so that 100 % means every line', () => {
    const many = [...Array(199).keys()].map((at) => `Heater ${at}`)
    expect(directoryOf(lines(...many, 'Lights')).percent).toBe(99)
    expect(directoryOf(lines('Range')).percent).toBe(100)
    expect(directoryOf([])).toMatchObject({ total: 0, percent: 0 })
  })
  test('complete', () => {
    expect(judge(lines('Range', 'spare', 'Spare', 'Dryer'))).toMatchObject({
      outcome: 'sound',
      technician: 'Directory 100 % complete, 4 of 4 lines.',
    })
  })
  test('not looked at is not blank', () => {
    expect(missing(judge([]))).toEqual(['Circuits of this panel'])
    expect(missing(judge(lines(undefined, undefined)))).toEqual([EQUIPMENT_FIELDS.circuit.directory.label])
    expect(judge(lines(undefined))).toMatchObject({ figures: [], inputs: { described: null } })
    expect(judge([{ position: 1, legible: true }])).toMatchObject({
      outcome: 'finding',
      technician: expect.stringMatching(/^Directory 0 % complete, 0 of 1 lines \(1: blank\); /),
    })
    expect(judge([{ legible: true }]).technician).toMatch('(position not known: blank)')
  })
  test('editions', () => {
    expect(articles(judge(lines('Lights')))).toEqual(['408.4(A)', '408.4(A)'])
    expect(articles(judge(lines('Lights'), under('2005', '1984')))).toEqual(['384-13', '408.4'])
    expect(judge(lines('Lights'), under('2023', '1971'))).toMatchObject({ severity: 'improve' })
    expect(missing(judge(lines('Lights'), under(null)))).toEqual(['Code edition in force'])
  })
  test('the order of circuits does not matter', () => {
    const line = fc.record({
      text: fc.constantFrom('Range', 'Lights', 'Dryer', undefined, "Tom's", 'spare'),
      legible: fc.constantFrom(true, false, undefined),
    })
    fc.assert(
      fc.property(fc.array(line, { maxLength: 8 }), (list) => {
        const numbered = list.map((each, at) => ({ ...each, position: at + 1 }))
        expect(judge(numbered.toReversed())).toEqual(judge(numbered))
      }),
    )
  })
  test('any text at all gets a quality, never an exception', () => {
    fc.assert(
      fc.property(fc.string({ unit: 'grapheme', maxLength: 120 }), (text) => {
        expect(lineQuality({ text })).toMatch(/clear|blank|depends|vague/)
        expect(Array.isArray(roomsNamed(text))).toBe(true)
      }),
    )
  })
  test('inputs: the circuits of this panel', () => {
    const panel = item('p', 'panel', {})
    const one = item(
      'c',
      'circuit',
      { position: 3, directory: 'Range', directoryLegible: true },
      { parentId: 'p' },
    )
    const other = item('d', 'circuit', { directory: 'Dryer' }, { parentId: 'q' })
    const sub = item('q', 'panel', {}, { parentId: 'p' })
    expect(directory.inputs(panel, homeOf(panel, one, other, sub))).toEqual({
      lines: [{ position: 3, text: 'Range', legible: true }],
    })
    expect(directory.judge({ lines: [] }, under(null)).rule).toBe(directory.id)
    expect(directory.watches).toEqual(['circuit'])
  })
})
