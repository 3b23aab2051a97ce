import fc from 'fast-check'
import { afterAll, describe, expect, test, vi } from 'vitest'
import { CHECKLIST, findItem } from '../../../trade/checklist/checklist.ts'
import { isEquipmentSubject, isSpaceSubject } from '../../../trade/checklist/item.ts'
import type { Equipment } from '../../../trade/equipment.ts'
import type { Home } from '../../../trade/home.ts'
import { linesOf } from '../../../trade/inspection/lines.ts'
import { RULES } from '../../../trade/rules.ts'
import type { Verdict } from '../../../trade/verdict.ts'
import { evaluateHome } from '../../../trade/whole-home/evaluate.ts'
import { judgeReadings } from '../../../trade/whole-home/judge-readings.ts'
import { reevaluate } from '../../../trade/whole-home/reevaluate.ts'
import { allVerdicts, verdictsAbout, verdictsFor } from '../../../trade/whole-home/verdicts.ts'
import {
  anyDay,
  anyEquipment,
  anyHome,
  anyJurisdiction,
  anySpaces,
  anyValuesOf,
} from '../../build/arbitrary-home.ts'
import { bigHome, BIG_HOME_JURISDICTION, BIG_HOME_TODAY } from '../../build/big-home.ts'

// Hundreds of generated homes take their time on a busy machine.
vi.setConfig({ testTimeout: 60_000 })
afterAll(() => vi.resetConfig())

const EQUIPMENT_RULES = [...RULES.equipment].flatMap(([kind, rules]) =>
  rules.map((rule) => [rule.id, kind] as const),
)
const ALL_IDS = [
  ...EQUIPMENT_RULES.map(([id]) => id),
  ...[...RULES.spaces, ...RULES.homes, ...RULES.readings].map(({ id }) => id),
]
const ITEMS = CHECKLIST.areas.flatMap(({ items }) => items)

const KNOWN = new Set(ALL_IDS)

/** What is wrong with a verdict, if anything is. */
const faultsOf = (verdict: Verdict): string[] => {
  const { rule, technician, homeowner, figures } = verdict
  const faults: [boolean, string][] = [
    [!KNOWN.has(rule), 'no such rule'],
    [technician === '' || homeowner === '', 'silent'],
    [/NaN|undefined|Infinity|\[object|violation/.test(technician + homeowner), technician + homeowner],
    [!figures.every(({ value }) => Number.isFinite(value)), 'a figure that is no number'],
    [verdict.outcome === 'undetermined' && verdict.missing.length === 0, 'nothing named that is missing'],
  ]
  return faults.flatMap(([isFault, words]) => (isFault ? [`${rule}: ${words}`] : []))
}

describe('where a rule speaks', () => {
  test('every rule speaks at some item, and every item it names exists', () => {
    expect(Object.keys(RULES.spokenAt).sort()).toEqual([...ALL_IDS].sort())
    for (const items of Object.values(RULES.spokenAt)) {
      expect(items.length).toBeGreaterThan(0)
      for (const id of items) expect(findItem(id), id).not.toBeNull()
    }
  })

  test.each(EQUIPMENT_RULES)('%s speaks on lines of a %s', (id, kind) => {
    for (const itemId of RULES.spokenAt[id] ?? []) {
      const { subject } = findItem(itemId)!
      expect(isEquipmentSubject(subject) && subject.equipment).toBe(kind)
    }
  })

  test('a rule about a place speaks on lines of places', () => {
    for (const { id } of RULES.spaces) {
      for (const itemId of RULES.spokenAt[id] ?? [])
        expect(isSpaceSubject(findItem(itemId)!.subject)).toBe(true)
    }
  })

  test('a rule about readings speaks where there are readings', () => {
    for (const { id } of RULES.readings) {
      for (const itemId of RULES.spokenAt[id] ?? []) expect(findItem(itemId)!.readings).not.toEqual({})
    }
  })

  test('on a line stand the verdicts about its subject and about the home', () => {
    const home = bigHome()
    const verdicts = evaluateHome(home, BIG_HOME_JURISDICTION, BIG_HOME_TODAY)
    const lines = linesOf(home, CHECKLIST)
    const at = (key: string) =>
      verdictsFor(
        lines.find((line) => line.key === key)!,
        verdicts,
      )
    expect(at('panel-cover-off.circuit@circuit-1').map(({ rule }) => rule)).toContain(
      'overcurrent.breaker-against-conductor',
    )
    expect(at('alarms.smoke-coverage@home').map(({ rule }) => rule)).toContain('alarms.smoke-coverage')
    expect(at('panel-cover-off.load@home').map(({ rule }) => rule)).toEqual([
      'load.calculated-against-service',
    ])
    expect(at('surge.device@surge').map(({ rule }) => rule)).toEqual(
      expect.arrayContaining(['surge.type', 'surge.required']),
    )
    expect(at('service.entry@service')).toEqual([])
  })
})

test('of the large home nothing is silent, and every verdict can be read', () => {
  const home = bigHome()
  const verdicts = evaluateHome(home, BIG_HOME_JURISDICTION, BIG_HOME_TODAY)
  expect(allVerdicts(verdicts).flatMap(({ verdict }) => faultsOf(verdict))).toEqual([])
  const circuits = home.equipment.filter(({ kind }) => kind === 'circuit')
  expect(circuits).toHaveLength(60)
  for (const { id } of circuits) expect(verdictsAbout(verdicts, 'equipment', id).length).toBeGreaterThan(5)
})

test('every piece of equipment in use has a line, whatever is written down about it', () => {
  fc.assert(
    fc.property(anyHome, (home) => {
      const shown = new Set(linesOf(home, CHECKLIST).map(({ subjectId }) => subjectId))
      const unseen = home.equipment.filter(({ id, retiredOn }) => shown.has(id) === Boolean(retiredOn))
      expect(unseen).toEqual([])
    }),
    { numRuns: 100 },
  )
})

test('no record makes a rule throw or talk nonsense, whatever the jurisdiction and the day', () => {
  fc.assert(
    fc.property(anyHome, anyJurisdiction(ALL_IDS), anyDay, (home, jurisdiction, today) => {
      const verdicts = allVerdicts(evaluateHome(home, jurisdiction, today))
      expect(verdicts.flatMap(({ verdict }) => faultsOf(verdict))).toEqual([])
    }),
    { numRuns: 150 },
  )
})

test('no readings make a rule throw or talk nonsense', () => {
  const readItems = ITEMS.filter(({ readings }) => Object.keys(readings).length > 0)
  const anyRead = fc
    .constantFrom(...readItems)
    .chain((item) => fc.tuple(fc.constant(item), anyValuesOf(item.readings)))
  fc.assert(
    fc.property(
      anyRead,
      anyHome,
      anySpaces,
      anyJurisdiction(ALL_IDS),
      anyDay,
      ([item, readings], home, spaces, place, today) => {
        const subject = { space: spaces[0] ?? null }
        for (const verdict of judgeReadings(item, readings, subject, home, place, today)) {
          expect(faultsOf(verdict)).toEqual([])
          expect(RULES.spokenAt[verdict.rule]).toContain(item.id)
        }
      },
    ),
    { numRuns: 250 },
  )
})

/** Verdicts by subject, in an order that does not hang on the order of the record. */
function bySubject(verdicts: ReturnType<typeof evaluateHome>) {
  return {
    equipment: Object.fromEntries([...verdicts.equipment].sort(([a], [b]) => (a < b ? -1 : 1))),
    spaces: Object.fromEntries([...verdicts.spaces].sort(([a], [b]) => (a < b ? -1 : 1))),
    homes: verdicts.homes,
  }
}

test('the order in which things were recorded does not matter', () => {
  const anyTwoOrders = anyHome.chain((home) =>
    fc
      .tuple(
        fc.shuffledSubarray([...home.equipment], {
          minLength: home.equipment.length,
          maxLength: home.equipment.length,
        }),
        fc.shuffledSubarray([...home.spaces], {
          minLength: home.spaces.length,
          maxLength: home.spaces.length,
        }),
      )
      .map(([equipment, spaces]): [Home, Home] => [home, { ...home, equipment, spaces }]),
  )
  fc.assert(
    fc.property(anyTwoOrders, anyJurisdiction(ALL_IDS), anyDay, ([one, other], jurisdiction, today) => {
      expect(bySubject(evaluateHome(other, jurisdiction, today))).toEqual(
        bySubject(evaluateHome(one, jurisdiction, today)),
      )
    }),
    { numRuns: 120 },
  )
})

test('after any change, only what depends on it is computed, and nothing is missed', () => {
  const anyChange = anyHome.chain((home) => {
    const ids = fc.constantFrom('piece-0', 'piece-1', 'piece-2', 'piece-3', 'piece-4', 'piece-5')
    return fc
      .tuple(
        fc.uniqueArray(anyEquipment(ids), { selector: ({ id }) => id, maxLength: 3 }),
        fc.subarray(
          home.equipment.map(({ id }) => id),
          { maxLength: Math.min(2, home.equipment.length) },
        ),
      )
      .map(([put, removed]) => {
        const gone = new Set([...removed, ...put.map(({ id }) => id)])
        const equipment: Equipment[] = [...home.equipment.filter(({ id }) => !gone.has(id)), ...put]
        return { home, changed: { ...home, equipment }, ids: [...gone] }
      })
  })
  fc.assert(
    fc.property(
      anyChange,
      anyJurisdiction(ALL_IDS),
      anyDay,
      ({ home, changed, ids }, jurisdiction, today) => {
        const before = evaluateHome(home, jurisdiction, today)
        expect(bySubject(reevaluate(before, changed, ids))).toEqual(
          bySubject(evaluateHome(changed, jurisdiction, today)),
        )
      },
    ),
    { numRuns: 150 },
  )
})
