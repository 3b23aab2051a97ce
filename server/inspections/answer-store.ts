import { type Answer as AnswerRow, Prisma } from '../../prisma/generated/client.ts'
import { type Db, query } from '../db.ts'
import { answerView } from './record-store.ts'
import type { AnswerView } from './record-schema.ts'

export interface LineRef {
  itemId: string
  subjectKind: string
  subjectId: string | null
}
export type NewAnswer = Omit<AnswerView, 'version' | 'answeredAt'> & { answeredAt: Date }

interface Written {
  written: AnswerJson
  before: AnswerJson | null
}
/** A row as PostgreSQL writes it in JSON. */
interface AnswerJson extends Record<string, unknown> {
  answered_at: string
}

/**
 * Writes the answer of a line in one statement, however many devices answer it: the later one stands, and what it
 * replaced is handed back. Null when the inspection is not open.
 */
export async function writeAnswer(
  db: Db,
  inspectionId: string,
  answer: NewAnswer,
): Promise<{ answer: AnswerView; before: AnswerView | null } | null> {
  const { itemId, subjectKind, subjectId, result, notReachedReason, note } = answer
  const [row] = await query<Written>(
    db,
    Prisma.sql`
    WITH held AS (
      SELECT id FROM inspection WHERE id = ${inspectionId}::uuid AND state = 'open' FOR KEY SHARE
    ), before AS (
      SELECT a.* FROM answer a WHERE a.inspection_id = ${inspectionId}::uuid AND a.item_id = ${itemId}
         AND a.subject_kind = ${subjectKind} AND a.subject_id IS NOT DISTINCT FROM ${subjectId}::uuid
    ), written AS (
      INSERT INTO answer (id, inspection_id, item_id, subject_kind, subject_id, result, not_reached_reason, note,
        readings, verdicts, disagreements, answered_by_id, answered_at)
      SELECT ${answer.id}::uuid, held.id, ${itemId}, ${subjectKind}, ${subjectId}::uuid, ${result},
        ${notReachedReason}, ${note}, ${JSON.stringify(answer.readings)}::jsonb,
        ${JSON.stringify(answer.verdicts)}::jsonb, ${JSON.stringify(answer.disagreements)}::jsonb,
        ${answer.answeredById}::uuid, ${answer.answeredAt}
      FROM held
      ON CONFLICT (inspection_id, item_id, subject_kind, subject_id) DO UPDATE SET
        result = excluded.result, not_reached_reason = excluded.not_reached_reason, note = excluded.note,
        readings = excluded.readings, verdicts = excluded.verdicts, disagreements = excluded.disagreements,
        answered_by_id = excluded.answered_by_id, answered_at = excluded.answered_at, version = answer.version + 1
      RETURNING *
    )
    SELECT to_json(written) AS written, CASE WHEN before.id IS NULL THEN NULL ELSE to_json(before) END AS before
      FROM written LEFT JOIN before ON true`,
  )
  return row ? { answer: viewOf(row.written), before: row.before && viewOf(row.before) } : null
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

function viewOf(row: AnswerJson): AnswerView {
  const camel = Object.fromEntries(
    Object.entries(row).map(([name, value]) => [
      name.replace(/_([a-z])/g, (_, letter: string) => letter.toUpperCase()),
      value,
    ]),
  )
  return answerView({ ...camel, answeredAt: new Date(row.answered_at) } as unknown as AnswerRow)
}
