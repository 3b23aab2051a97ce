import { newId } from '../../../web/shared/ids.ts'
import { begin, change, changeAnswer } from '../../../web/field/offline/change.ts'
import { keepPhoto, keepStep, resend, setAside } from '../../../web/field/offline/outbox.ts'
import { readSheet } from '../../../web/field/offline/read-sheet.ts'
import type { FieldStore } from '../../../web/field/offline/store.ts'
import type { Office, Place } from './office.ts'
import type { Step } from './schedule.ts'

const RESULTS = ['ok', 'finding', 'absent', 'not-reached'] as const
const SEVERITIES = ['repair', 'watch', 'improve'] as const
const STEPS = ['start-travel', 'arrive', 'finish'] as const
const HOW_IT_SENSES = ['smoke', 'heat'] as const

/** The lines that a schedule touches: about a circuit, a panel, a room and the home. */
export function lineOf(place: Place, line: number) {
  return [
    {
      itemId: 'panel-cover-off.circuit',
      subjectKind: 'equipment' as const,
      subjectId: place.circuitId,
    },
    { itemId: 'panel-cover-on.heat', subjectKind: 'equipment' as const, subjectId: place.panelId },
    { itemId: 'ground-fault.kitchen', subjectKind: 'space' as const, subjectId: place.kitchen },
    { itemId: 'receptacles.opened', subjectKind: 'home' as const, subjectId: null },
  ][line]!
}

export function answerOf(result: number, note: number) {
  return {
    result: RESULTS[result]!,
    note: note === 0 ? '' : `Note ${note}`,
    ...(RESULTS[result] === 'not-reached' && { notReachedReason: 'locked' as const }),
  }
}

export type OnDevice = Extract<Step, { at: number }>

/** What a person does on a device, through the field app's own code. @returns the id of what is then shown as done */
export async function act(
  step: OnDevice,
  store: FieldStore,
  place: Place,
  office: Office,
  now: Date,
  onLeft: (id: string, how: 'mended' | 'aside') => void,
): Promise<string | void> {
  const { visitId } = place
  const sheet = await readSheet(store, visitId)
  if (!sheet) return
  const nth = <Row>(rows: readonly Row[] | undefined, n: number) => rows?.[n % (rows.length || 1)]
  const things = sheet.equipment.filter((each) => each.kind === 'circuit' || each.kind === 'alarm')
  switch (step.do) {
    case 'answer':
      return changeAnswer(store, visitId, lineOf(place, step.line), answerOf(step.result, step.note), now)
    case 'read': {
      const inRoom = step.line % 2 === 0
      const reading = { name: inRoom ? 'tripMs' : 'openedCount', value: step.value || null }
      return changeAnswer(store, visitId, lineOf(place, inRoom ? 2 : 3), { reading }, now)
    }
    case 'clear': {
      const line = lineOf(place, step.line)
      const before = sheet.inspection?.answers.find(
        (each) => each.itemId === line.itemId && each.subjectId === line.subjectId,
      )
      if (!before) return
      return change(store, visitId, 'clear-answer', line, { base: before.version || null, now })
    }
    case 'find': {
      const known = sheet.inspection?.findings[step.finding]
      return change(
        store,
        visitId,
        'save-finding',
        {
          findingId: known?.id ?? newId(),
          itemId: 'receptacles.opened',
          severity: SEVERITIES[step.severity]!,
          text: step.text === 0 ? '' : `Finding ${step.text}`,
        },
        { base: known?.version || null, now },
      )
    }
    case 'drop-finding': {
      const known = sheet.inspection?.findings[step.finding]
      if (!known) return
      return change(
        store,
        visitId,
        'remove-finding',
        { findingId: known.id },
        {
          base: known.version || null,
          now,
        },
      )
    }
    case 'add-room':
      return change(
        store,
        visitId,
        'add-space',
        { space: { id: newId(), kind: 'closet', name: `Closet ${step.name}`, level: 0 } },
        { now },
      )
    case 'change-room': {
      const room = nth(sheet.spaces, step.room)!
      const changes = [
        { name: `Room ${step.value}` },
        { areaSqFt: step.value },
        { hasSink: step.value % 2 === 0 },
      ][step.field]!
      return change(
        store,
        visitId,
        'change-space',
        { spaceId: room.id, changes },
        { base: room.version || null, now },
      )
    }
    case 'add-alarm':
      return change(
        store,
        visitId,
        'add-equipment',
        {
          equipment: {
            id: newId(),
            kind: 'alarm',
            label: 'New alarm',
            spaceId: place.hall,
            details: { senses: 'smoke', power: ['battery', 'mains'][step.power]! },
          },
        },
        { now },
      )
    case 'change-thing': {
      const thing = nth(things, step.thing)
      if (!thing) return
      const detail =
        thing.kind === 'circuit'
          ? { conductorsUnderTerminal: (step.value % 3) + 1 }
          : { senses: HOW_IT_SENSES[step.value % 2]! }
      const changes = [
        { label: `Thing ${step.value}` },
        { details: detail },
        { label: `Thing ${step.value}`, details: detail },
      ][step.field]!
      return change(
        store,
        visitId,
        'change-equipment',
        { equipmentId: thing.id, changes },
        { base: thing.version || null, now },
      )
    }
    case 'retire-thing': {
      const alarm = nth(
        things.filter((each) => each.kind === 'alarm'),
        step.thing,
      )
      if (!alarm) return
      return change(
        store,
        visitId,
        'retire-equipment',
        { equipmentId: alarm.id, retiredOn: '2026-06-01' },
        { base: alarm.version || null, now },
      )
    }
    case 'note':
      return change(
        store,
        visitId,
        'note-inspection',
        { note: step.text === 0 ? '' : `Remark ${step.text}` },
        { now },
      )
    case 'photo': {
      const inspectionId = await begin(store, visitId, now)
      const id = newId()
      await keepPhoto(store, {
        id,
        inspectionId,
        visitId,
        itemId: 'receptacles.opened',
        subjectId: null,
        findingId: null,
        caption: '',
        takenAt: now.toISOString(),
        bytes: office.pictures[step.picture]!,
      })
      return id
    }
    case 'step':
      return keepStep(store, visitId, STEPS[step.step]!, now)
    case 'complete':
      return change(store, visitId, 'complete-inspection', {}, { now })
    case 'choose': {
      const other = sheet.inspection?.alternatives[step.which]
      if (!other) return
      const base = shownVersion(sheet.inspection!, sheet, other.subject)
      return change(
        store,
        visitId,
        'choose-recorded',
        { alternativeId: other.id, choice: step.choice },
        { base, now },
      )
    }
    case 'mend': {
      const refused = await store.operations.where('state').equals('refused').first()
      if (!refused) return
      if (step.how === 'aside') {
        await setAside(store, refused.seq!, 'Written on paper', now)
        return onLeft(refused.id, 'aside')
      }
      const { operation } = refused
      const mended =
        step.how === 'mended' && operation.command === 'answer-item'
          ? { ...operation, payload: { ...operation.payload, note: 'Mended' } }
          : operation
      await resend(store, refused.seq!, mended, now)
      return onLeft(refused.id, 'mended')
    }
    default:
      throw new Error(`no act: ${step.do}`)
  }
}

type Sheet = NonNullable<Awaited<ReturnType<typeof readSheet>>>

/** Version of what is shown where somebody chooses. */
function shownVersion(inspection: NonNullable<Sheet['inspection']>, sheet: Sheet, subject: string) {
  const [kind, key] = [subject.slice(0, subject.indexOf(':')), subject.slice(subject.indexOf(':') + 1)]
  const rows: readonly { id: string; version: number }[] =
    kind === 'answer'
      ? inspection.answers.map((each) => ({
          id: `${each.itemId}@${each.subjectId ?? 'home'}`,
          version: each.version,
        }))
      : kind === 'finding'
        ? inspection.findings
        : kind === 'space'
          ? sheet.spaces
          : sheet.equipment
  return rows.find((each) => each.id === key)?.version || null
}
