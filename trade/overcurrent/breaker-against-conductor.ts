import { AMPACITY_ARTICLE, EVERY_PRINTING } from '../conductors/ampacity-tables.ts'
import type { ColumnC } from '../conductors/ampacity.ts'
import { AMBIENT_ARTICLE, BUNDLING_ARTICLE } from '../conductors/factors.ts'
import { CONDUCTOR_MATERIALS, sizeLabel } from '../conductors/sizes.ts'
import { SMALL_CONDUCTOR_ARTICLE } from '../conductors/small-conductors.ts'
import type { RuleContext } from '../editions.ts'
import { type DetailsOf, EQUIPMENT_FIELDS } from '../equipment.ts'
import { inUse } from '../home.ts'
import {
  type Basis,
  EDITION_MISSING,
  finding,
  missingOf,
  notApplicable,
  sound,
  undetermined,
} from '../judging.ts'
import { inEveryEdition, nec } from '../nec.ts'
import type { EquipmentRule } from '../rule.ts'
import type { Figure, Reference, Verdict } from '../verdict.ts'
import { isUnderNameplate, mayNameplateRescue, NAMEPLATE_ARTICLE, nameplateStanding } from './nameplate.ts'
import { atMost, burns, overfused } from './overfused.ts'
import { decisiveDetails, type ProtectedRun, type Protection, protectionBounds } from './protection.ts'
import { anAmps } from './words.ts'

const FIELDS = EQUIPMENT_FIELDS.circuit
const RULE = 'overcurrent.breaker-against-conductor'

type Circuit = DetailsOf<'circuit'>
export interface BreakerInputs extends Pick<
  Circuit,
  | 'ratingAmps'
  | 'device'
  | 'material'
  | 'size'
  | 'wiring'
  | 'insulationC'
  | 'terminalC'
  | 'ambientC'
  | 'bundled'
  | 'serves'
  | 'nameplateMinimumCircuitAmps'
  | 'nameplateMaximumDeviceAmps'
> {
  /** A recorded sub-panel hangs on it: judged there, with what is known of that feeder. */
  feedsRecordedPanel?: boolean
}

/** Branch circuits with several receptacles for plugged-in loads: no next size up, NFPA 70 240.4(B)(1), from memory. */
const SEVERAL_RECEPTACLES: readonly Circuit['serves'][] = [
  'receptacles',
  'lighting-and-receptacles',
  'small-appliance',
  'laundry',
  'bathroom',
]

/** The circuit as the protection tables want it; null while size, material or rating is unknown. */
function protectedRun(inputs: BreakerInputs): ProtectedRun | null {
  const { ratingAmps, material, size, serves } = inputs
  if (ratingAmps == null || !material || !size) return null
  return {
    deviceAmps: ratingAmps,
    material,
    size,
    wiring: inputs.wiring,
    ambientC: inputs.ambientC,
    bundled: inputs.bundled,
    insulationC: inputs.insulationC ? (Number(inputs.insulationC) as ColumnC) : null,
    terminalC: inputs.terminalC ? (Number(inputs.terminalC) as 60 | 75) : null,
    feedsSeveralReceptacles: serves ? SEVERAL_RECEPTACLES.includes(serves) : null,
  }
}

/**
 * Whether the breaker or fuse protects its conductor: small-conductor limits, ampacity at the terminals after ambient
 * and bundling, next size up; a recorded nameplate decides for motors, air conditioners and heat pumps.
 */
export function judgeBreaker(inputs: BreakerInputs, context: RuleContext): Verdict {
  const { whenBuilt, today } = inEveryEdition(context)
  const basis: Basis = { rule: RULE, inputs: { ...inputs }, references: [], whenBuilt, today }
  if (inputs.feedsRecordedPanel) return notApplicable(basis, 'a feeder, judged with the sub-panel it feeds')
  if (inputs.serves === 'spare' && !inputs.size) return notApplicable(basis, 'a spare without a conductor')
  const run = protectedRun(inputs)
  if (!run) return undetermined(basis, missingOf(FIELDS, inputs, ['ratingAmps', 'material', 'size']))
  return judgeRun(basis, run, inputs, context)
}

function judgeRun(basis: Basis, run: ProtectedRun, inputs: BreakerInputs, context: RuleContext): Verdict {
  const device = inputs.device === 'fuse' ? 'fuse' : 'breaker'
  const subject = `${conductorName(run)} under ${anAmps(run.deviceAmps)} ${device}`
  const editions = context.editionNow ? [context.editionNow] : EVERY_PRINTING
  const { least, most } = protectionBounds(run, editions)
  const fits = (protection: Protection) => run.deviceAmps <= protection.permittedAmps
  const { serves, nameplateMinimumCircuitAmps: minimum, nameplateMaximumDeviceAmps: maximum } = inputs
  const underNameplate = isUnderNameplate(serves)
  const shown = (protection: Protection) => withProtection(basis, run, protection, context)
  const byPlate = (protection: Protection): Basis => {
    const general = shown(protection)
    return { ...general, references: [nec(NAMEPLATE_ARTICLE, context.editionNow), ...general.references] }
  }

  const plate = nameplateStanding(inputs, least, most)
  if (plate.kind === 'broken') {
    const isPlateToDecide = underNameplate && maximum != null
    return finding(byPlate(most), !isPlateToDecide && burns(run, editions) ? 'unsafe' : 'repair', {
      ...plate.words,
      technician: `${subject}: ${plate.words.technician}`,
    })
  }
  const isPlateWhole = underNameplate && minimum != null && maximum != null
  if (!isPlateWhole && !fits(most)) {
    if (underNameplate && mayNameplateRescue(serves!, run.deviceAmps, most.run.amps)) {
      const plateFields = ['nameplateMinimumCircuitAmps', 'nameplateMaximumDeviceAmps'] as const
      return undetermined(byPlate(most), missingOf(FIELDS, inputs, plateFields))
    }
    return overfused(shown(most), run, most, { subject, device }, { ...context, editions })
  }
  if (plate.kind === 'open') return undetermined(byPlate(least), orEdition(plate.missing))
  if (isPlateWhole) {
    return sound(byPlate(least), {
      technician: `${subject}: the nameplate allows ${maximum} A and asks for ${minimum} A of conductor.`,
      homeowner: 'The breaker and the wire suit what the equipment’s nameplate asks for.',
    })
  }
  if (fits(least)) {
    return sound(shown(least), {
      technician: `${subject}: up to ${atMost(least)} A.`,
      homeowner: `This ${device} suits the wire it protects.`,
    })
  }
  const decisive = decisiveDetails(run, editions, fits)
  const missing = decisive.map((name) => FIELDS[name === 'feedsSeveralReceptacles' ? 'serves' : name].label)
  return undetermined(shown(least), orEdition(missing))
}

/** Where no detail of the circuit decides, the printing of the table does. */
function orEdition(missing: string[]): string[] {
  return missing.length > 0 ? missing : [EDITION_MISSING]
}

function conductorName({ size, material }: ProtectedRun): string {
  return `${sizeLabel(size)} ${CONDUCTOR_MATERIALS[material].toLowerCase()}`
}

const LIMITED_BY_ARTICLE = {
  'small-conductor': SMALL_CONDUCTOR_ARTICLE,
  'next-size-up': '240.4(B)',
  ampacity: '240.4',
} as const

function withProtection(
  basis: Basis,
  run: ProtectedRun,
  protection: Protection,
  context: RuleContext,
): Basis {
  const edition = context.editionNow
  const { run: found, limitedBy } = protection
  const figures: Figure[] = [
    { label: 'Device', value: run.deviceAmps, unit: 'A' },
    { label: 'Ampacity in the table', value: found.tableAmps, unit: 'A' },
    { label: 'Ambient factor', value: found.ambientFactor, unit: 'count' },
    { label: 'Bundling factor', value: found.bundlingFactor, unit: 'count' },
    { label: 'Usable ampacity', value: found.amps, unit: 'A' },
    { label: 'Largest device', value: protection.permittedAmps, unit: 'A' },
  ]
  const limitRow = limitedBy === 'small-conductor' ? sizeLabel(run.size) : undefined
  const references: Reference[] = [
    nec(LIMITED_BY_ARTICLE[limitedBy], edition, limitRow),
    nec(AMPACITY_ARTICLE, edition, conductorName(run)),
    nec('110.14(C)(1)', edition, `${found.terminalC} °C terminals`),
  ]
  if (run.ambientC != null) references.push(nec(AMBIENT_ARTICLE, edition, `${run.ambientC} °C`))
  if (run.bundled != null) references.push(nec(BUNDLING_ARTICLE, edition, `${run.bundled} conductors`))
  if (run.wiring === 'nm') references.push(nec('334.80', edition))
  const { rule, inputs, whenBuilt, today } = basis
  return { rule, inputs, references, figures, whenBuilt, today }
}

export const breakerAgainstConductor: EquipmentRule<'circuit', BreakerInputs> = {
  id: RULE,
  title: 'Breaker or fuse against its conductor',
  kind: 'circuit',
  watches: ['panel'],
  inputs: ({ id, details }, home) => ({
    ratingAmps: details.ratingAmps,
    device: details.device,
    material: details.material,
    size: details.size,
    wiring: details.wiring,
    insulationC: details.insulationC,
    terminalC: details.terminalC,
    ambientC: details.ambientC,
    bundled: details.bundled,
    serves: details.serves,
    nameplateMinimumCircuitAmps: details.nameplateMinimumCircuitAmps,
    nameplateMaximumDeviceAmps: details.nameplateMaximumDeviceAmps,
    feedsRecordedPanel: inUse(home, 'panel').some((panel) => panel.parentId === id),
  }),
  judge: judgeBreaker,
}
