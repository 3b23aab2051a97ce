import type { Prisma } from '../../prisma/generated/client.ts'
import type { Role } from '../../trade/permissions.ts'
import type { Db } from '../db.ts'
import { Problem } from '../errors.ts'
import type { PersonView } from './schema.ts'

const shown = {
  id: true,
  name: true,
  email: true,
  phone: true,
  role: true,
  passwordHash: true,
  disabledAt: true,
  lockedUntil: true,
  version: true,
  sessions: { select: { lastSeenAt: true }, orderBy: { lastSeenAt: 'desc' }, take: 1 },
} satisfies Prisma.UserSelect
type PersonRow = Prisma.UserGetPayload<{ select: typeof shown }>

export function listPeople(db: Db): Promise<PersonRow[]> {
  return db.user.findMany({
    select: shown,
    orderBy: [{ disabledAt: { sort: 'asc', nulls: 'first' } }, { name: 'asc' }],
    take: 500,
  })
}

export function listTechnicians(db: Db) {
  return db.user.findMany({
    where: { role: 'technician', disabledAt: null },
    select: { id: true, name: true, phone: true },
    orderBy: { name: 'asc' },
    take: 500,
  })
}

export function findPerson(db: Db, id: string): Promise<PersonRow | null> {
  return db.user.findUnique({ where: { id }, select: shown })
}

export async function getPerson(db: Db, id: string): Promise<PersonRow> {
  const person = await findPerson(db, id)
  if (!person) throw new Problem('not-found', 'There is no such person.')
  return person
}

export async function updatePerson(
  db: Db,
  id: string,
  seen: number,
  change: Prisma.UserUpdateManyMutationInput,
): Promise<boolean> {
  const { count } = await db.user.updateMany({
    where: { id, version: seen },
    data: { ...change, version: { increment: 1 } },
  })
  return count === 1
}

/** Admins that could still log in if this person could not. */
export function countOtherAdmins(db: Db, id: string): Promise<number> {
  return db.user.count({
    where: { role: 'admin', disabledAt: null, passwordHash: { not: null }, id: { not: id } },
  })
}

export function personOf(row: PersonRow): PersonView {
  return {
    id: row.id,
    name: row.name,
    email: row.email,
    phone: row.phone,
    role: row.role as Role,
    invited: row.passwordHash === null,
    disabled: row.disabledAt !== null,
    lockedUntil: row.lockedUntil?.toISOString() ?? null,
    lastSeenAt: row.sessions[0]?.lastSeenAt.toISOString() ?? null,
    version: row.version,
  }
}
