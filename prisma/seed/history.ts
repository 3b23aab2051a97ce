import { CHECKLIST } from '../../trade/checklist/checklist.ts'
import { addDays, type Day } from '../../trade/dates.ts'
import type { Home } from '../../trade/home.ts'
import { lineKey, linesOf } from '../../trade/inspection/lines.ts'
import type { Severity } from '../../trade/verdict.ts'
import { RULES } from '../../trade/rules.ts'
import type { Jurisdiction } from '../../trade/whole-home/context.ts'
import { evaluateHome } from '../../trade/whole-home/evaluate.ts'
import { allVerdicts, type SubjectVerdict } from '../../trade/whole-home/verdicts.ts'
import type { Prisma } from '../generated/client.ts'
import type { Chance } from './chance.ts'
import { asDate } from './homes.ts'

export interface PastInspection {
  inspection: Prisma.InspectionCreateManyInput & { id: string }
  answers: Prisma.AnswerCreateManyInput[]
  findings: Prisma.FindingCreateManyInput[]
}

/** What was written at an inspection on that day: the lines of the home, answered; findings where a rule has one. */
export function pastInspection(
  chance: Chance,
  given: {
    home: Home
    jurisdiction: Jurisdiction
    propertyId: string
    visitId: string
    technicianId: string
    on: Day
    endedAt: Date
    today: Day
  },
): PastInspection {
  const { home, on, endedAt } = given
  const id = chance.id(endedAt)
  const spoken = findingsOf(chance, given)
  const findings = spoken.map(({ itemId, found }) => findingRow(chance, given, id, itemId, found))
  const verdicts = new Map(
    spoken.map(({ itemId, found }) => [lineKey(itemId, found.subjectId), found.verdict]),
  )
  const answers = linesOf(home, CHECKLIST).map((line) => {
    const verdict = verdicts.get(line.key)
    const result = verdict
      ? 'finding'
      : line.noneRecorded
        ? 'absent'
        : chance.percent(2)
          ? 'not-reached'
          : 'ok'
    return {
      id: chance.id(endedAt),
      inspectionId: id,
      itemId: line.item.id,
      subjectKind: line.subjectKind,
      subjectId: line.subjectId,
      result,
      notReachedReason: result === 'not-reached' ? chance.pick(['blocked', 'locked', 'occupied']) : null,
      readings: Object.fromEntries((line.item.required ?? []).map((name) => [name, true])),
      verdicts: (verdict ? [verdict] : []) as unknown as Prisma.InputJsonArray,
      answeredById: given.technicianId,
      answeredAt: endedAt,
    }
  })
  return {
    inspection: {
      id,
      propertyId: given.propertyId,
      visitId: given.visitId,
      technicianId: given.technicianId,
      checklistVersion: CHECKLIST.version,
      state: 'completed',
      startedAt: new Date(endedAt.getTime() - 100 * 60_000),
      completedAt: endedAt,
      completedOn: asDate(on),
      updatedAt: endedAt,
    },
    answers,
    findings,
  }
}

const GRAVEST: readonly Severity[] = ['unsafe', 'repair', 'investigate', 'improve', 'watch']
const AT_MOST = 6

/** The gravest few that rules find, one per line: a technician writes down what matters, not every note of every rule. */
function findingsOf(
  chance: Chance,
  { home, jurisdiction, on }: { home: Home; jurisdiction: Jurisdiction; on: Day },
) {
  const found = allVerdicts(evaluateHome(home, jurisdiction, on)).flatMap((each) => {
    const itemId = RULES.spokenAt[each.verdict.rule]?.[0]
    return each.verdict.outcome === 'finding' && itemId
      ? [{ itemId, severity: each.verdict.severity, found: each }]
      : []
  })
  const lines = new Set(linesOf(home, CHECKLIST).map((line) => line.key))
  const seen = new Set<string>()
  const rules = new Set<string>()
  return found
    .toSorted((a, b) => GRAVEST.indexOf(a.severity) - GRAVEST.indexOf(b.severity))
    .filter(({ itemId, found: each }) => {
      const key = lineKey(itemId, each.subjectId)
      if (!lines.has(key) || seen.has(key) || rules.has(each.verdict.rule)) return false
      seen.add(key)
      rules.add(each.verdict.rule)
      return true
    })
    .slice(0, chance.whole(1, AT_MOST))
}

function findingRow(
  chance: Chance,
  given: { propertyId: string; on: Day; endedAt: Date; today: Day },
  inspectionId: string,
  itemId: string,
  { subjectKind, subjectId, verdict }: SubjectVerdict,
): Prisma.FindingCreateManyInput {
  if (verdict.outcome !== 'finding') throw new Error('only findings are written down')
  const { severity } = verdict
  const isOld = addDays(given.on, 60) < given.today
  const state =
    isOld && chance.percent(88) ? chance.pick(['checked', 'corrected', 'declined', 'checked']) : 'open'
  const isClosed = state === 'checked' || state === 'declined'
  return {
    id: chance.id(given.endedAt),
    propertyId: given.propertyId,
    inspectionId,
    itemId,
    spaceId: subjectKind === 'space' ? subjectId : null,
    equipmentId: subjectKind === 'equipment' ? subjectId : null,
    severity,
    proposedSeverity: severity,
    rule: verdict.rule,
    text: verdict.technician,
    makeSafe:
      severity === 'unsafe' ? 'Circuit switched off at the panel and tagged; owner told in person.' : null,
    state,
    foundOn: asDate(given.on),
    closedOn: isClosed ? asDate(addDays(given.on, chance.whole(7, 60))) : null,
    createdAt: given.endedAt,
    updatedAt: given.endedAt,
  }
}
