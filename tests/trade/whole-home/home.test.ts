import { describe, expect, test } from 'vitest'
import { day } from '../../../trade/dates.ts'
import { childrenOf, equipmentIn, findEquipment, inUse, spaceOf } from '../../../trade/home.ts'
import type { Space } from '../../../trade/property.ts'
import { piece } from '../../build/pieces.ts'
import { buildHome } from '../inspection/build.ts'

const kitchen: Space = { id: 'kitchen', kind: 'kitchen', name: 'Kitchen', level: 0 }
const home = buildHome({
  spaces: [kitchen],
  equipment: [
    piece('circuit', 'c1', {}, { parentId: 'p', spaceId: 'kitchen' }),
    { ...piece('circuit', 'c2', {}, { parentId: 'p', spaceId: 'kitchen' }), retiredOn: day('2024-01-01') },
    piece('panel', 'p', {}),
    piece('receptacle', 'r', {}, { parentId: 'c1', spaceId: 'kitchen' }),
    piece('circuit', 'c3', {}, { parentId: 'p' }),
  ],
})
const ids = (pieces: readonly { id: string }[]) => pieces.map(({ id }) => id)

describe('ways into the record of a home', () => {
  test('equipment of a kind, in the order it was recorded, without what is out of use', () => {
    expect(ids(inUse(home, 'circuit'))).toEqual(['c1', 'c3'])
    expect(inUse(home, 'alarm')).toEqual([])
  })

  test('what belongs to a piece', () => {
    expect(ids(childrenOf(home, 'p'))).toEqual(['c1', 'c3'])
    expect(ids(childrenOf(home, 'c1'))).toEqual(['r'])
    expect(childrenOf(home, 'r')).toEqual([])
    expect(childrenOf(home, 'null')).toEqual([])
  })

  test('what is installed in a space', () => {
    expect(ids(equipmentIn(home, 'kitchen'))).toEqual(['c1', 'r'])
    expect(equipmentIn(home, 'attic')).toEqual([])
    expect(equipmentIn(home, 'null')).toEqual([])
  })

  test('a piece by its id, out of use or not', () => {
    expect(findEquipment(home, 'c2')?.retiredOn).toBe('2024-01-01')
    expect(findEquipment(home, 'nobody')).toBeNull()
    expect(findEquipment(home, null)).toBeNull()
  })

  test('the space of a piece', () => {
    expect(spaceOf(home, { spaceId: 'kitchen' })).toBe(kitchen)
    expect(spaceOf(home, { spaceId: 'attic' })).toBeNull()
    expect(spaceOf(home, { spaceId: null })).toBeNull()
  })

  test('are gathered once per record, and anew for a changed one', () => {
    expect(inUse(home, 'circuit')).toBe(inUse(home, 'circuit'))
    const changed = { ...home, equipment: home.equipment.slice(0, 1) }
    expect(ids(inUse(changed, 'circuit'))).toEqual(['c1'])
  })
})
