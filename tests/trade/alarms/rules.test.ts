import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { CHECKLIST } from '../../../trade/checklist/checklist.ts'
import { EQUIPMENT_FIELDS, type Equipment, type EquipmentKind } from '../../../trade/equipment.ts'
import { equipmentRules, homeRules, readingRules, spaceRules, spokenAt } from '../../../trade/rules/alarms.ts'
import { anyValuesOf } from '../../build/arbitrary-home.ts'
import { context, device, home, space } from './build.ts'

const NOW = context('2023')
const OUTCOMES = ['sound', 'finding', 'undetermined', 'not-applicable']

const pieceOf = (kind: EquipmentKind) =>
  anyValuesOf(EQUIPMENT_FIELDS[kind]).map((each) => device(kind, each as never) as unknown as Equipment)

describe('every rule here', () => {
  test('has an id of its own, a title, and speaks at an item of the checklist', () => {
    const rules = [...equipmentRules, ...spaceRules, ...homeRules, ...readingRules]
    const ids = rules.map(({ id }) => id)
    expect(new Set(ids).size).toBe(ids.length)
    expect(rules.every(({ title }) => title.length > 5)).toBe(true)
    const items = new Set(CHECKLIST.areas.flatMap((area) => area.items.map(({ id }) => id)))
    for (const [rule, at] of Object.entries(spokenAt)) {
      expect(ids).toContain(rule)
      for (const item of at) expect(items).toContain(item)
    }
    expect(ids.filter((id) => !spokenAt[id]?.length)).toEqual([])
  })

  test.each(equipmentRules.map((rule) => [rule.id, rule] as const))(
    '%s: nothing known is no pass',
    (id, rule) => {
      const verdict = rule.judge(
        rule.inputs(device(rule.kind, {} as never) as never, home([])),
        context(null),
      )
      // An alarm without a date counts as past its life.
      expect(verdict.outcome).toBe(id === 'alarms.replacement' ? 'finding' : 'undetermined')
      expect(verdict.rule).toBe(id)
    },
  )

  test.each(equipmentRules.map((rule) => [rule.id, rule] as const))(
    '%s: any record gets a whole answer',
    (id, rule) => {
      fc.assert(
        fc.property(pieceOf(rule.kind), (piece) => {
          const inputs = rule.inputs(piece as never, home([], [piece])) as Record<string, unknown>
          const verdict = rule.judge(inputs, NOW)
          for (const [name, value] of Object.entries(inputs))
            expect(verdict.inputs[name]).toEqual(value ?? null)
          expect(OUTCOMES).toContain(verdict.outcome)
          expect(verdict.rule).toBe(id)
          expect(verdict.references.length).toBeGreaterThan(0)
          expect(verdict.technician).toMatch(/\S/)
          expect(verdict.homeowner).toMatch(/\.$/)
          expect(`${verdict.technician}${verdict.homeowner}`).not.toMatch(/undefined|NaN|null|violation/)
          if (verdict.outcome === 'undetermined') expect(verdict.missing.length).toBeGreaterThan(0)
          for (const { value } of verdict.figures) expect(Number.isFinite(value)).toBe(true)
        }),
      )
    },
  )

  test.each(homeRules.map((rule) => [rule.id, rule] as const))(
    '%s: any home gets a whole answer',
    (id, rule) => {
      const rooms = [space('bedroom', 1), space('hall', 1), space('living'), space('basement-finished', -1)]
      const somewhere = fc.constantFrom(null, ...rooms.map((room) => room.id))
      const placed = fc
        .tuple(fc.constantFrom<EquipmentKind>('alarm', 'circuit', 'receptacle', 'panel'), somewhere)
        .chain(([kind, spaceId]) => pieceOf(kind).map((piece): Equipment => ({ ...piece, spaceId })))
      fc.assert(
        fc.property(fc.array(placed, { maxLength: 6 }), fc.boolean(), (equipment, isKnown) => {
          const record = isKnown
            ? home(rooms, equipment, { yearBuilt: 1968, levels: 3, fuels: ['natural-gas'], garage: 'none' })
            : home([], equipment)
          for (const verdict of rule.judge(rule.inputs(record), NOW)) {
            expect(OUTCOMES).toContain(verdict.outcome)
            expect(verdict.rule).toBe(id)
            expect(`${verdict.technician}${verdict.homeowner}`).not.toMatch(/undefined|NaN|null|violation/)
          }
        }),
      )
    },
  )

  test.each(readingRules.map((rule) => [rule.id, rule] as const))('%s: no reading is no pass', (id, rule) => {
    const record = home([], [device('luminaire', {})])
    const verdict = rule.judge(rule.inputs({}, { space: null }, record), context(null))
    expect(verdict).toMatchObject({ rule: id, outcome: 'undetermined' })
  })
})
