import { describe, expect, test } from 'vitest'
import type { EquipmentOf } from '../../trade/equipment.ts'
import { panelLayout } from '../../web/office/homes/panel-layout.ts'
import { piece } from '../build/pieces.ts'

const breaker = (id: string, position?: number, poles?: number) =>
  piece('circuit', id, { position, poles }) as EquipmentOf<'circuit'>
const drawn = (positions: number | null, ...circuits: ReturnType<typeof breaker>[]) =>
  panelLayout(circuits, positions).places.map(({ position, column, row, rows, circuits: here }) => [
    position,
    column,
    row,
    rows,
    here.map(({ id }) => id).join('+'),
  ])

// Numbering of panelboards, common practice, no source: odd down the left, even down the right.
describe('a panel as it hangs on the wall', () => {
  test('odd positions on the left, even ones on the right, free ones kept', () => {
    expect(drawn(6, breaker('a', 1), breaker('d', 4))).toEqual([
      [1, 1, 1, 1, 'a'],
      [2, 2, 1, 1, ''],
      [3, 1, 2, 1, ''],
      [4, 2, 2, 1, 'd'],
      [5, 1, 3, 1, ''],
      [6, 2, 3, 1, ''],
    ])
  })
  test('two poles take the next place on the same side', () => {
    expect(drawn(4, breaker('range', 2, 2), breaker('a', 1))).toEqual([
      [1, 1, 1, 1, 'a'],
      [2, 2, 1, 2, 'range'],
      [3, 1, 2, 1, ''],
    ])
  })
  test('two breakers in one place stand together, also under two poles', () => {
    expect(drawn(2, breaker('a', 1), breaker('b', 1))).toEqual([
      [1, 1, 1, 1, 'a+b'],
      [2, 2, 1, 1, ''],
    ])
    expect(drawn(null, breaker('range', 1, 2), breaker('b', 3))).toEqual([
      [1, 1, 1, 2, 'range+b'],
      [2, 2, 1, 1, ''],
    ])
  })
  test('more breakers than positions on record are all drawn; one without a position stands apart', () => {
    expect(drawn(2, breaker('a', 5)).map(([position]) => position)).toEqual([1, 2, 3, 4, 5])
    expect(panelLayout([breaker('lost')], 2).unplaced.map(({ id }) => id)).toEqual(['lost'])
    expect(panelLayout([breaker('lost')], null).places).toEqual([])
  })
})
