import fc from 'fast-check'
import { expect, test } from 'vitest'
import { CHECKLIST } from '../../../trade/checklist/checklist.ts'
import type { Home } from '../../../trade/home.ts'
import { leftOut, linesOf } from '../../../trade/inspection/lines.ts'
import type { Property, Space } from '../../../trade/property.ts'
import { anyHome } from '../../build/arbitrary-home.ts'
import { piece } from '../../build/pieces.ts'
import { buildHome, UNKNOWN_PROPERTY } from './build.ts'

const space = (kind: Space['kind'], more: Partial<Space> = {}): Space => ({
  id: kind,
  kind,
  name: `The ${kind}`,
  level: 0,
  ...more,
})
const where = (property: Partial<Property>) => buildHome({ property: { ...UNKNOWN_PROPERTY, ...property } })
const reasonFor = (home: Home, itemId: string) =>
  leftOut(home, CHECKLIST).find(({ item }) => item.id === itemId)?.reason ?? null
const linesAt = (home: Home, itemId: string) =>
  linesOf(home, CHECKLIST).filter(({ item }) => item.id === itemId)

test('of a home that nobody knows anything about, every item is asked once', () => {
  const home = buildHome()
  expect(leftOut(home, CHECKLIST)).toEqual([])
  expect(linesOf(home, CHECKLIST).map(({ item }) => item.id)).toEqual(
    CHECKLIST.areas.flatMap((area) => area.items.map((item) => item.id)),
  )
})

test.each<[string, Partial<Property>, string, string | null]>([
  ['no gas piping', { hasGasPiping: false }, 'gas-bond.bond', 'The home has no gas piping.'],
  [
    'gas piping though the fuels say electric',
    { hasGasPiping: true, fuels: ['electric'] },
    'gas-bond.bond',
    null,
  ],
  ['all electric', { fuels: ['electric'] }, 'gas-bond.bond', 'No gas is used here.'],
  ['propane', { fuels: ['electric', 'propane'] }, 'gas-bond.bond', null],
  ['natural gas', { fuels: ['natural-gas'] }, 'gas-bond.clamp', null],
  ['oil', { fuels: ['oil'] }, 'gas-bond.pipe-kind', 'No gas is used here.'],
  ['no garage', { garage: 'none' }, 'ground-fault.garage', 'The home has no garage.'],
  ['a detached garage', { garage: 'detached' }, 'ground-fault.garage', null],
  // IRC R315: fuel burned, or a garage attached.
  [
    'all electric without a garage',
    { fuels: ['electric'], garage: 'none' },
    'alarms.co-coverage',
    'Nothing here burns fuel and no garage is attached.',
  ],
  [
    'all electric with a detached garage',
    { fuels: ['electric'], garage: 'detached' },
    'alarms.co-coverage',
    'Nothing here burns fuel and no garage is attached.',
  ],
  [
    'all electric with a garage attached',
    { fuels: ['electric'], garage: 'attached' },
    'alarms.co-coverage',
    null,
  ],
  ['a wood stove', { fuels: ['electric', 'wood'], garage: 'none' }, 'alarms.co-coverage', null],
  ['fuels that nobody asked about', { garage: 'none' }, 'alarms.co-coverage', null],
  ['an empty list of fuels', { fuels: [], garage: 'none' }, 'alarms.co-coverage', null],
  ['a garage that nobody asked about', { fuels: ['electric'] }, 'alarms.co-coverage', null],
])('with %s', (_case, property, itemId, reason) => {
  expect(reasonFor(where(property), itemId)).toBe(reason)
})

test('a recorded bond of gas piping tells of gas whatever the property says', () => {
  const home = { ...where({ hasGasPiping: false }), equipment: [piece('bond', 'gas', { of: 'gas-pipe' })] }
  expect(reasonFor(home, 'gas-bond.bond')).toBeNull()
  expect(reasonFor({ ...home, equipment: [piece('bond', 'w', { of: 'water-pipe' })] }, 'gas-bond.bond')).toBe(
    'The home has no gas piping.',
  )
})

test('a fuel burner in one room keeps the carbon monoxide item', () => {
  const home = {
    ...where({ fuels: ['electric'], garage: 'none' }),
    spaces: [space('utility', { hasFuelBurner: true })],
  }
  expect(reasonFor(home, 'alarms.co-coverage')).toBeNull()
})

test('an underground service has no drop to look at, an overhead or unknown one has', () => {
  const withSupply = (supply?: 'overhead' | 'underground') =>
    buildHome({ equipment: [piece('service', 's', supply ? { supply } : {})] })
  expect(reasonFor(withSupply('underground'), 'service.overhead-drop')).toBe(
    'The service comes in underground.',
  )
  expect(reasonFor(withSupply('overhead'), 'service.overhead-drop')).toBeNull()
  expect(reasonFor(withSupply(), 'service.overhead-drop')).toBeNull()
  expect(reasonFor(buildHome(), 'service.overhead-drop')).toBeNull()
})

test('each space of the right kind is a line with its name, and a missing kind is left out with a reason', () => {
  const home = buildHome({ spaces: [space('bathroom'), space('bathroom', { id: 'b2', name: 'Upstairs' })] })
  expect(linesAt(home, 'ground-fault.bathroom').map(({ key, name }) => [key, name])).toEqual([
    ['ground-fault.bathroom@bathroom', 'The bathroom'],
    ['ground-fault.bathroom@b2', 'Upstairs'],
  ])
  expect(reasonFor(home, 'ground-fault.kitchen')).toBe('Not among the recorded places: kitchen.')
  expect(reasonFor(home, 'ground-fault.basement')).toBe(
    'Not among the recorded places: basement, unfinished; basement, finished.',
  )
  expect(reasonFor(home, 'ground-fault.sink-or-tub')).toBe('No such place is recorded for this home.')
})

test('a line about the home itself stands for nothing else', () => {
  expect(linesAt(buildHome(), 'alarms.ages')).toMatchObject([{ noneRecorded: false, subjectKind: 'home' }])
})

test('of two services, one of them overhead, the drop is looked at', () => {
  const equipment = [
    piece('service', 'a', { supply: 'underground' }),
    piece('service', 'b', { supply: 'overhead' }),
  ]
  expect(reasonFor(buildHome({ equipment }), 'service.overhead-drop')).toBeNull()
})

test('a place of many kinds that is missing is not told kind by kind', () => {
  const home = buildHome({ spaces: [space('crawl-space')] })
  expect(reasonFor(home, 'receptacles.room')).toBe('No such place is recorded for this home.')
  expect(reasonFor(home, 'lighting.stairs')).toBe('Not among the recorded places: stairs.')
})

test('another room gets a ground-fault line once it has a sink or a tub', () => {
  const sink = buildHome({ spaces: [space('family', { hasSink: true })] })
  const tub = buildHome({ spaces: [space('bedroom', { hasTubOrShower: true })] })
  expect(linesAt(sink, 'ground-fault.sink-or-tub')).toHaveLength(1)
  expect(linesAt(tub, 'ground-fault.sink-or-tub')).toHaveLength(1)
  expect(linesAt(buildHome({ spaces: [space('family')] }), 'ground-fault.sink-or-tub')).toEqual([])
})

test('every recorded piece is a line; with none recorded, one line stands for all', () => {
  expect(linesAt(buildHome(), 'alarms.device')).toMatchObject([
    { key: 'alarms.device@home', subjectKind: 'home', subjectId: null, noneRecorded: true, name: '' },
  ])
  const equipment = [piece('alarm', 'hall', {}), { ...piece('alarm', 'attic', {}), label: '' }]
  expect(linesAt(buildHome({ equipment }), 'alarms.device')).toMatchObject([
    { key: 'alarms.device@hall', subjectKind: 'equipment', noneRecorded: false, name: 'hall' },
    { key: 'alarms.device@attic', name: 'Alarm' },
  ])
})

test('what is out of use is not looked at', () => {
  const retired = { ...piece('alarm', 'old', {}), retiredOn: '2024-01-01' as never }
  expect(linesAt(buildHome({ equipment: [retired] }), 'alarms.device')).toMatchObject([
    { noneRecorded: true },
  ])
})

test('an item about one sort of a kind takes only that sort', () => {
  const equipment = [piece('bond', 'gas', { of: 'gas-pipe' }), piece('bond', 'meter', { of: 'water-meter' })]
  const home = buildHome({ equipment })
  expect(linesAt(home, 'gas-bond.bond').map(({ subjectId }) => subjectId)).toEqual(['gas'])
  expect(linesAt(home, 'grounding.water-meter').map(({ subjectId }) => subjectId)).toEqual(['meter'])
  expect(linesAt(home, 'grounding.water-piping-bond')).toMatchObject([{ noneRecorded: true }])
})

test('circuits come in the order of the panel, those without a position last', () => {
  const equipment = [
    piece('circuit', 'unknown', {}),
    piece('circuit', 'third', { position: 3 }),
    piece('circuit', 'unknown-too', {}),
    piece('circuit', 'first', { position: 1 }),
  ]
  expect(linesAt(buildHome({ equipment }), 'panel-cover-off.circuit').map((line) => line.subjectId)).toEqual([
    'first',
    'third',
    'unknown',
    'unknown-too',
  ])
})

test('of any home, every item has lines or a reason, never both, and no line comes twice', () => {
  fc.assert(
    fc.property(anyHome, (home) => {
      const lines = linesOf(home, CHECKLIST)
      const out = leftOut(home, CHECKLIST)
      expect(new Set(lines.map(({ key }) => key)).size).toBe(lines.length)
      for (const { item } of CHECKLIST.areas.flatMap(({ items }) => items.map((item) => ({ item })))) {
        const asked = lines.some((line) => line.item.id === item.id)
        const reason = out.find((each) => each.item.id === item.id)?.reason
        expect(asked !== Boolean(reason), item.id).toBe(true)
      }
    }),
    { numRuns: 60 },
  )
})
