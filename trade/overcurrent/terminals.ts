import type { RuleContext } from '../editions.ts'
import { type DetailsOf, EQUIPMENT_FIELDS } from '../equipment.ts'
import {
  type Basis,
  finding,
  missingOf,
  notApplicable,
  onClocks,
  shortfall,
  sound,
  undetermined,
} from '../judging.ts'
import { inEveryEdition, nec } from '../nec.ts'
import { clocksOf, type Requirement } from '../requirement.ts'
import type { EquipmentRule } from '../rule.ts'
import type { Verdict } from '../verdict.ts'

const FIELDS = EQUIPMENT_FIELDS.circuit
const PER_TERMINAL = 'overcurrent.conductors-per-terminal'
const NEUTRALS = 'overcurrent.neutrals-per-terminal'

export type TerminalInputs = Pick<DetailsOf<'circuit'>, 'conductorsUnderTerminal' | 'terminalTakesMore'>

/** One conductor under a terminal unless it is marked for more, NFPA 70 110.14(A). */
export function judgeConductorsPerTerminal(inputs: TerminalInputs, context: RuleContext): Verdict {
  const { conductorsUnderTerminal: conductors, terminalTakesMore } = inputs
  const basis: Basis = {
    rule: PER_TERMINAL,
    inputs,
    references: [nec('110.14(A)', context.editionNow ?? context.editionWhenBuilt)],
    ...inEveryEdition(context),
  }
  if (conductors == null) return undetermined(basis, missingOf(FIELDS, inputs, ['conductorsUnderTerminal']))
  basis.figures = [{ label: 'Conductors under the terminal', value: conductors, unit: 'count' }]
  if (conductors === 0) return notApplicable(basis, 'no conductor under the breaker terminal')
  if (conductors === 1) {
    return sound(basis, {
      technician: 'One conductor under the terminal.',
      homeowner: 'The wire has its breaker’s terminal to itself, as it should.',
    })
  }
  if (terminalTakesMore == null) return undetermined(basis, missingOf(FIELDS, inputs, ['terminalTakesMore']))
  if (terminalTakesMore) {
    return sound(basis, {
      technician: `${conductors} conductors under a terminal marked for more than one.`,
      homeowner: 'Several wires share this terminal, and it is made for that.',
    })
  }
  return finding(basis, 'repair', {
    technician: `${conductors} conductors under a terminal made for one.`,
    homeowner:
      'Several wires share a terminal made for one. One of them can work loose and heat up; joining them in a splice cures it.',
  })
}

export const conductorsPerTerminal: EquipmentRule<'circuit', TerminalInputs> = {
  id: PER_TERMINAL,
  title: 'Conductors under the breaker terminal',
  kind: 'circuit',
  inputs: ({ details: { conductorsUnderTerminal, terminalTakesMore } }) => ({
    conductorsUnderTerminal,
    terminalTakesMore,
  }),
  judge: judgeConductorsPerTerminal,
}

const NEUTRAL_ALONE: Requirement = {
  keys: [NEUTRALS],
  rows: [
    {
      since: '2002',
      required: true,
      article: '408.41',
      row: 'each neutral in a terminal of its own',
      source: 'trade forum quoting the edition (408.21 in the 2002 printing, from memory)',
    },
  ],
  before: 'no',
}

export type NeutralInputs = Pick<DetailsOf<'circuit'>, 'neutralsUnderTerminal'>

export function judgeNeutralsPerTerminal(inputs: NeutralInputs, context: RuleContext): Verdict {
  const { neutralsUnderTerminal: neutrals } = inputs
  const basis = onClocks({ rule: NEUTRALS, inputs }, clocksOf(NEUTRAL_ALONE, context))
  if (neutrals == null) return undetermined(basis, missingOf(FIELDS, inputs, ['neutralsUnderTerminal']))
  basis.figures = [{ label: 'Neutrals under the terminal', value: neutrals, unit: 'count' }]
  if (neutrals === 0) return notApplicable(basis, 'no neutral under a terminal')
  if (neutrals === 1) {
    return sound(basis, {
      technician: 'One neutral under its terminal.',
      homeowner: 'The return wire has its terminal to itself, as it should.',
    })
  }
  return shortfall(basis, context, {
    technician: `${neutrals} neutrals under one terminal`,
    homeowner:
      'Several return wires share one terminal. When one is taken out the others can come loose; each is given its own.',
  })
}

export const neutralsPerTerminal: EquipmentRule<'circuit', NeutralInputs> = {
  id: NEUTRALS,
  title: 'Neutrals under one terminal',
  kind: 'circuit',
  inputs: ({ details: { neutralsUnderTerminal } }) => ({ neutralsUnderTerminal }),
  judge: judgeNeutralsPerTerminal,
}
