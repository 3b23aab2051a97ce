import type { Severity } from '../../trade/verdict.ts'
import type { ReportContent, ReportFinding, Signed } from './content.ts'

// Words that the page and the PDF share.

const LONG_DAY = new Intl.DateTimeFormat('en-US', { dateStyle: 'long', timeZone: 'UTC' })

/** `June 1, 2026`. */
export function dayWords(day: string): string {
  return LONG_DAY.format(new Date(`${day}T00:00:00Z`))
}

/** `June 1, 2026 at 11:20 AM` where the home is. */
export function instantWords(instant: string, timeZone: string): string {
  return new Intl.DateTimeFormat('en-US', { dateStyle: 'long', timeStyle: 'short', timeZone })
    .format(new Date(instant))
    .replaceAll('\u202f', ' ')
}

/** `Robin Vale, June 1, 2026 at 11:20 AM`. */
export function signedBy({ name, at, when }: Signed): string {
  return `${name}, ${when ?? dayWords(at.slice(0, 10))}`
}

export const SEVERITY_NAMES: Readonly<Record<Severity, string>> = {
  unsafe: 'Unsafe',
  repair: 'Repair',
  investigate: 'Investigate',
  improve: 'Improve',
  watch: 'Watch',
}

export const TITLE = 'Electrical safety inspection'

export function addressWords({ property }: Pick<ReportContent, 'property'>): string {
  const { line1, line2, city, region, postcode } = property
  return [line1, line2, [city, region, postcode].filter(Boolean).join(' ')].filter(Boolean).join(', ')
}

export function factsOf(content: ReportContent): [string, string][] {
  const { inspection, property, jurisdiction } = content
  const edition = jurisdiction?.edition && `${jurisdiction.name}: NFPA 70-${jurisdiction.edition}`
  const facts: [string, string | null | undefined][] = [
    ['Inspected on', dayWords(inspection.inspectedOn)],
    ['Inspected by', inspection.technician],
    ['For', content.customer.name],
    ['Year built', property.yearBuilt?.toString()],
    ['Code in force', edition],
    ['Report', `Version ${content.version}, issued ${dayWords(content.issuedOn)} by ${content.issuedBy}`],
    ['Why a new version', content.version > 1 ? content.reason : null],
  ]
  return facts.filter((fact): fact is [string, string] => Boolean(fact[1]))
}

/** `Hall panel · Circuit`, or one of them where it says it all, as `Circuit 12` does. */
export function headingOf({ place, item }: Pick<ReportFinding, 'place' | 'item'>): string {
  return isNamedAfter(place, item) ? place : [place, item].filter(Boolean).join(' · ')
}

const isNamedAfter = (place: string, item: string) => place.toLowerCase().startsWith(item.toLowerCase())

/** What was found in a sentence for people: the rule's own, unless the technician said it otherwise than the rule. */
export function inBrief({ text, verdict }: ReportFinding): string {
  return verdict && text === verdict.technician ? verdict.homeowner : text
}

/** What else is said of a finding, each with the words before it. */
export function remarksOf(finding: ReportFinding): [string, string][] {
  const { refusal, verdict } = finding
  const remarks: [string, string | null | undefined][] = [
    ['Made safe', finding.makeSafe],
    ['In plain words', verdict?.homeowner],
    ['Why it matters', finding.why],
    ['What we propose', finding.correction],
    ['Look again by', finding.watchUntil && dayWords(finding.watchUntil)],
    ['Signed refusal', refusal && `${signedBy(refusal)}: “${refusal.statement}”`],
    ['When it was built', lawfulWords(finding)],
    ['Seen before', finding.carried ? `First found on ${dayWords(finding.foundOn)}.` : null],
    ['Rule', verdict && verdict.references.join('; ')],
  ]
  return remarks.filter((remark): remark is [string, string] => Boolean(remark[1]))
}

/** Lawful when built is no violation, and the report says exactly that. */
function lawfulWords({ severity, verdict }: ReportFinding): string | null {
  if (severity !== 'improve' || verdict?.requiredWhenBuilt !== 'no') return null
  return 'This was allowed when it was built. It is not a violation; new work would be done differently today.'
}

/** `Kitchen, Hall`, or `Alarm, hall; Alarm, kitchen` where a comma would not tell where one ends. */
export function inARow(names: readonly string[]): string {
  return names.join(names.some((name) => name.includes(',')) ? '; ' : ', ')
}

/** `Receptacle: Counter receptacle, Bench outlet`; places that say what they are stand alone. */
export function itemWords({ title, places }: { title: string; places: readonly string[] }): string {
  if (places.length === 0) return title
  return places.every((place) => isNamedAfter(place, title)) ? inARow(places) : `${title}: ${inARow(places)}`
}

/** A date that does not rest on what was read off the device says so. */
export function replaceWords({ replaceBy, assumed }: ReportContent['devices'][number]): string {
  if (!replaceBy) return ''
  return assumed ? `${dayWords(replaceBy)} (estimated)` : dayWords(replaceBy)
}

/** Largest first; only severities that occur. */
export function countsOf(content: ReportContent): { severity: Severity; count: number; name: string }[] {
  return content.findings.map(({ severity, findings }) => ({
    severity,
    count: findings.length,
    name: SEVERITY_NAMES[severity],
  }))
}

export function photoWords(finding: ReportFinding, caption: string): string {
  return caption || `Photo: ${headingOf(finding)}`
}

/** One line per reason: what the home does not have, and what was left out for it. */
export function leftOutByReason({ leftOut }: ReportContent): { reason: string; titles: string[] }[] {
  const byReason = new Map<string, string[]>()
  for (const { title, reason } of leftOut) {
    byReason.set(reason, [...(byReason.get(reason) ?? []), title])
  }
  return [...byReason].map(([reason, titles]) => ({ reason, titles }))
}
