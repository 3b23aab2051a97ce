import type { RuleContext } from '../editions.ts'
import { type DetailsOf, EQUIPMENT_FIELDS } from '../equipment.ts'
import { type Home, inUse } from '../home.ts'
import { missingOf, notApplicable, undetermined } from '../judging.ts'
import { inEveryEdition } from '../nec.ts'
import { judgeMain } from '../overcurrent/judge-main.ts'
import { anAmps } from '../overcurrent/words.ts'
import type { EquipmentRule } from '../rule.ts'
import type { Verdict } from '../verdict.ts'

const FIELDS = EQUIPMENT_FIELDS.service
const PANEL_FIELDS = EQUIPMENT_FIELDS.panel
const RATING = 'service.rating-against-conductors'
const MAIN = 'service.main-against-conductors'

type Service = DetailsOf<'service'>
export type ServiceConductorInputs = Pick<
  Service,
  'ratingAmps' | 'conductorMaterial' | 'conductorSize' | 'conductorsCorrected'
>

/** Service equipment is marked for 75 °C terminals; common practice, no source. */
const SERVICE_TERMINAL_C = 75
const HOW_CORRECTED = 'How hot the run gets and how many conductors lie together in it'

/**
 * Service conductors carry the whole dwelling, so 83 % of the rating is enough: of their ampacity as it is where they
 * lie (NFPA 70-2020 310.12(A)). A hot or bundled run lowers that by how much nobody recorded, so conductors pass only
 * where the run is known to be neither, and fall short where even the printed ampacity is too little.
 */
function judgeServiceConductors(
  rule: string,
  deviceAmps: number,
  device: string,
  inputs: ServiceConductorInputs,
  context: RuleContext,
): Verdict {
  const verdict = judgeMain(
    {
      rule,
      inputs,
      device,
      conductors: 'wires from the utility to the panel',
      deviceAmps,
      size: inputs.conductorSize!,
      material: inputs.conductorMaterial!,
      terminalC: SERVICE_TERMINAL_C,
      underDwellingRule: true,
      words: { terminalC: '', underDwellingRule: '' },
    },
    context,
  )
  if (inputs.conductorsCorrected === false || verdict.outcome !== 'sound') return verdict
  const { references, figures } = verdict
  const basis = { rule, inputs, references, figures, ...inEveryEdition(context) }
  return undetermined(
    basis,
    inputs.conductorsCorrected ? [HOW_CORRECTED] : missingOf(FIELDS, inputs, ['conductorsCorrected']),
  )
}

/** The rating on the service against the conductors that feed it. */
export function judgeServiceRating(inputs: ServiceConductorInputs, context: RuleContext): Verdict {
  const missing = missingOf(FIELDS, inputs, ['ratingAmps', 'conductorMaterial', 'conductorSize'])
  if (missing.length > 0) {
    return undetermined({ rule: RATING, inputs, references: [], ...inEveryEdition(context) }, missing)
  }
  const rating = inputs.ratingAmps!
  return judgeServiceConductors(RATING, rating, `${anAmps(rating)} service`, inputs, context)
}

export const ratingAgainstConductors: EquipmentRule<'service', ServiceConductorInputs> = {
  id: RATING,
  title: 'Service rating against its conductors',
  kind: 'service',
  inputs: ({ details }) => serviceConductors(details),
  judge: judgeServiceRating,
}

function serviceConductors(details: Service): ServiceConductorInputs {
  const { ratingAmps, conductorMaterial, conductorSize, conductorsCorrected } = details
  return { ratingAmps, conductorMaterial, conductorSize, conductorsCorrected }
}

export interface MainBreakerInputs extends Omit<ServiceConductorInputs, 'ratingAmps'> {
  role: DetailsOf<'panel'>['role']
  mainAmps: DetailsOf<'panel'>['mainAmps']
  splitBus: DetailsOf<'panel'>['splitBus']
}

/** The main breaker in the service panel against the service conductors. */
export function judgeMainBreaker(inputs: MainBreakerInputs, context: RuleContext): Verdict {
  const basis = { rule: MAIN, inputs: { ...inputs }, references: [], ...inEveryEdition(context) }
  if (inputs.role === 'sub-panel') return notApplicable(basis, 'a sub-panel, judged against its feeder')
  if (inputs.splitBus) return notApplicable(basis, 'a split bus has no single main breaker')
  const missing = [
    ...missingOf(PANEL_FIELDS, inputs, ['role', 'mainAmps']),
    ...missingOf(FIELDS, inputs, ['conductorMaterial', 'conductorSize']),
  ]
  if (missing.length > 0) return undetermined(basis, missing)
  const main = inputs.mainAmps!
  return judgeServiceConductors(MAIN, main, `${anAmps(main)} main breaker`, inputs, context)
}

export const mainAgainstConductors: EquipmentRule<'panel', MainBreakerInputs> = {
  id: MAIN,
  title: 'Main breaker against the service conductors',
  kind: 'panel',
  watches: ['service'],
  inputs: ({ details: { role, mainAmps, splitBus } }, home) => ({
    role,
    mainAmps,
    splitBus,
    ...conductorsOf(home),
  }),
  judge: judgeMainBreaker,
}

/** With several services nobody can tell which one feeds the panel, so nothing is taken from either. */
function conductorsOf(home: Home): Omit<ServiceConductorInputs, 'ratingAmps'> {
  const services = inUse(home, 'service')
  const details: Service = services.length === 1 ? services[0]!.details : {}
  const { conductorMaterial, conductorSize, conductorsCorrected } = details
  return { conductorMaterial, conductorSize, conductorsCorrected }
}
