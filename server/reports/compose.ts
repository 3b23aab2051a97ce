import { findAreaOf, findItem } from '../../trade/checklist/checklist.ts'
import { NOT_REACHED_REASONS } from '../../trade/checklist/item.ts'
import type { Day } from '../../trade/dates.ts'
import { editionInForce } from '../../trade/editions.ts'
import { REVIEW_OUTCOMES } from '../../trade/inspection/finding-states.ts'
import { lineKey } from '../../trade/inspection/lines.ts'
import type { Answer } from '../../trade/inspection/records.ts'
import {
  reportContents,
  type ReportContents,
  type ReportFinding as Ordered,
} from '../../trade/inspection/report-order.ts'
import type { DeviceDates } from '../../trade/inspection/report-devices.ts'
import type { Reference, Verdict } from '../../trade/verdict.ts'
import type { PhotoView } from '../inspections/record-schema.ts'
import type { WholeInspection } from '../inspections/record.ts'
import type { ReportContent, ReportFinding, ReportPhoto, Signed } from './content.ts'
import { instantWords } from './words.ts'

/** What a report says besides the inspection itself. */
export interface Issue {
  version: number
  reason: string
  issuedOn: string
  issuedBy: string
  inspectedOn: Day
  company: ReportContent['company']
  customer: ReportContent['customer']
  /** Photos of the findings, also of those carried over from earlier inspections. */
  photos: readonly PhotoView[]
}

const DEVICE_KINDS: Record<string, string> = {
  alarm: 'Alarm',
  'surge-protector': 'Surge protector',
  'ground-fault': 'Ground-fault device',
  'arc-fault': 'Arc-fault device',
}

/** Puts the frozen words together, in the order of trade/inspection/report-order.ts. */
export function composeReport(whole: WholeInspection, issue: Issue): ReportContent {
  const { inspection, home, record } = whole
  const dates = new Map(home.equipment.map((each) => [each.id, each as unknown as DeviceDates]))
  const contents = reportContents(record, dates)
  const { findings, numbers } = numbered(contents, whole, issue.photos)
  const { line1, line2, city, region, postcode, yearBuilt } = home.property
  return {
    format: 1,
    version: issue.version,
    reason: issue.reason,
    issuedOn: issue.issuedOn,
    issuedBy: issue.issuedBy,
    company: issue.company,
    property: { line1, line2, city, region, postcode, yearBuilt },
    customer: issue.customer,
    inspection: {
      id: inspection.id,
      inspectedOn: issue.inspectedOn,
      technician: inspection.technicianName,
      checklistVersion: inspection.checklistVersion,
      note: inspection.note,
    },
    jurisdiction: home.jurisdiction && {
      name: home.jurisdiction.name,
      edition: editionInForce(home.jurisdiction.adoptions, issue.inspectedOn),
    },
    answer: {
      safety: contents.answer.safety,
      headline: contents.answer.headline,
      limits: contents.answer.limits,
      first: contents.answer.first.map(({ finding }) => numbers.get(finding.id)!),
    },
    findings,
    ...declinedOf(whole, numbers),
    devices: contents.devices.map((device) => ({
      kind: DEVICE_KINDS[device.kind] ?? device.kind,
      name: device.name,
      place: device.place,
      manufacturedOn: device.manufacturedOn,
      installedOn: device.installedOn,
      replaceBy: device.replaceBy,
      assumed: home.equipment.find((each) => each.id === device.equipmentId)?.replaceByAssumed ?? false,
      nextCheckOn: device.nextCheckOn,
    })),
    good: contents.good.map((area) => ({ area: area.title, items: byTitle(area.lines) })),
    settled: contents.settled.map(({ finding, review }) => ({
      text: finding.text,
      foundOn: whole.carried.find((each) => each.id === finding.id)?.foundOn ?? '',
      outcome: REVIEW_OUTCOMES[review.outcome],
      note: review.note ?? '',
    })),
    notInspected: notInspected(contents),
    leftOut: contents.leftOut.map(({ area, item, reason }) => ({
      area: area.title,
      title: item.title,
      reason,
    })),
    cautions: [...contents.cautions],
  }
}

function numbered(
  contents: ReportContents,
  whole: WholeInspection,
  photos: readonly PhotoView[],
): { findings: ReportContent['findings']; numbers: ReadonlyMap<string, number> } {
  const numbers = new Map<string, number>()
  const answers = new Map(whole.record.answers.map((each) => [lineKey(each.itemId, each.subjectId), each]))
  const findings = contents.findings.map((group) => ({
    severity: group.severity,
    title: group.title,
    meaning: group.meaning,
    findings: group.findings.map((each) => {
      numbers.set(each.finding.id, numbers.size + 1)
      const { itemId, equipmentId, spaceId } = each.finding
      const subjectId = equipmentId ?? spaceId
      return findingOf(each, numbers.size, whole, {
        photos: photos.filter((photo) => belongs(photo, each.finding.id, itemId, subjectId)),
        answer: answers.get(lineKey(itemId, subjectId)),
      })
    }),
  }))
  return { findings, numbers }
}

/** A photo belongs to the finding that it names; one that names none, to whatever was found on its line. */
function belongs(photo: PhotoView, findingId: string, itemId: string, subjectId: string | null): boolean {
  if (photo.findingId) return photo.findingId === findingId
  return photo.itemId === itemId && photo.subjectId === subjectId
}

function findingOf(
  { finding, name, plain, carried }: Ordered,
  number: number,
  whole: WholeInspection,
  beside: { photos: readonly PhotoView[]; answer: Answer | undefined },
): ReportFinding {
  const stored = [...whole.written.findings, ...whole.carried].find((each) => each.id === finding.id)!
  return {
    number,
    id: finding.id,
    severity: finding.severity ?? 'investigate',
    area: findAreaOf(finding.itemId)?.title ?? '',
    item: findItem(finding.itemId)?.title ?? '',
    place: name || placeOf(whole, stored),
    text: finding.text,
    why: plain || (findItem(finding.itemId)?.plain ?? ''),
    correction: finding.correction ?? '',
    makeSafe: finding.makeSafe?.trim() || null,
    refusal: stored.refusal && signedOf(stored.refusal, whole),
    watchUntil: finding.watchUntil ?? null,
    carried,
    foundOn: stored.foundOn,
    verdict: verdictOf(beside.answer, stored.rule),
    photos: beside.photos.map(photoOf),
  }
}

function signedOf(stored: Readonly<Record<string, unknown>>, { home }: WholeInspection): Signed {
  const at = String(stored['at'])
  return {
    name: String(stored['name']),
    at,
    when: instantWords(at, home.property.timeZone),
    statement: String(stored['statement']),
    ...(typeof stored['drawing'] === 'string' && { drawing: stored['drawing'] }),
  }
}

function declinedOf(
  whole: WholeInspection,
  numbers: ReadonlyMap<string, number>,
): Pick<ReportContent, 'workDeclined'> {
  const stored = whole.inspection.workDeclined
  if (!stored) return {}
  const ids = (stored['findingIds'] ?? []) as string[]
  const findings = ids.flatMap((id) => numbers.get(id) ?? []).sort((a, b) => a - b)
  return { workDeclined: { ...signedOf(stored, whole), findings } }
}

/** A finding may be about something that has no line of its own any more. */
function placeOf({ home }: WholeInspection, finding: { equipmentId: string | null; spaceId: string | null }) {
  const equipment = home.equipment.find((each) => each.id === finding.equipmentId)
  const space = home.spaces.find((each) => each.id === finding.spaceId)
  return equipment?.label ?? space?.name ?? ''
}

/** The verdict that the finding names, as it stood when the line was answered. */
function verdictOf(answer: Answer | undefined, rule: string | null): ReportFinding['verdict'] {
  const verdicts = (answer as unknown as { verdicts?: Verdict[] } | undefined)?.verdicts ?? []
  const verdict = verdicts.find((each) => each.rule === rule && each.outcome === 'finding')
  if (!verdict) return null
  return {
    rule: verdict.rule,
    homeowner: verdict.homeowner,
    technician: verdict.technician,
    requiredWhenBuilt: verdict.requiredWhenBuilt,
    requiredToday: verdict.requiredToday,
    references: verdict.references.map(referenceWords),
  }
}

function referenceWords({ code, edition, article, row }: Reference): string {
  const place = [code, edition].filter(Boolean).join('-')
  return [place, article, row && `(${row})`].filter(Boolean).join(' ')
}

const photoOf = ({ id, sha256, width, height, caption, annotations }: PhotoView): ReportPhoto => ({
  id,
  sha256,
  width,
  height,
  caption,
  annotations,
})

interface Placed {
  item: { title: string }
  name: string
}

/** One entry per item with all its places: "Receptacles, seen from outside: Kitchen, Hall". */
function byTitle(lines: readonly Placed[]): { title: string; places: string[] }[] {
  const items = new Map<string, string[]>()
  for (const { item, name } of lines) {
    const places = items.get(item.title) ?? []
    if (name) places.push(name)
    items.set(item.title, places)
  }
  return [...items].map(([title, places]) => ({ title, places }))
}

function notInspected(contents: ReportContents): ReportContent['notInspected'] {
  const groups = new Map<string, ReportContent['notInspected'][number]>()
  for (const { line, answer } of contents.notInspected) {
    const reason = answer.notReachedReason ? NOT_REACHED_REASONS[answer.notReachedReason] : ''
    const note = answer.note?.trim() ?? ''
    const key = JSON.stringify([line.item.id, reason, note])
    const group = groups.get(key) ?? {
      area: line.area.title,
      title: line.item.title,
      places: [],
      reason: answer.notReachedReason === 'other' ? note : reason,
      note: answer.notReachedReason === 'other' ? '' : note,
    }
    if (line.name) group.places.push(line.name)
    groups.set(key, group)
  }
  return [...groups.values()]
}
