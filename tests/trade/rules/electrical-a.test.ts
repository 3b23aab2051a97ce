import { expect, test } from 'vitest'
import type { Equipment, EquipmentKind } from '../../../trade/equipment.ts'
import { EQUIPMENT_KINDS } from '../../../trade/equipment.ts'
import { equipmentRules, homeRules, readingRules } from '../../../trade/rules/electrical-a.ts'
import { homeOf, item, spoken, under } from '../overcurrent/verdicts.ts'

const all = [...equipmentRules, ...homeRules, ...readingRules]

test('every rule is listed once, under an id that says its subject', () => {
  const ids = all.map((rule) => rule.id)
  expect(new Set(ids).size).toBe(ids.length)
  expect(ids.toSorted()).toEqual([
    'load.calculated-against-service',
    'overcurrent.breaker-against-conductor',
    'overcurrent.conductors-per-terminal',
    'overcurrent.device-against-bus',
    'overcurrent.feeder-against-conductor',
    'overcurrent.multiwire-disconnect',
    'overcurrent.neutrals-per-terminal',
    'overcurrent.ten-amp-circuit',
    'overcurrent.white-as-hot',
    'service.clearance-over-drive',
    'service.clearance-over-roof',
    'service.clearance-over-walk',
    'service.emergency-disconnect',
    'service.main-against-conductors',
    'service.minimum-rating',
    'service.number-of-disconnects',
    'service.oxide-inhibitor',
    'service.rating-against-conductors',
    'torque.reading-against-value',
    'voltage-drop.expected-of-run',
    'voltage-drop.loaded-receptacle',
    'voltage-drop.neutral-to-ground',
    'voltage-drop.voltage-at-receptacle',
  ])
  for (const rule of all) expect(rule.title).toMatch(/^[A-Z0-9].{8,}$/)
})

test('an empty record is undetermined under every rule, in readable words, and never an exception', () => {
  const blank = Object.fromEntries(
    (Object.keys(EQUIPMENT_KINDS) as EquipmentKind[]).map((kind) => [kind, item(`blank ${kind}`, kind, {})]),
  ) as Record<EquipmentKind, Equipment>
  const home = homeOf(...Object.values(blank))
  for (const context of [under('2023', '1990'), under(null), under('1940', '1940')]) {
    for (const rule of equipmentRules) {
      const inputs = (rule.inputs as (subject: Equipment, home: unknown) => unknown)(blank[rule.kind], home)
      expect(spoken(rule.judge(inputs, context)), rule.id).toMatchObject({
        rule: rule.id,
        outcome: 'undetermined',
      })
    }
    for (const rule of homeRules) {
      for (const verdict of rule.judge(rule.inputs(home), context)) {
        expect(spoken(verdict)).toMatchObject({ rule: rule.id, outcome: 'undetermined' })
      }
    }
    for (const rule of readingRules) {
      const verdict = rule.judge(rule.inputs({}, { space: null }, home), context)
      expect(spoken(verdict)).toMatchObject({ rule: rule.id, outcome: 'undetermined' })
    }
  }
})
