import { recordedAgain } from '../../../trade/inspection/recorded-twice.ts'
import type { FieldOperationInput } from '../../../server/field/operation-schema.ts'
import type { PackVisit } from '../../../server/field/pack-schema.ts'
import type { EquipmentView, SpaceView } from '../../../server/inspections/home-schema.ts'
import type {
  AnswerView,
  FindingView,
  InspectionRecordView,
  ReviewView,
} from '../../../server/inspections/record-schema.ts'

/** The visit with everything on it, as the server last told it and as it was changed here since. */
export type Sheet = PackVisit

/** What the screen shows: the server's last word, and over it every change made here, in order. Pure. */
export function sheetOf(visit: PackVisit, operations: readonly FieldOperationInput[]): Sheet {
  return operations.reduce(applyOperation, visit)
}

export function applyOperation(sheet: Sheet, operation: FieldOperationInput): Sheet {
  switch (operation.command) {
    case 'start-inspection':
      return sheet.inspection
        ? sheet
        : { ...sheet, inspection: begun(sheet, operation.inspectionId, operation.at) }
    case 'add-space':
      return { ...sheet, spaces: putById(sheet.spaces, { ...NEW_SPACE, ...operation.payload.space }) }
    case 'change-space':
      return {
        ...sheet,
        spaces: sheet.spaces.map((each) =>
          each.id === operation.payload.spaceId ? { ...each, ...operation.payload.changes } : each,
        ),
      }
    case 'add-equipment':
      return {
        ...sheet,
        equipment: putById(sheet.equipment, { ...NEW_EQUIPMENT, ...operation.payload.equipment }),
      }
    case 'change-equipment':
      return {
        ...sheet,
        equipment: sheet.equipment.map((each) =>
          each.id === operation.payload.equipmentId
            ? changedEquipment(each, operation.payload.changes)
            : each,
        ),
      }
    case 'retire-equipment':
      return {
        ...sheet,
        equipment: sheet.equipment.filter((each) => each.id !== operation.payload.equipmentId),
      }
    case 'choose-recorded':
      return sheet.inspection ? chosen(sheet, sheet.inspection, operation) : sheet
    default:
      return sheet.inspection
        ? { ...sheet, inspection: applyToInspection(sheet.inspection, sheet, operation) }
        : sheet
  }
}

/** What was offered goes; taken up, it is recorded once more. */
function chosen(
  sheet: Sheet,
  inspection: InspectionRecordView,
  operation: Extract<FieldOperationInput, { command: 'choose-recorded' }>,
): Sheet {
  const { alternativeId, choice } = operation.payload
  const other = inspection.alternatives.find((each) => each.id === alternativeId)
  const alternatives = inspection.alternatives.filter((each) => each.id !== alternativeId)
  const without = { ...sheet, inspection: { ...inspection, alternatives } }
  if (!other || choice === 'keep') return without
  return applyOperation(without, {
    ...operation,
    ...recordedAgain(other.kind, other.record),
  } as FieldOperationInput)
}

type OnInspection = Extract<
  FieldOperationInput,
  {
    command:
      | 'answer-item'
      | 'clear-answer'
      | 'save-finding'
      | 'remove-finding'
      | 'refuse-make-safe'
      | 'review-carried'
      | 'decline-work'
      | 'describe-photo'
      | 'remove-photo'
      | 'note-inspection'
      | 'complete-inspection'
  }
>

function applyToInspection(
  inspection: InspectionRecordView,
  sheet: Sheet,
  operation: OnInspection,
): InspectionRecordView {
  switch (operation.command) {
    case 'answer-item': {
      const answer = answerOf(operation, inspection)
      return {
        ...inspection,
        answers: [...inspection.answers.filter((each) => !isSameLine(each, answer)), answer],
      }
    }
    case 'clear-answer': {
      const line = { subjectId: null, ...operation.payload }
      return { ...inspection, answers: inspection.answers.filter((each) => !isSameLine(each, line)) }
    }
    case 'save-finding':
      return {
        ...inspection,
        findings: putById(inspection.findings, findingOf(operation, inspection, sheet)),
      }
    case 'remove-finding':
      return {
        ...inspection,
        findings: inspection.findings.filter((each) => each.id !== operation.payload.findingId),
      }
    case 'refuse-make-safe':
      return {
        ...inspection,
        findings: inspection.findings.map((each) =>
          each.id === operation.payload.findingId
            ? { ...each, refusal: { ...operation.payload.signature } }
            : each,
        ),
      }
    case 'review-carried':
      return {
        ...inspection,
        reviews: [
          ...inspection.reviews.filter((each) => each.findingId !== operation.payload.findingId),
          reviewOf(operation),
        ],
      }
    case 'decline-work': {
      const { findingIds, signature } = operation.payload
      return { ...inspection, workDeclined: { findingIds, ...signature } }
    }
    case 'describe-photo': {
      const { photoId, ...said } = operation.payload
      return {
        ...inspection,
        photos: inspection.photos.map((each) => (each.id === photoId ? { ...each, ...said } : each)),
      }
    }
    case 'remove-photo':
      return {
        ...inspection,
        photos: inspection.photos.filter((each) => each.id !== operation.payload.photoId),
      }
    case 'note-inspection':
      return { ...inspection, note: operation.payload.note }
    case 'complete-inspection':
      return { ...inspection, state: 'completed', completedAt: operation.at }
  }
}

export interface LineRef {
  itemId: string
  subjectId?: string | null | undefined
}
export const isSameLine = (a: LineRef, b: LineRef) =>
  a.itemId === b.itemId && (a.subjectId ?? null) === (b.subjectId ?? null)

function putById<Row extends { id: string }>(rows: readonly Row[], row: Row): Row[] {
  return rows.some((each) => each.id === row.id)
    ? rows.map((each) => (each.id === row.id ? row : each))
    : [...rows, row]
}

function begun(sheet: Sheet, id: string, at: string): InspectionRecordView {
  return {
    id,
    version: 0,
    state: 'open',
    checklistVersion: 1,
    technicianId: '',
    startedAt: at,
    completedAt: null,
    completedOn: null,
    note: '',
    workDeclined: null,
    answers: [],
    findings: [],
    reviews: [],
    photos: sheet.inspection?.photos ?? [],
    alternatives: [],
  }
}

const NEW_SPACE: Omit<SpaceView, 'id' | 'kind' | 'name' | 'level'> = {
  areaSqFt: null,
  hasSink: null,
  hasTubOrShower: null,
  hasFuelBurner: null,
  sleepingArea: null,
  version: 0,
}

const NEW_EQUIPMENT: Omit<EquipmentView, 'id' | 'kind'> = {
  label: '',
  spaceId: null,
  parentId: null,
  details: {},
  manufacturedOn: null,
  installedOn: null,
  retiredOn: null,
  replaceBy: null,
  replaceByAssumed: false,
  lastCheckedOn: null,
  nextCheckOn: null,
  version: 0,
}

type Changes = Extract<FieldOperationInput, { command: 'change-equipment' }>['payload']['changes']

/** Fields not named stay; a detail of null is unknown again. */
function changedEquipment(before: EquipmentView, { details, ...changes }: Changes): EquipmentView {
  const merged = Object.entries({ ...before.details, ...details }).filter(([, value]) => value !== null)
  return { ...before, ...changes, details: Object.fromEntries(merged) }
}

function answerOf(
  operation: Extract<OnInspection, { command: 'answer-item' }>,
  inspection: InspectionRecordView,
): AnswerView {
  const { payload, at, id } = operation
  const before = inspection.answers.find((each) => isSameLine(each, payload))
  return {
    id,
    itemId: payload.itemId,
    subjectKind: payload.subjectKind,
    subjectId: payload.subjectId ?? null,
    result: payload.result,
    notReachedReason: payload.notReachedReason ?? null,
    note: payload.note ?? '',
    readings: payload.readings ?? {},
    // The server judges again; until then the screen judges by itself.
    verdicts: [],
    disagreements: (payload.disagreements ?? []).map((each) => ({ ...each })),
    answeredById: '',
    answeredAt: at,
    version: before?.version ?? 0,
  }
}

function findingOf(
  operation: Extract<OnInspection, { command: 'save-finding' }>,
  inspection: InspectionRecordView,
  sheet: Sheet,
): FindingView {
  const { payload } = operation
  const before = inspection.findings.find((each) => each.id === payload.findingId)
  return {
    id: payload.findingId,
    version: before?.version ?? 0,
    propertyId: sheet.property.id,
    inspectionId: inspection.id,
    itemId: payload.itemId,
    spaceId: payload.spaceId ?? null,
    equipmentId: payload.equipmentId ?? null,
    severity: payload.severity,
    proposedSeverity: payload.proposedSeverity ?? before?.proposedSeverity ?? null,
    loweredReason: payload.loweredReason ?? null,
    rule: payload.rule ?? null,
    text: payload.text ?? '',
    correction: payload.correction ?? '',
    state: before?.state ?? 'open',
    makeSafe: payload.makeSafe ?? null,
    refusal: before?.refusal ?? null,
    watchUntil: payload.watchUntil ?? null,
    foundOn: operation.at.slice(0, 10),
    closedOn: null,
  }
}

function reviewOf(operation: Extract<OnInspection, { command: 'review-carried' }>): ReviewView {
  const { findingId, outcome, note = '' } = operation.payload
  return { findingId, outcome, note, reviewedById: '', reviewedAt: operation.at }
}
