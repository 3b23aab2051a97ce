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
  tidy,
  undetermined,
} from '../judging.ts'
import { inEveryEdition, nec } from '../nec.ts'
import type { EquipmentRule } from '../rule.ts'
import type { Figure, Verdict } from '../verdict.ts'
import { mayNameplateRescue, NAMEPLATE_ARTICLE, NAMEPLATE_LOADS, nameplateShortfall } from './nameplate.ts'
import { decisiveDetails, type ProtectedRun, type Protection, protectionBounds } from './protection.ts'
import { exceedsInsulation, standardRatingUpTo } from './standard-ratings.ts'

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
export function protectedRun(inputs: BreakerInputs): ProtectedRun | null {
  const { ratingAmps, material, size, serves } = inputs
  if (ratingAmps == null || !material || !size) return null
  return {
    deviceAmps: ratingAmps,
    material,
    size,
    wiring: inputs.wiring,
    ambientC: inputs.ambientC ?? null,
    bundled: inputs.bundled ?? null,
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
  const basis: Basis = { rule: RULE, inputs: { ...inputs }, references: [], ...inEveryEdition(context) }
  if (inputs.feedsRecordedPanel) return notApplicable(basis, 'a feeder, judged with the sub-panel it feeds')
  if (inputs.serves === 'spare' && !inputs.size) return notApplicable(basis, 'a spare without a conductor')
  const run = protectedRun(inputs)
  if (!run) return undetermined(basis, missingOf(FIELDS, inputs, ['ratingAmps', 'material', 'size']))

  const device = inputs.device === 'fuse' ? 'fuse' : 'breaker'
  const subject = `${sizeLabel(run.size)} ${CONDUCTOR_MATERIALS[run.material].toLowerCase()} under a ${run.deviceAmps} A ${device}`
  const editions = context.editionNow ? [context.editionNow] : EVERY_PRINTING
  const { least, most } = protectionBounds(run, editions)
  const fits = (protection: Protection) => run.deviceAmps <= protection.permittedAmps
  const underNameplate = Boolean(inputs.serves && NAMEPLATE_LOADS.has(inputs.serves))

  const shortfall = nameplateShortfall(inputs, least, most)
  if (shortfall) {
    const shown = withProtection(basis, run, most, context, true)
    if ('missing' in shortfall) {
      return undetermined(shown, shortfall.missing.length > 0 ? shortfall.missing : [EDITION_MISSING])
    }
    return finding(shown, 'repair', { ...shortfall, technician: `${subject}: ${shortfall.technician}` })
  }
  const { nameplateMinimumCircuitAmps: minimum, nameplateMaximumDeviceAmps: maximum } = inputs
  if (underNameplate && minimum != null && maximum != null) {
    return sound(withProtection(basis, run, least, context, true), {
      technician: `${subject}: the nameplate allows ${maximum} A and asks for ${minimum} A of conductor.`,
      homeowner: 'The breaker and the wire suit what the equipment’s nameplate asks for.',
    })
  }
  if (fits(least)) {
    return sound(withProtection(basis, run, least, context), {
      technician: `${subject}: up to ${atMost(least)} A.`,
      homeowner: `This ${device} suits the wire it protects.`,
    })
  }
  if (fits(most)) {
    const decisive = decisiveDetails(run, editions[0]!, fits)
    const missing = decisive.map((name) => FIELDS[name === 'feedsSeveralReceptacles' ? 'serves' : name].label)
    if (missing.length === 0) missing.push(EDITION_MISSING)
    return undetermined(withProtection(basis, run, least, context), missing)
  }
  if (underNameplate && mayNameplateRescue(inputs.serves!, run.deviceAmps, most.run.amps)) {
    return undetermined(
      withProtection(basis, run, most, context, true),
      missingOf(FIELDS, inputs, ['nameplateMinimumCircuitAmps', 'nameplateMaximumDeviceAmps']),
    )
  }
  return overfused(withProtection(basis, run, most, context), run, most, { subject, device }, context)
}

function overfused(
  basis: Basis,
  run: ProtectedRun,
  most: Protection,
  { subject, device }: { subject: string; device: string },
  context: RuleContext,
): Verdict {
  if (most.run.ambientFactor === 0) {
    return finding(basis, 'repair', {
      technician: `${subject}: ${run.ambientC} °C is hotter than its insulation is rated for.`,
      homeowner: 'This wire runs through a place that is too hot for it; its covering will age early.',
    })
  }
  if (most.permittedAmps === 0) {
    return finding(basis, 'investigate', {
      technician: `${subject}: the table has no such conductor; check size and material (tinned copper?).`,
      homeowner: 'This wire is of a kind that is not used for house wiring; we need to look closer at it.',
    })
  }
  const technician = `${subject}: ${atMost(most)} A at most`
  if (exceedsInsulation(run.deviceAmps, most.run.insulationAmps, most.edition)) {
    return finding(basis, 'unsafe', {
      technician: `${technician}; more than the insulation itself bears (${tidy(most.run.insulationAmps)} A).`,
      homeowner: `This ${device} lets more current through than the wire can bear: it can overheat before the ${device} switches off.`,
    })
  }
  const built = context.editionWhenBuilt && protectionBounds(run, [context.editionWhenBuilt])
  if (built && run.deviceAmps <= built.least.permittedAmps) {
    return finding(basis, 'improve', {
      technician: `${technician} would be required in new work; ${atMost(built.least)} A was allowed when built.`,
      homeowner: `This ${device} was right when it was put in. In new work a smaller one is used for such a wire.`,
    })
  }
  return finding(basis, 'repair', {
    technician: `${technician}.`,
    homeowner: `This ${device} is larger than its wire allows, so the wire could run hot before the ${device} switches off. A smaller one, or a thicker wire, puts it right.`,
  })
}

/** The largest standard rating that is permitted. */
function atMost({ permittedAmps, edition }: Protection): number {
  return standardRatingUpTo(permittedAmps, edition) ?? permittedAmps
}

function withProtection(
  basis: Basis,
  run: ProtectedRun,
  protection: Protection,
  context: RuleContext,
  byNameplate = false,
): Basis {
  const edition = context.editionNow
  const { run: found } = protection
  const figures: Figure[] = [
    { label: 'Device', value: run.deviceAmps, unit: 'A' },
    { label: 'Ampacity in the table', value: found.tableAmps, unit: 'A' },
    { label: 'Ambient factor', value: found.ambientFactor, unit: 'count' },
    { label: 'Bundling factor', value: found.bundlingFactor, unit: 'count' },
    { label: 'Usable ampacity', value: found.amps, unit: 'A' },
    { label: 'Largest device', value: protection.permittedAmps, unit: 'A' },
  ]
  const references = [
    protection.limitedBy === 'small-conductor'
      ? nec(SMALL_CONDUCTOR_ARTICLE, edition, sizeLabel(run.size))
      : protection.limitedBy === 'next-size-up'
        ? nec('240.4(B)', edition)
        : nec('240.4', edition),
    nec(
      AMPACITY_ARTICLE,
      edition,
      `${sizeLabel(run.size)} ${CONDUCTOR_MATERIALS[run.material].toLowerCase()}`,
    ),
    nec('110.14(C)(1)', edition, `${found.terminalC} °C terminals`),
  ]
  if (run.ambientC != null) references.push(nec(AMBIENT_ARTICLE, edition, `${run.ambientC} °C`))
  if (run.bundled != null) references.push(nec(BUNDLING_ARTICLE, edition, `${run.bundled} conductors`))
  if (run.wiring === 'nm') references.push(nec('334.80', edition))
  if (byNameplate) references.unshift(nec(NAMEPLATE_ARTICLE, edition))
  return { ...basis, figures, references }
}

export const breakerAgainstConductor: EquipmentRule<'circuit', BreakerInputs> = {
  id: RULE,
  title: 'Breaker or fuse against its conductor',
  kind: 'circuit',
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
