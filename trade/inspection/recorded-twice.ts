// Two people recorded the same thing without seeing each other's. The later one stands; the other is kept here, and
// choosing it means to record it once more.

export type TwiceKind =
  'answer' | 'finding' | 'review' | 'note' | 'space' | 'equipment' | 'photo' | 'work-declined'

/** keep: what is shown stays. use: the other one is put in its place. */
export type TwiceChoice = 'keep' | 'use'

type Values = Readonly<Record<string, unknown>>

export interface Recording {
  command: string
  payload: Record<string, unknown>
}

const LINE = ['itemId', 'subjectKind', 'subjectId'] as const
const ANSWER = [...LINE, 'result', 'notReachedReason', 'note', 'readings', 'disagreements'] as const
const FINDING = [
  'itemId',
  'spaceId',
  'equipmentId',
  'severity',
  'proposedSeverity',
  'loweredReason',
  'text',
  'correction',
  'makeSafe',
  'rule',
  'watchUntil',
] as const

/** What records the kept one once more. An answer without result was taken back; a finding may have been removed. */
export function recordedAgain(kind: TwiceKind, record: Values): Recording {
  switch (kind) {
    case 'answer':
      return record['result'] == null
        ? { command: 'clear-answer', payload: pick(record, LINE) }
        : {
            command: 'answer-item',
            payload: { ...pick(record, ANSWER), disagreements: disagreementsOf(record['disagreements']) },
          }
    case 'finding':
      return record['removed'] === true
        ? { command: 'remove-finding', payload: { findingId: record['id'] } }
        : { command: 'save-finding', payload: { findingId: record['id'], ...pick(record, FINDING) } }
    case 'review':
      return { command: 'review-carried', payload: pick(record, ['findingId', 'outcome', 'note']) }
    case 'note':
      return { command: 'note-inspection', payload: { note: record['note'] } }
    case 'photo':
      return {
        command: 'describe-photo',
        payload: { photoId: record['id'], ...pick(record, ['caption', 'annotations']) },
      }
    case 'work-declined': {
      const { findingIds, ...signature } = record
      return { command: 'decline-work', payload: { findingIds, signature } }
    }
    case 'space':
      return { command: 'change-space', payload: { spaceId: record['id'], changes: record['changes'] } }
    case 'equipment':
      return {
        command: 'change-equipment',
        payload: { equipmentId: record['id'], changes: record['changes'] },
      }
  }
}

/** Whether both say the same: then there is nothing to choose. */
export function saysTheSame(kind: 'answer' | 'finding', a: Values, b: Values): boolean {
  const said = (values: Values) => canonical(recordedAgain(kind, values).payload)
  return said(a) === said(b)
}

function pick(record: Values, names: readonly string[]): Record<string, unknown> {
  return Object.fromEntries(names.flatMap((name) => (name in record ? [[name, record[name]]] : [])))
}

/** Who disagreed and when is written anew. */
function disagreementsOf(stored: unknown): unknown[] {
  return ((stored ?? []) as Values[]).map(({ rule, reason }) => ({ rule, reason }))
}

/** One text for one meaning: names in order, what is not said and null alike. */
function canonical(value: unknown): string {
  return JSON.stringify(value, (_name, each: unknown) => {
    if (each === null || typeof each !== 'object' || Array.isArray(each)) return each
    return Object.fromEntries(
      Object.entries(each)
        .filter(([, inner]) => inner !== null && inner !== undefined)
        .sort(([a], [b]) => (a < b ? -1 : 1)),
    )
  })
}
