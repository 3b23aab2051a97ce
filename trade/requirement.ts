import { dayOf, type Day } from './dates.ts'
import { EDITIONS, isAtLeast, type Amendment, type Edition, type RuleContext } from './editions.ts'
import type { Reference, Required } from './verdict.ts'

/** From this edition on the matter is required, or no longer required, until the next row says otherwise. */
export interface RequirementRow {
  since: Edition
  required: boolean
  /** First day in force where the edition itself delays it. */
  effectiveOn?: Day
  article: string
  /** The condition, in our own words. */
  row?: string
  /** Where the row was seen; `from memory` where it was not. */
  source: string
}

export interface Requirement {
  /** Names under which a local amendment may change it, the whole rule first: `rule`, `rule/place`. */
  keys: readonly string[]
  /** Oldest first. */
  rows: readonly RequirementRow[]
  /** What holds in editions older than the first row: `unknown` where they were not looked up. */
  before: 'no' | 'unknown'
  /** `NFPA 70` unless another code asks for it. */
  code?: string
}

/** What a requirement asks on the two clocks, and where that stands in print. */
export interface Clocks {
  whenBuilt: Required
  today: Required
  references: readonly Reference[]
}

const NFPA_70 = 'NFPA 70'
/** An edition is issued in the year before the one on its cover (since 1975), so it cannot be in force earlier. */
const ISSUED_YEARS_BEFORE_COVER = 1
/** Longest an edition stayed adopted anywhere: the 2008 edition was still law in places in 2024. Common practice. */
const IN_FORCE_AT_MOST_YEARS = 20
/** A postponement outlives the edition it was made for by two cycles at most. Common practice, no source. */
const POSTPONED_AT_MOST_YEARS = 6

interface Standing {
  required: Required
  references: Reference[]
}

/** Answers already worked out. A context is never changed once made, and most requirements are constants. */
const known = new WeakMap<RuleContext, WeakMap<Requirement, Clocks>>()

/** Both clocks of one requirement. An unknown edition, or a build day that a change of law straddles, is `unknown`. */
export function clocksOf(requirement: Requirement, context: RuleContext): Clocks {
  let answers = known.get(context)
  if (!answers) known.set(context, (answers = new WeakMap()))
  let clocks = answers.get(requirement)
  if (!clocks) answers.set(requirement, (clocks = workOutClocks(requirement, context)))
  return clocks
}

function workOutClocks(requirement: Requirement, context: RuleContext): Clocks {
  const amendments = context.amendments.filter((each) => requirement.keys.includes(each.requirement))
  const today = standingOn(requirement, context.editionNow, context.today, amendments)
  const whenBuilt = standingWhenBuilt(requirement, context, amendments)
  const references = [
    ...(whenBuilt.required === 'yes' ? whenBuilt.references : []),
    ...(today.required === 'yes' ? today.references : []),
  ]
  if (references.length === 0) references.push(...today.references, firstReference(requirement))
  return {
    whenBuilt: whenBuilt.required,
    today: today.required,
    references: uniqueReferences(references),
  }
}

/** The row of the requirement that an edition prints, effective or not; null before the first. */
export function rowIn(requirement: Requirement, edition: Edition): RequirementRow | null {
  return requirement.rows.findLast((row) => isAtLeast(edition, row.since)) ?? null
}

function standingOn(
  requirement: Requirement,
  edition: Edition | null,
  on: Day,
  amendments: readonly Amendment[],
): Standing {
  const local = latestChange(amendments, on)
  const base: Standing = local
    ? { required: local.effect === 'add' ? 'yes' : 'no', references: [amendmentReference(local)] }
    : baseStanding(requirement, edition, on)
  const putOff = base.required === 'no' ? undefined : postponementOn(amendments, on)
  return putOff ? { required: 'no', references: [amendmentReference(putOff)] } : base
}

function baseStanding(requirement: Requirement, edition: Edition | null, on: Day): Standing {
  if (!edition) return { required: 'unknown', references: [] }
  const row = requirement.rows.findLast(
    (each) => isAtLeast(edition, each.since) && (!each.effectiveOn || each.effectiveOn <= on),
  )
  if (!row) {
    const delayed = rowIn(requirement, edition) !== null
    return { required: delayed ? 'no' : requirement.before, references: [] }
  }
  return { required: row.required ? 'yes' : 'no', references: [reference(requirement, row, edition)] }
}

/**
 * The build day is not known to a rule, only the edition. Every day on which that edition can have been in force is
 * asked, at the days where the answer can change; when they disagree nobody can tell.
 */
function standingWhenBuilt(
  requirement: Requirement,
  context: RuleContext,
  amendments: readonly Amendment[],
): Standing {
  const edition = context.editionWhenBuilt
  if (!edition) return { required: 'unknown', references: [] }
  const first = dayOf(Number(edition) - ISSUED_YEARS_BEFORE_COVER, 1, 1)
  const last = lastDayInForce(edition, context)
  const applicable = amendments.filter(
    (each) => each.effect !== 'postpone' || mayPostponeUnder(each, edition, context),
  )
  const turns = [
    ...applicable.map((each) => each.from),
    ...requirement.rows.flatMap((row) => row.effectiveOn ?? []),
  ].filter((on) => on > first && on <= last)
  const standings = [first, last, ...turns].map((on) => standingOn(requirement, edition, on, applicable))
  const answers = new Set(standings.map((each) => each.required))
  const sure = standings.at(-1)!
  return answers.size === 1 ? sure : { required: 'unknown', references: [] }
}

function lastDayInForce(edition: Edition, context: RuleContext): Day {
  if (!context.editionNow || edition >= context.editionNow) return context.today
  const limit = dayOf(Number(edition) + IN_FORCE_AT_MOST_YEARS, 12, 31)
  return limit < context.today ? limit : context.today
}

function mayPostponeUnder(amendment: Amendment, edition: Edition, context: RuleContext): boolean {
  if (edition === context.editionNow) return true
  return amendment.from <= dayOf(Number(edition) + POSTPONED_AT_MOST_YEARS, 12, 31)
}

/** The change in force on a day that began last; of two from the same day the stricter. */
function latestChange(amendments: readonly Amendment[], on: Day): Amendment | undefined {
  return amendments
    .filter((each) => each.effect !== 'postpone' && each.from <= on)
    .toSorted((a, b) => compare(a.from, b.from) || compare(b.effect, a.effect))
    .at(-1)
}

function postponementOn(amendments: readonly Amendment[], on: Day): Amendment | undefined {
  return amendments
    .filter((each) => each.effect === 'postpone' && each.from > on)
    .toSorted((a, b) => compare(a.from, b.from))
    .at(-1)
}

function compare(a: string, b: string): number {
  return a < b ? -1 : a > b ? 1 : 0
}

function reference(requirement: Requirement, row: RequirementRow, edition: Edition): Reference {
  const code = requirement.code ?? NFPA_70
  return {
    code,
    ...(code === NFPA_70 && { edition }),
    article: row.article,
    ...(row.row && { row: row.row }),
  }
}

function firstReference(requirement: Requirement): Reference {
  const first = requirement.rows.find((row) => row.required) ?? requirement.rows[0]!
  return reference(requirement, first, first.since)
}

const EFFECTS = { add: 'adds this from', remove: 'drops this from', postpone: 'puts this off to' } as const

function amendmentReference(amendment: Amendment): Reference {
  return { code: amendment.source, row: `local change ${EFFECTS[amendment.effect]} ${amendment.from}` }
}

export function uniqueReferences(references: readonly Reference[]): Reference[] {
  if (references.length < 2) return [...references]
  const seen = new Map<string, Reference>()
  for (const each of references) {
    seen.set(`${each.code}|${each.edition ?? ''}|${each.article ?? ''}|${each.row ?? ''}`, each)
  }
  return [...seen.values()]
}

const STRICTEST_FIRST: readonly Required[] = ['yes', 'unknown', 'no']

/** One requirement that asks is enough; `no` only when all of them say no. */
export function strictest(answers: readonly Required[]): Required {
  return STRICTEST_FIRST.find((each) => answers.includes(each)) ?? 'no'
}

/** A number or a name that changes by edition. */
export interface EditionRow<Value> {
  since: Edition
  value: Value
  source: string
}

/** The value that an edition prints; null before the first row, or where the edition is not known. */
export function valueIn<Value>(rows: readonly EditionRow<Value>[], edition: Edition | null): Value | null {
  if (!edition) return null
  return rows.findLast((row) => isAtLeast(edition, row.since))?.value ?? null
}

/** The newest edition this product knows figures for. */
export const NEWEST_EDITION = EDITIONS.at(-1)!
