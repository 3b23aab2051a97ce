import fc from 'fast-check'
import { expect, test } from 'vitest'
import * as alarms from '../../../trade/rules/alarms.ts'
import * as electricalA from '../../../trade/rules/electrical-a.ts'
import * as electricalB from '../../../trade/rules/electrical-b.ts'
import { anyEquipmentOf } from '../../build/arbitrary-home.ts'
import { homeOf, under } from '../overcurrent/verdicts.ts'

const rules = [electricalA, electricalB, alarms].flatMap(({ equipmentRules }) => equipmentRules)

/** Single values as a verdict shows them: what is not known is null. */
function singlesOf(inputs: object): Record<string, unknown> {
  const known = Object.entries(inputs).map(([name, value]) => [name, value ?? null] as const)
  return Object.fromEntries(known.filter(([, value]) => value === null || typeof value !== 'object'))
}

test.each(rules.map((rule) => [rule.id, rule] as const))(
  '%s shows whatever it was given, so that the technician can argue with it',
  (_, rule) => {
    fc.assert(
      fc.property(anyEquipmentOf(rule.kind), (piece) => {
        const inputs = rule.inputs(piece as never, homeOf(piece)) as object
        expect(rule.judge(inputs, under('2023', '1999')).inputs).toMatchObject(singlesOf(inputs))
      }),
      { numRuns: 30 },
    )
  },
)
