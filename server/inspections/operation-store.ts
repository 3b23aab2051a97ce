import type { Prisma } from '../../prisma/generated/client.ts'
import type { Db } from '../db.ts'

/** Writes that come from a desk and not from a device of the field are kept under this device id. */
export const DESK = '00000000-0000-0000-0000-000000000000'

export interface StoredOperation {
  id: string
  inspectionId: string | null
  userId: string
  deviceId: string
  command: string
  /**
   * { at, base, inspectionId, payload } as received, and { subject, version, superseded, changes } as it came to.
   * `changes` are fields that were written without being named in the payload: a choice between two.
   */
  payload: Record<string, unknown>
  outcome: 'applied' | 'refused'
  problem: Record<string, unknown> | null
  receivedAt: Date
}

const json = (value: Record<string, unknown>) => value as Prisma.InputJsonObject

/** Claims the id: false when an operation of that id is there already, whoever sent it. */
export async function insertOperation(db: Db, operation: StoredOperation): Promise<boolean> {
  const { problem, payload, ...rest } = operation
  const { count } = await db.operation.createMany({
    data: { ...rest, payload: json(payload), ...(problem && { problem: json(problem) }) },
    skipDuplicates: true,
  })
  return count === 1
}

export async function findOperation(db: Db, id: string): Promise<StoredOperation | null> {
  return (await db.operation.findUnique({ where: { id } })) as StoredOperation | null
}

export async function findOperations(db: Db, ids: readonly string[]): Promise<Map<string, StoredOperation>> {
  const rows = (await db.operation.findMany({ where: { id: { in: [...ids] } } })) as StoredOperation[]
  return new Map(rows.map((row) => [row.id, row]))
}

/**
 * The inspection that a device's id stands for: two devices that began the same visit without signal each made an id,
 * and the later one's is kept as an operation that points to the inspection there was.
 */
export async function findBegunAs(db: Db, inspectionId: string): Promise<string | null> {
  const row = await db.operation.findFirst({
    where: { id: inspectionId, command: 'start-inspection', outcome: 'applied' },
    select: { inspectionId: true },
  })
  return row?.inspectionId ?? null
}

/** Who wrote something, by an operation. */
export interface Writer {
  id: string
  userId: string
  deviceId: string
  /** When the server took it. */
  at: Date
  /** Version of the record after it; null where the record has none. */
  version: number | null
  command: string
}

/** Who wrote to this line, finding or thing last, within an inspection; null when no operation did. */
export async function findLastWriter(tx: Db, inspectionId: string, subject: string): Promise<Writer | null> {
  const [row] = await tx.$queryRaw<Writer[]>`
    SELECT id::text, user_id::text AS "userId", device_id::text AS "deviceId", received_at AS at, command,
           (payload->>'version')::int AS version
      FROM operation
     WHERE inspection_id = ${inspectionId}::uuid AND outcome = 'applied' AND payload->>'subject' = ${subject}
     ORDER BY seq DESC LIMIT 1`
  return row ?? null
}

/** Field → who wrote it last, of a thing whose fields are changed one by one, within an inspection. */
export async function findFieldWriters(
  tx: Db,
  inspectionId: string,
  subject: string,
): Promise<Map<string, Writer>> {
  const rows = await tx.$queryRaw<(Writer & { field: string })[]>`
    SELECT DISTINCT ON (field) field, id::text, user_id::text AS "userId", device_id::text AS "deviceId", received_at AS at,
           command, (payload->>'version')::int AS version
      FROM operation,
           LATERAL (SELECT coalesce(payload->'changes', payload->'payload'->'changes') AS changes) given,
           LATERAL jsonb_object_keys((changes - 'details') || coalesce(changes->'details', '{}')) AS field
     WHERE inspection_id = ${inspectionId}::uuid AND outcome = 'applied' AND payload->>'subject' = ${subject}
       AND jsonb_typeof(changes) = 'object'
     ORDER BY field, seq DESC`
  return new Map(rows.map(({ field, ...writer }) => [field, writer]))
}

/** What operations said of a thing within an inspection, in the order in which they came. */
export async function listSaid(
  tx: Db,
  inspectionId: string,
  subject: string,
): Promise<{ command: string; payload: unknown }[]> {
  return tx.$queryRaw`
    SELECT command, payload->'payload' AS payload FROM operation
     WHERE inspection_id = ${inspectionId}::uuid AND outcome = 'applied' AND payload->>'subject' = ${subject}
       AND command <> 'choose-recorded'
     ORDER BY seq`
}
