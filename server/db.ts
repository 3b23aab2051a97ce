import { PrismaPg } from '@prisma/adapter-pg'
import pg from 'pg'
import { Prisma, PrismaClient } from '../prisma/generated/client.ts'
import { statementNames } from './statement-names.ts'

/** The client, or the transaction that a store's caller is in. */
export type Db = PrismaClient | Prisma.TransactionClient

/** The pool under each client, for `query`. */
const pools = new WeakMap<Db, { pool: pg.Pool; nameOf: (query: { sql: string }) => string | undefined }>()

export function connect(databaseUrl: string, poolSize = 10): PrismaClient {
  const pool = new pg.Pool({ connectionString: databaseUrl, max: poolSize, types: { getTypeParser } })
  const nameOf = statementNames()
  const db = new PrismaClient({
    adapter: new PrismaPg(pool, {
      disposeExternalPool: true,
      // No name is a name, too: the driver then prepares nothing.
      statementNameGenerator: nameOf as (query: { sql: string }) => string,
    }),
    transactionOptions: { maxWait: 10_000, timeout: 30_000 },
  })
  pools.set(db, { pool, nameOf })
  return db
}

/**
 * The rows of a statement, as `$queryRaw` gives them, by the short way: outside of a transaction straight from the
 * driver, which costs a third of the way through the ORM. For the statements that every request or every answer runs.
 */
export async function query<Row extends object>(
  db: Db,
  { text, values }: Readonly<Pick<Prisma.Sql, 'text' | 'values'>>,
): Promise<Row[]> {
  const direct = pools.get(db)
  if (!direct) return db.$queryRawUnsafe<Row[]>(text, ...values)
  const { rows } = await direct.pool.query<Row>({ name: direct.nameOf({ sql: text }), text, values })
  return rows
}

const { INT8, NUMERIC, DATE } = pg.types.builtins

/** Reads a value as the ORM does where the driver by itself would not: days in UTC, large numbers without loss. */
const getTypeParser: typeof pg.types.getTypeParser = (oid: number, format?: 'text' | 'binary') => {
  if (oid === INT8) return BigInt
  if (oid === NUMERIC) return (text: string) => new Prisma.Decimal(text)
  if (oid === DATE) return (text: string) => new Date(`${text}T00:00:00Z`)
  return pg.types.getTypeParser(oid, format as 'text')
}

/** PostgreSQL's code (23505 …) and constraint behind an error of the ORM or of the driver, where there is one. */
export function sqlFault(error: unknown): { code: string; constraint: string } | null {
  for (let each = error; each instanceof Object; each = (each as { cause?: unknown }).cause) {
    const fault = each as {
      code?: string
      originalCode?: string
      constraint?: unknown
      message?: string
      meta?: unknown
    }
    const nested = (fault.meta as { driverAdapterError?: { cause?: Record<string, unknown> } } | undefined)
      ?.driverAdapterError?.cause
    if (nested)
      return { code: String(nested.originalCode ?? nested.code ?? ''), constraint: JSON.stringify(nested) }
    if (fault.originalCode)
      return { code: fault.originalCode, constraint: `${fault.message} ${JSON.stringify(fault.constraint)}` }
    if (/^\d{2}[0-9A-Z]{3}$/.test(fault.code ?? ''))
      return { code: fault.code!, constraint: String(fault.constraint ?? fault.message) }
  }
  return null
}

/** True when a database constraint of that name refused the write. */
export function refusedBy(error: unknown, constraint: string): boolean {
  return sqlFault(error)?.constraint.includes(constraint) ?? false
}

/** PostgreSQL's own codes for a server that stops, starts or is too full (57P.., 53300), lost connections (08...), the
 *  same in the words of the system, of the driver, and of the ORM. */
const AWAY =
  /\b(57P0\d|08[0-9A-Z]{3}|53300|ECONNREFUSED|ECONNRESET|EPIPE|ETIMEDOUT|P1001|P1002|P1008|P1017|P2024)\b|Connection terminated|not queryable|Server has closed the connection|Can't reach database server|ConnectionClosed|DatabaseNotReachable/

/** True when the database did not answer: whether it did what it was told, nobody knows. */
export function isDatabaseAway(error: unknown): boolean {
  for (let each = error, depth = 0; each instanceof Object && depth < 6; depth++) {
    const fault = each as { code?: unknown; message?: unknown; meta?: unknown; cause?: unknown }
    if (AWAY.test(`${String(fault.code ?? '')} ${String(fault.message ?? '')}`)) return true
    if (fault.meta !== undefined && AWAY.test(JSON.stringify(fault.meta))) return true
    each = fault.cause
  }
  return false
}
