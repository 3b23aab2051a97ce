import { EVERY_PRINTING } from '../conductors/ampacity-tables.ts'
import { ampacity } from '../conductors/ampacity.ts'
import { dwellingAmpsNeeded, dwellingRuleCovers } from '../conductors/dwelling.ts'
import { CONDUCTOR_MATERIALS, sizeLabel } from '../conductors/sizes.ts'
import type { Edition, RuleContext } from '../editions.ts'
import { type Basis, EDITION_MISSING, finding, sound, undetermined } from '../judging.ts'
import { inEveryEdition } from '../nec.ts'
import type { Verdict } from '../verdict.ts'
import {
  type MainConductors,
  mainFigures,
  mainProtection,
  type MainProtection,
  mainReferences,
} from './main-conductors.ts'
import { exceedsInsulation } from './standard-ratings.ts'

/** Large conductors as recorded: null where a detail is not known, with the words of the form to ask for it. */
export interface MainCase {
  rule: string
  inputs: Basis['inputs']
  /** `a 200 A main breaker`. */
  device: string
  /** `service conductors`, as the homeowner's sentence names them. */
  conductors: string
  deviceAmps: number
  size: MainConductors['size']
  material: MainConductors['material']
  /** `unknown` where nobody looked; null where the equipment is not marked. */
  terminalC: MainConductors['terminalC'] | 'unknown'
  underDwellingRule: boolean | null
  words: { terminalC: string; underDwellingRule: string }
}

interface Tried {
  conductors: MainConductors
  found: MainProtection
  edition: Edition
}

/** Worst and best reading of what is not recorded; both clocks decide how grave a shortfall is. */
export function judgeMain(main: MainCase, context: RuleContext): Verdict {
  const basis: Basis = { rule: main.rule, inputs: main.inputs, references: [], ...inEveryEdition(context) }
  const editions = context.editionNow ? [context.editionNow] : EVERY_PRINTING
  const least = lowest(editions.map((edition) => tried(main, 'least', edition)))
  const most = highest(editions.map((edition) => tried(main, 'most', edition)))
  const subject = `${sizeLabel(main.size)} ${CONDUCTOR_MATERIALS[main.material].toLowerCase()} under ${main.device}`
  const shown = (at: Tried): Basis => ({
    ...basis,
    references: mainReferences(at.conductors, at.found, context.editionNow),
    figures: mainFigures(at.conductors, at.found),
  })

  if (fits(least)) {
    const by = least.found.decidedBy === 'dwelling-rule' ? ' for a whole dwelling' : ''
    return sound(shown(least), {
      technician: `${subject}: up to ${least.found.largestDevice} A${by}.`,
      homeowner: `The ${main.conductors} are thick enough for what protects them.`,
    })
  }
  if (fits(most)) return undetermined(shown(least), decisive(main, editions))
  if (most.found.ampacityAmps === 0) {
    return finding(shown(most), 'investigate', {
      technician: `${subject}: the table has no such conductor; check size and material.`,
      homeowner: `The ${main.conductors} are of a kind that we need to look closer at.`,
    })
  }
  return overloaded(shown(most), main, most, subject, context)
}

function overloaded(
  basis: Basis,
  main: MainCase,
  most: Tried,
  subject: string,
  context: RuleContext,
): Verdict {
  const technician = `${subject}: ${most.found.largestDevice} A at most`
  const insulationAmps = ampacity(main.size, main.material, 90, most.edition) ?? 0
  const tooThin = `The ${main.conductors} are thinner than what protects them allows`
  // A whole dwelling never draws its rating for long: the dwelling rule grants that, and so does the measure of unsafe.
  const isWholeDwelling =
    most.conductors.underDwellingRule && dwellingRuleCovers(main.deviceAmps, most.edition)
  const drawnAmps = isWholeDwelling ? dwellingAmpsNeeded(main.deviceAmps) : main.deviceAmps
  if (exceedsInsulation(drawnAmps, insulationAmps, most.edition)) {
    return finding(basis, 'unsafe', {
      technician: `${technician}; more than even 90 °C insulation bears (${insulationAmps} A).`,
      homeowner: `${tooThin}: under full load they can overheat.`,
    })
  }
  const built = context.editionWhenBuilt && tried(main, 'least', context.editionWhenBuilt)
  if (built && fits(built)) {
    return finding(basis, 'improve', {
      technician: `${technician} would be required in new work; ${main.deviceAmps} A was allowed when built.`,
      homeowner: `The ${main.conductors} were right when they were put in. In new work thicker ones are used.`,
    })
  }
  return finding(basis, 'repair', {
    technician: `${technician}.`,
    homeowner: `${tooThin}; a smaller breaker or thicker wires put that right.`,
  })
}

function tried(
  main: MainCase,
  bound: 'least' | 'most',
  edition: Edition,
  known: Partial<MainCase> = {},
): Tried {
  const { terminalC, underDwellingRule } = { ...main, ...known }
  const conductors: MainConductors = {
    deviceAmps: main.deviceAmps,
    size: main.size,
    material: main.material,
    terminalC: terminalC === 'unknown' ? (bound === 'least' ? null : 75) : terminalC,
    underDwellingRule: underDwellingRule ?? bound === 'most',
  }
  return { conductors, found: mainProtection(conductors, edition), edition }
}

function fits({ conductors, found }: Tried): boolean {
  return conductors.deviceAmps <= found.permittedAmps
}

function lowest(cases: Tried[]): Tried {
  return cases.reduce((a, b) => (b.found.permittedAmps < a.found.permittedAmps ? b : a))
}

function highest(cases: Tried[]): Tried {
  return cases.reduce((a, b) => (b.found.permittedAmps > a.found.permittedAmps ? b : a))
}

/** The details that could turn the answer: those without which the best reading fails; with none of them the edition. */
function decisive(main: MainCase, editions: readonly Edition[]): string[] {
  const turns = (known: Partial<MainCase>) =>
    editions.some(
      (edition) => fits(tried(main, 'most', edition)) && !fits(tried(main, 'most', edition, known)),
    )
  const missing: string[] = []
  if (main.terminalC === 'unknown' && turns({ terminalC: null })) missing.push(main.words.terminalC)
  if (main.underDwellingRule === null && turns({ underDwellingRule: false })) {
    missing.push(main.words.underDwellingRule)
  }
  return missing.length > 0 ? missing : [EDITION_MISSING]
}
