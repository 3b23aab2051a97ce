import type { ConductorMaterial } from '../conductors/sizes.ts'
import type { RuleContext } from '../editions.ts'
import { EQUIPMENT_FIELDS } from '../equipment.ts'
import { serviceConductors } from '../grounding/electrode-conductor.ts'
import { electrodeConductorFor } from '../grounding/electrode-conductor-table.ts'
import { missingOf } from '../judging.ts'
import type { Requirement } from '../requirement.ts'
import type { EquipmentRule } from '../rule.ts'
import type { Verdict } from '../verdict.ts'
import { type BondAsked, type BondInputs, bondInputs, judgeBond, type SizeWanted } from './bond.ts'
import { bondingJumperFor } from './jumper-size.ts'

/** The 2011 edition sized this bond from Table 250.66; since 2014 it is Table 250.102(C)(1), with the same sizes. */
export const WATER_PIPING_BOND: Requirement = {
  keys: ['bonding.water-pipe'],
  rows: [
    { since: '1978', required: true, article: '250-80(a)', source: 'from memory' },
    { since: '1999', required: true, article: '250.104(A)', source: 'NFPA 70-2011 250.104(A)' },
    { since: '2014', required: true, article: '250.104(A)(1)', source: 'NFPA 70-2023 250.104(A)(1)' },
  ],
  before: 'unknown',
}
/** The path to the electrode may not lean on a meter or a filter. */
export const WATER_METER_JUMPER: Requirement = {
  keys: ['bonding.water-meter'],
  rows: [
    { since: '1978', required: true, article: '250-81(a)', source: 'from memory' },
    { since: '1999', required: true, article: '250.53(D)(1)', source: 'NFPA 70 250.53(D)(1)' },
  ],
  before: 'unknown',
}

const waterPiping: BondAsked = {
  rule: 'bonding.water-pipe',
  of: 'water-pipe',
  requirement: WATER_PIPING_BOND,
  name: 'Water piping bond',
  homeowner: {
    sound: 'Your metal water pipes are tied to the electrical system, as they should be.',
    absent: 'Your metal water pipes are not tied to the electrical system; a fault could make them live.',
    poor: 'The tie between your metal water pipes and the electrical system should be made better.',
  },
}
const waterMeter: BondAsked = {
  rule: 'bonding.water-meter',
  of: 'water-meter',
  requirement: WATER_METER_JUMPER,
  name: 'Jumper round the water meter',
  homeowner: {
    sound: 'A wire joins the pipe on both sides of the water meter.',
    absent:
      'No wire joins the pipe on both sides of the water meter; taking the meter out cuts the earth path.',
    poor: 'The wire that joins the pipe on both sides of the water meter should be made better.',
  },
}

export function judgeWaterPipingBond(inputs: BondInputs, context: RuleContext): Verdict {
  return judgeBond(
    waterPiping,
    inputs,
    (material) =>
      byService(inputs, (service) => ({
        size: bondingJumperFor(service, material)!,
        article: 'Table 250.102(C)(1)',
        row: `service conductors ${service.size} ${service.material}`,
      })),
    context,
  )
}

export function judgeWaterMeterJumper(inputs: BondInputs, context: RuleContext): Verdict {
  return judgeBond(
    waterMeter,
    inputs,
    (material) => byService(inputs, (service) => electrodeConductorFor(service, material)),
    context,
  )
}

function byService(
  { serviceMaterial: material, serviceSize: size }: BondInputs,
  wanted: (service: {
    material: ConductorMaterial
    size: NonNullable<BondInputs['serviceSize']>
  }) => SizeWanted,
): SizeWanted {
  if (material && size) return wanted({ material, size })
  return {
    missing: missingOf(EQUIPMENT_FIELDS.service, { conductorMaterial: material, conductorSize: size }, [
      'conductorMaterial',
      'conductorSize',
    ]),
  }
}

function rule(
  asked: BondAsked,
  title: string,
  judge: (inputs: BondInputs, context: RuleContext) => Verdict,
): EquipmentRule<'bond', BondInputs> {
  return {
    id: asked.rule,
    title,
    kind: 'bond',
    watches: ['service'],
    inputs: ({ details }, home) => ({ ...bondInputs(details), ...serviceConductors(home) }),
    judge,
  }
}

export const waterPipingBond = rule(waterPiping, 'Bond of the water piping', judgeWaterPipingBond)
export const waterMeterJumper = rule(
  waterMeter,
  'Both sides of the water meter joined',
  judgeWaterMeterJumper,
)
