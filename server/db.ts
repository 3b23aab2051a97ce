import { PrismaPg } from '@prisma/adapter-pg'
import { type Prisma, PrismaClient } from '../prisma/generated/client.ts'
import { statementNames } from './statement-names.ts'

/** The client, or the transaction that a store's caller is in. */
export type Db = PrismaClient | Prisma.TransactionClient

export function connect(databaseUrl: string, poolSize = 10): PrismaClient {
  return new PrismaClient({
    adapter: new PrismaPg(
      { connectionString: databaseUrl, max: poolSize },
      // No name is a name, too: the driver then prepares nothing.
      { statementNameGenerator: statementNames() as (query: { sql: string }) => string },
    ),
    transactionOptions: { maxWait: 10_000, timeout: 30_000 },
  })
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
