import { type Db, query } from '../db.ts'
import { answerView } from './record-store.ts'
import type { AnswerView } from './record-schema.ts'
import { STAMP } from './store.ts'

export interface LineRef {
  itemId: string
  subjectKind: string
  subjectId: string | null
}
export type NewAnswer = Omit<AnswerView, 'version' | 'answeredAt'> & { answeredAt: Date }

interface Written {
  id: string
  version: number
  before: AnswerView | null
}

/** Of `answer a`, as AnswerView has it. */
const VIEW = `json_build_object('id', a.id, 'itemId', a.item_id, 'subjectKind', a.subject_kind, 'subjectId', a.subject_id,
  'result', a.result, 'notReachedReason', a.not_reached_reason, 'note', a.note, 'readings', a.readings,
  'verdicts', a.verdicts, 'disagreements', a.disagreements, 'answeredById', a.answered_by_id,
  'answeredAt', a.answered_at, 'version', a.version)`

const WRITE = `
  WITH held AS (
    SELECT i.id FROM inspection i JOIN property p ON p.id = i.property_id
     WHERE i.id = $1::uuid AND i.state = 'open' AND ($14::text IS NULL OR ${STAMP.text} = $14) FOR KEY SHARE OF i
  ), before AS (
    SELECT ${VIEW} AS view FROM answer a
     WHERE a.inspection_id = $1::uuid AND a.item_id = $3 AND a.subject_kind = $4
       AND a.subject_id IS NOT DISTINCT FROM $5::uuid
  ), written AS (
    INSERT INTO answer (id, inspection_id, item_id, subject_kind, subject_id, result, not_reached_reason, note,
      readings, verdicts, disagreements, answered_by_id, answered_at)
    SELECT $2::uuid, held.id, $3, $4, $5::uuid, $6, $7, $8, $9::jsonb, $10::jsonb, $11::jsonb, $12::uuid, $13::timestamptz
      FROM held
    ON CONFLICT (inspection_id, item_id, subject_kind, subject_id) DO UPDATE SET
      result = excluded.result, not_reached_reason = excluded.not_reached_reason, note = excluded.note,
      readings = excluded.readings, verdicts = excluded.verdicts, disagreements = excluded.disagreements,
      answered_by_id = excluded.answered_by_id, answered_at = excluded.answered_at, version = answer.version + 1
    RETURNING id, version
  )
  SELECT written.id::text, written.version, before.view AS before FROM written LEFT JOIN before ON true`

/**
 * Writes the answer of a line in one statement, however many devices answer it: the later one stands, and what it
 * replaced is handed back. Null when the inspection is not open, or when it or its home are not any more what was read
 * with that stamp.
 */
export async function writeAnswer(
  db: Db,
  inspectionId: string,
  answer: NewAnswer,
  stamp: string | null = null,
): Promise<{ answer: AnswerView; before: AnswerView | null } | null> {
  const [row] = await query<Written>(db, {
    text: WRITE,
    values: [
      inspectionId,
      answer.id,
      answer.itemId,
      answer.subjectKind,
      answer.subjectId,
      answer.result,
      answer.notReachedReason,
      answer.note,
      JSON.stringify(answer.readings),
      JSON.stringify(answer.verdicts),
      JSON.stringify(answer.disagreements),
      answer.answeredById,
      answer.answeredAt,
      stamp,
    ],
  })
  if (!row) return null
  const { id, version, before } = row
  return {
    answer: { ...answer, id, version, answeredAt: answer.answeredAt.toISOString() },
    before: before && { ...before, answeredAt: new Date(before.answeredAt).toISOString() },
  }
}

export async function findAnswer(db: Db, inspectionId: string, line: LineRef): Promise<AnswerView | null> {
  const row = await db.answer.findFirst({
    where: { inspectionId, itemId: line.itemId, subjectKind: line.subjectKind, subjectId: line.subjectId },
  })
  return row && answerView(row)
}

export async function deleteAnswer(db: Db, id: string): Promise<void> {
  await db.answer.deleteMany({ where: { id } })
}

/** What follows from other answers, written when the inspection is completed. */
export async function insertAnswers(
  tx: Db,
  inspectionId: string,
  answers: readonly (LineRef & {
    id: string
    result: string
    notReachedReason: string | null
    note: string
  })[],
  by: { answeredById: string; answeredAt: Date },
): Promise<void> {
  await tx.answer.createMany({ data: answers.map((answer) => ({ ...answer, ...by, inspectionId })) })
}
