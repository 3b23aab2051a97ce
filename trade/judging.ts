import type { Field, Fields } from './fields.ts'
import type { Clocks } from './requirement.ts'
import type { RuleContext } from './editions.ts'
import type {
  Figure,
  FindingVerdict,
  NotApplicableVerdict,
  Outcome,
  Reference,
  Required,
  Severity,
  SoundVerdict,
  UndeterminedVerdict,
  Verdict,
} from './verdict.ts'

type Given = Readonly<Record<string, string | number | boolean | null | undefined>>

/** What every verdict of one judgement shares. */
export interface Basis {
  rule: string
  inputs: Given
  references: Reference[]
  figures?: Figure[]
  /** Left out = unknown. */
  whenBuilt?: Required
  today?: Required
}
/** One sentence for the technician, one for the people who live there. */
export interface Words {
  technician: string
  homeowner: string
}

/**
 * Unknown inputs are shown as such. A home has thousands of verdicts, and in Node 20 `Object.assign` builds one twenty
 * times as fast as spreading does: here and in `finding` and its fellows.
 */
function shown(given: Given): Record<string, string | number | boolean | null> {
  const inputs: Record<string, string | number | boolean | null | undefined> = Object.assign({}, given)
  for (const name in inputs) if (inputs[name] === undefined) inputs[name] = null
  return inputs as Record<string, string | number | boolean | null>
}

function judged<Named extends Outcome>(outcome: Named, basis: Basis, words: Words) {
  return {
    outcome,
    rule: basis.rule,
    references: basis.references,
    inputs: shown(basis.inputs),
    figures: basis.figures ?? [],
    requiredWhenBuilt: basis.whenBuilt ?? 'unknown',
    requiredToday: basis.today ?? 'unknown',
    technician: words.technician,
    homeowner: words.homeowner,
  } as const
}

export function sound(basis: Basis, words: Words): SoundVerdict {
  return judged('sound', basis, words)
}

export function finding(basis: Basis, severity: Severity, words: Words): FindingVerdict {
  return Object.assign(judged('finding', basis, words), { severity })
}

export function undetermined(basis: Basis, missing: string[]): UndeterminedVerdict {
  const words = {
    technician: `Cannot be judged yet: ${missing.join('; ')} not known.`,
    homeowner: 'One detail is still to be found out before we can tell you about this.',
  }
  return Object.assign(judged('undetermined', basis, words), { missing })
}

export function notApplicable(basis: Basis, why: string): NotApplicableVerdict {
  const words = {
    technician: `Does not apply: ${why}.`,
    homeowner: 'This does not apply to your home.',
  }
  return Object.assign(judged('not-applicable', basis, words), { why })
}

export const EDITION_MISSING = 'Code edition in force'

/** The basis with both clocks of a requirement entered. */
export function onClocks(basis: Omit<Basis, 'references'>, clocks: Clocks, more: Reference[] = []): Basis {
  const { rule, inputs, figures } = basis
  const references = more.length > 0 ? [...clocks.references, ...more] : clocks.references.slice()
  return { rule, inputs, figures, references, whenBuilt: clocks.whenBuilt, today: clocks.today }
}

/**
 * A thing falls short of a requirement: graver when that was required as built, an improvement when only new work
 * needs it, undetermined when nobody knows which editions hold, no matter when none asks for it.
 */
export function shortfall(
  basis: Basis,
  context: RuleContext,
  words: Words,
  gravity: Severity = 'repair',
): Verdict {
  const { whenBuilt = 'unknown', today = 'unknown' } = basis
  const said = { ...words, technician: `${words.technician}; ${standingPhrase(whenBuilt, today, context)}.` }
  if (whenBuilt === 'yes') return finding(basis, gravity, said)
  if (today === 'yes') return finding(basis, 'improve', said)
  if (whenBuilt === 'unknown' || today === 'unknown') return undetermined(basis, [EDITION_MISSING])
  return notApplicable(basis, 'no edition in force asks for it')
}

/** Never "violation": what was lawful when built only *would be* required in new work. */
export function standingPhrase(whenBuilt: Required, today: Required, context: RuleContext): string {
  const newWork = context.editionNow
    ? `would be required in new work under the ${context.editionNow} edition`
    : 'would be required in new work here'
  if (whenBuilt === 'yes') return 'it was required when this was built'
  if (today !== 'yes') return 'not asked for in new work here'
  return whenBuilt === 'no' ? `${newWork}, not when this was built` : newWork
}

/** Labels of those fields that are not filled in, in the words of the form. */
export function missingOf<Names extends string>(
  fields: Readonly<Record<Names, Field>> & Fields,
  given: Readonly<Partial<Record<Names, unknown>>>,
  names: readonly Names[],
): string[] {
  return names.filter((name) => given[name] == null).map((name) => fields[name].label)
}

const TIDY_DIGITS = 3

/** `5.59`, `0.025`, `8`: a figure as a person would write it. */
export function tidy(value: number): string {
  return String(Number(value.toPrecision(TIDY_DIGITS)))
}
