import fc from 'fast-check'
import { expect, test } from 'vitest'
import { day } from '../../../trade/dates.ts'
import { EDITIONS, type Edition } from '../../../trade/editions.ts'
import {
  EQUIPMENT_FIELDS,
  EQUIPMENT_KINDS,
  type Equipment,
  type EquipmentKind,
} from '../../../trade/equipment.ts'
import type { Home } from '../../../trade/home.ts'
import type { Jurisdiction } from '../../../trade/whole-home/context.ts'
import { judgeEquipment, judgeSpace } from '../../../trade/whole-home/evaluate.ts'
import { anyEquipmentOf, anyHome } from '../../build/arbitrary-home.ts'

const TODAY = day('2030-05-20')
const under = (edition: Edition): Jurisdiction => ({
  name: 'Port Ansel',
  isUs: true,
  adoptions: [{ edition, from: day('1900-01-01') }],
  amendments: [],
})
const KINDS = Object.keys(EQUIPMENT_KINDS) as EquipmentKind[]
const anyPiece = fc.constantFrom(...KINDS).chain((kind) => anyEquipmentOf(kind, fc.constant('this')))
const withPiece = (home: Home, piece: Equipment): Home => ({
  ...home,
  equipment: [...home.equipment.filter(({ id }) => id !== piece.id), piece],
})

/** What a later edition asks for no more: a circuit made longer by six feet at most, 210.12(B) Exception, from memory. */
const ASKED_NO_MORE = ['arc-fault.extension']

test('no rule un-requires in a later edition, but outdoors receptacles out of reach (210.8, 1978)', () => {
  const anyTwo = fc.tuple(fc.nat({ max: EDITIONS.length - 1 }), fc.nat({ max: EDITIONS.length - 1 }))
  fc.assert(
    fc.property(anyPiece, anyHome, anyTwo, (piece, others, two) => {
      const [earlier, later] = two.toSorted((a, b) => a - b).map((at) => under(EDITIONS[at]!))
      const home = withPiece(others, piece)
      const asked = (place: Jurisdiction) => [
        ...judgeEquipment(home, piece, place, TODAY),
        ...home.spaces
          .filter(({ kind }) => kind !== 'outdoors')
          .flatMap((space) => judgeSpace(home, space, place, TODAY)),
      ]
      const after = asked(later!)
      asked(earlier!).forEach((before, i) => {
        if (before.requiredToday === 'yes' && !ASKED_NO_MORE.includes(before.rule))
          expect(after[i]!.requiredToday, before.rule).not.toBe('no')
      })
    }),
    { numRuns: 150 },
  )
})

/**
 * Details whose absence means the ordinary case, each with its reason. A rule that leaves one out judges something else
 * than the rule that knows it.
 */
const ORDINARY_WHEN_LEFT_OUT: Readonly<Record<string, readonly string[]>> = {
  // Table 310.16 is printed for 30 °C and three conductors; the nameplate binds only where it is recorded.
  'overcurrent.breaker-against-conductor': [
    'ambientC',
    'bundled',
    'wiring',
    'nameplateMinimumCircuitAmps',
    'nameplateMaximumDeviceAmps',
  ],
  'voltage-drop.expected-of-run': ['stranded'],
  // Where nobody counted them, the mains of the recorded panels are.
  'service.number-of-disconnects': ['disconnects'],
  // Seven years from manufacture are assumed where the maker states none, and the verdict says so.
  'alarms.replacement': ['makerLifeYears', 'coLifeYears', 'labelText', 'endOfLifeSounding'],
  // Heat marks are seen beside what is judged.
  'lighting.lamp-watts': ['condition'],
  'surge.indicator': ['lifeYears'],
  // Nothing is ahead of the service disconnect at a sub-panel or an outlet.
  'surge.type': ['lineSide'],
}

test('knowing less never turns a finding, or what is open, into a pass', () => {
  fc.assert(
    fc.property(
      anyPiece,
      anyHome,
      fc.nat(),
      fc.constantFrom(...EDITIONS),
      (piece, others, which, edition) => {
        const names = Object.keys(piece.details)
        fc.pre(names.length > 0)
        const forgotten = names[which % names.length]!
        const details = Object.fromEntries(
          Object.entries(piece.details).filter(([name]) => name !== forgotten),
        )
        expect(EQUIPMENT_FIELDS[piece.kind]).toHaveProperty(forgotten)
        const judge = (each: Equipment) =>
          judgeEquipment(withPiece(others, each), each, under(edition), TODAY)
        const known = judge(piece)
        judge({ ...piece, details } as Equipment).forEach((verdict, i) => {
          const before = known[i]!.outcome
          const isPass = verdict.outcome === 'sound' && (before === 'finding' || before === 'undetermined')
          if (isPass) expect(ORDINARY_WHEN_LEFT_OUT[verdict.rule] ?? [], verdict.rule).toContain(forgotten)
        })
      },
    ),
    { numRuns: 250 },
  )
})
