import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { CHECKLIST } from '../../../trade/checklist/checklist.ts'
import { EDITIONS } from '../../../trade/editions.ts'
import { EQUIPMENT_FIELDS, type EquipmentKind } from '../../../trade/equipment.ts'
import type { Field } from '../../../trade/fields.ts'
import { SPACE_KINDS, type SpaceKind } from '../../../trade/property.ts'
import {
  equipmentRules,
  homeRules,
  readingRules,
  spaceRules,
  spokenAt,
} from '../../../trade/rules/electrical-b.ts'
import { homeOf, item, spoken, under } from '../overcurrent/verdicts.ts'

const all = [...equipmentRules, ...spaceRules, ...homeRules, ...readingRules]

/** Any value that the form would let through, or none. */
function valueOf(field: Field): fc.Arbitrary<unknown> {
  switch (field.type) {
    case 'choice':
      return fc.constantFrom(...Object.keys(field.options))
    case 'number':
      return field.step === 1
        ? fc.integer({ min: field.min, max: field.max })
        : fc.double({ min: field.min, max: field.max, noNaN: true })
    case 'yes-no':
      return fc.boolean()
    default:
      return fc.constantFrom('', 'Range', "Tom's room", 'Lights')
  }
}
const detailsOf = (kind: EquipmentKind) =>
  fc.record(
    Object.fromEntries(Object.entries(EQUIPMENT_FIELDS[kind]).map(([name, field]) => [name, valueOf(field)])),
    { requiredKeys: [] },
  )
const edition = fc.option(fc.constantFrom(...EDITIONS))

describe('the list of rules', () => {
  test('ids differ, are named after their subject, and every rule has a title', () => {
    expect(new Set(all.map((rule) => rule.id)).size).toBe(all.length)
    for (const { id, title } of all) {
      expect(id).toMatch(
        /^(grounding|bonding|ground-fault|arc-fault|receptacles|surge|disconnects|panels)\.[a-z-]+$/,
      )
      expect(title).toMatch(/^[A-Z].{5,}[a-z]$/)
    }
  })
  test('each speaks at items that the checklist has', () => {
    const items = new Set(CHECKLIST.areas.flatMap((area) => area.items.map((each) => each.id)))
    expect(Object.keys(spokenAt).toSorted()).toEqual(all.map((rule) => rule.id).toSorted())
    for (const places of Object.values(spokenAt)) {
      expect(places.length).toBeGreaterThan(0)
      for (const place of places) expect(items).toContain(place)
    }
  })
})

describe.each(equipmentRules.map((rule) => [rule.id, rule] as const))('%s', (id, rule) => {
  const kind = rule.kind as EquipmentKind
  test('whatever the form lets through gets a verdict that reads well', () => {
    fc.assert(
      fc.property(detailsOf(kind), edition, edition, (details, now, built) => {
        const subject = item('x', kind, details as never, { spaceId: 's' })
        const verdict = rule.judge(rule.inputs(subject as never, homeOf(subject as never)), under(now, built))
        expect(spoken(verdict).rule).toBe(id)
      }),
      { numRuns: 60 },
    )
  })
  test('an empty record is undetermined or does not apply, never passed', () => {
    const subject = item('x', kind, {} as never)
    const verdict = rule.judge(rule.inputs(subject as never, homeOf(subject as never)), under('2023', '1999'))
    expect(verdict.outcome).toMatch(/undetermined|not-applicable/)
  })
})

test('spaces of any kind and homes with nothing recorded get verdicts that read well', () => {
  for (const kind of Object.keys(SPACE_KINDS) as SpaceKind[]) {
    const space = { id: 's', kind, name: 'S', level: 0 }
    for (const rule of spaceRules) {
      const inputs = rule.inputs(space, homeOf())
      if (inputs !== null) expect(spoken(rule.judge(inputs, under('2023'))).outcome).toBe('undetermined')
    }
  }
  for (const rule of homeRules) {
    for (const verdict of rule.judge(rule.inputs(homeOf()), under(null))) {
      expect(spoken(verdict).outcome).toBe('undetermined')
    }
  }
  for (const rule of readingRules) {
    expect(spoken(rule.judge(rule.inputs({}, { space: null }, homeOf()), under(null))).outcome).toBe(
      'undetermined',
    )
  }
})
