import fc from 'fast-check'
import { expect, test, vi } from 'vitest'
import { CONDUCTOR_SIZES, sizeRank } from '../../../trade/conductors/sizes.ts'
import { day } from '../../../trade/dates.ts'
import { EDITIONS } from '../../../trade/editions.ts'
import { type Equipment, EQUIPMENT_FIELDS, type EquipmentKind } from '../../../trade/equipment.ts'
import type { Home } from '../../../trade/home.ts'
import { SEVERITIES, type Verdict } from '../../../trade/verdict.ts'
import { evaluateHome } from '../../../trade/whole-home/evaluate.ts'
import { allVerdicts } from '../../../trade/whole-home/verdicts.ts'
import { anyHome, anyWholeEquipmentOf } from '../../build/arbitrary-home.ts'

vi.setConfig({ testTimeout: 60_000 })

const SIZE_OPTIONS = Object.keys(EQUIPMENT_FIELDS.circuit.size.options)

/** Every detail of every kind of equipment that holds a conductor size. */
const CONDUCTORS = (Object.keys(EQUIPMENT_FIELDS) as EquipmentKind[]).flatMap((kind) =>
  Object.entries(EQUIPMENT_FIELDS[kind]).flatMap(([name, field]) =>
    field.type === 'choice' && Object.keys(field.options).join() === SIZE_OPTIONS.join()
      ? [[kind, name] as const]
      : [],
  ),
)

/** Rules that ask more of something else when this conductor is larger, each with its article. */
const SIZES_SOMETHING_ELSE: Readonly<Record<string, readonly string[]>> = {
  // 250.66, 250.102(C) and 250.104(A)(1): electrode conductor and water bond follow the service conductors.
  'service conductorSize': [
    'grounding.electrode-conductor',
    'grounding.electrode-conductor-at-electrode',
    'bonding.water-pipe',
    'bonding.water-meter',
  ],
  // 250.122(A) and (B): no grounding conductor need be larger than its circuit's, and it grows with a larger one.
  'circuit size': ['grounding.circuit-equipment-conductor'],
  'panel feederSize': ['grounding.feeder-equipment-conductor'],
}

/** Thinner ones than Table 310.16 prints are asked about rather than judged. */
const PRINTED = CONDUCTOR_SIZES.filter((size) => sizeRank(size) >= sizeRank('12'))

/** How bad a verdict is: nothing wrong, something open, then by severity. */
function gravityOf(verdict: Verdict): number {
  if (verdict.outcome === 'finding') return 1 + SEVERITIES.length - SEVERITIES.indexOf(verdict.severity)
  return verdict.outcome === 'undetermined' ? 1 : 0
}

test('the details that hold a conductor size are found', () => {
  expect(CONDUCTORS.map((each) => each.join(' '))).toEqual([
    'service conductorSize',
    'service electrodeConductorSize',
    'panel feederSize',
    'panel feederGroundSize',
    'circuit size',
    'circuit groundSize',
    'disconnect conductorSize',
    'electrode conductorSize',
    'bond conductorSize',
  ])
})

test.each(CONDUCTORS)('%s, %s: larger never makes any verdict about the home worse', (kind, name) => {
  const anySizes = fc.uniqueArray(fc.constantFrom(...PRINTED), { minLength: 2, maxLength: 2 })
  const anyPiece = anyWholeEquipmentOf(kind, fc.constant('this'))
  const allowed = SIZES_SOMETHING_ELSE[`${kind} ${name}`] ?? []
  fc.assert(
    fc.property(
      anyPiece,
      anyHome,
      anySizes,
      fc.constantFrom(...EDITIONS),
      (piece, others, sizes, edition) => {
        const jurisdiction = {
          name: 'Port Ansel',
          isUs: true,
          adoptions: [{ edition, from: day('1900-01-01') }],
          amendments: [],
        }
        const judge = (size: string | undefined) => {
          const sized = {
            ...piece,
            retiredOn: null,
            details: { ...piece.details, [name]: size },
          } as Equipment
          const home: Home = { ...others, equipment: [...others.equipment, sized] }
          return allVerdicts(evaluateHome(home, jurisdiction, day('2030-05-20')))
        }
        const [thin, thick] = sizes.toSorted(
          (a, b) => CONDUCTOR_SIZES.indexOf(a) - CONDUCTOR_SIZES.indexOf(b),
        )
        const before = judge(thin)
        judge(thick).forEach(({ verdict }, i) => {
          if (allowed.includes(verdict.rule)) return
          const was = before[i]!.verdict
          const said = `${verdict.rule}: ${was.technician} -> ${verdict.technician}`
          expect(gravityOf(verdict), said).toBeLessThanOrEqual(gravityOf(was))
        })
      },
    ),
    { numRuns: 50 },
  )
})
