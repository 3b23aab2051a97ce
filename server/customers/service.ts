import { z } from 'zod'
import { momentInWords } from '../times-in-words.ts'
import { audit } from '../audit/store.ts'
import type { Ctx } from '../ctx.ts'
import { everyPage } from '../csv.ts'
import type { Db } from '../db.ts'
import { Problem } from '../errors.ts'
import { idSchema, newId } from '../ids.ts'
import { decodeCursor, type Page, toPage } from '../paging.ts'
import { changedMeanwhile } from '../versions.ts'
import * as duplicates from './duplicates-store.ts'
import type {
  ChangeCustomerBody,
  CustomerFilters,
  CustomerRecord,
  CustomerRow,
  CustomerView,
  DuplicatesQuery,
  DuplicatesView,
  NewCustomerBody,
} from './schema.ts'
import * as store from './store.ts'

const sortValues = (row: CustomerRow): [string, string] => [row.name, row.id]

/** By name. When nothing contains what was typed, one page of what it might have meant, best first. */
export async function listCustomers(
  ctx: Ctx,
  { cursor, limit, ...filters }: CustomerFilters & { cursor?: string | undefined; limit: number },
): Promise<Page<CustomerRow>> {
  const after = decodeCursor(cursor, z.tuple([z.string(), idSchema]))
  const rows = await store.listCustomers(ctx.db, filters, after, limit + 1)
  if (rows.length > 0 || !filters.q || after) return toPage(rows, limit, sortValues)
  return { items: await store.listResembling(ctx.db, { ...filters, q: filters.q }, limit), next: null }
}

/** The same list whole, page by page. */
export function everyCustomer(ctx: Ctx, filters: CustomerFilters): AsyncGenerator<CustomerRow[]> {
  return everyPage(
    (after: [string, string] | null, limit) => store.listCustomers(ctx.db, filters, after, limit),
    sortValues,
  )
}

export function readCustomer(ctx: Ctx, id: string): Promise<CustomerView> {
  return store.readCustomer(ctx.db, id)
}

/** Whom we may know already. */
export async function findDuplicates(ctx: Ctx, query: DuplicatesQuery): Promise<DuplicatesView> {
  const [byPhone, byEmail, homes] = await Promise.all([
    query.phone ? duplicates.findByPhone(ctx.db, query.phone) : [],
    query.email ? duplicates.findByEmail(ctx.db, query.email) : [],
    duplicates.findByAddress(ctx.db, query),
  ])
  const atAddress = await duplicates.findPeopleOf(
    ctx.db,
    homes.map((home) => home.id),
  )
  const found = new Map<string, DuplicatesView['customers'][number]>()
  const note = (people: typeof byPhone, shared: 'phone' | 'email' | 'address') => {
    for (const { id, name, email, phone, archived } of people) {
      if (id === query.exceptId) continue
      const entry = found.get(id) ?? { id, name, email, phone, archived, shares: [] }
      found.set(id, { ...entry, shares: [...entry.shares, shared] })
    }
  }
  note(byPhone, 'phone')
  note(byEmail, 'email')
  note(atAddress, 'address')
  return { customers: [...found.values()], properties: homes.filter((home) => home.id !== query.exceptId) }
}

export function addCustomer(ctx: Ctx, input: NewCustomerBody): Promise<CustomerRecord> {
  return ctx.db.$transaction((tx) => createCustomer(ctx, tx, input))
}

/** Puts a customer on record, in the caller's transaction. The same id again is the same customer, left as it is. */
export async function createCustomer(ctx: Ctx, tx: Db, input: NewCustomerBody): Promise<CustomerRecord> {
  const id = input.id ?? newId()
  const now = ctx.now()
  const isNew = await store.insertCustomer(tx, { ...input, id, createdAt: now, updatedAt: now })
  const customer = await store.getCustomer(tx, id)
  if (isNew) {
    await audit(ctx, tx, { action: 'customer.add', subjectKind: 'customer', subjectId: id, after: customer })
  }
  return customer
}

export function changeCustomer(
  ctx: Ctx,
  id: string,
  seen: number,
  change: ChangeCustomerBody,
): Promise<CustomerRecord> {
  return update(ctx, id, seen, 'customer.change', change)
}

/** Out of the lists and out of the mail, with the history kept. */
export async function archiveCustomer(ctx: Ctx, id: string, seen: number): Promise<CustomerRecord> {
  const next = await store.findNextVisit(ctx.db, { customerId: id }, ctx.now())
  if (next) throw new Problem('wrong-state', standingVisit(next))
  return update(ctx, id, seen, 'customer.archive', { archivedAt: ctx.now() })
}

export function restoreCustomer(ctx: Ctx, id: string, seen: number): Promise<CustomerRecord> {
  return update(ctx, id, seen, 'customer.restore', { archivedAt: null })
}

/** Why something with a visit ahead of it is not put away. */
export function standingVisit(next: {
  startsAt: Date
  property: { line1: string; timeZone: string }
}): string {
  const { line1, timeZone } = next.property
  return `A visit to ${line1} is booked on ${momentInWords(next.startsAt, timeZone)}; cancel it first.`
}

function update(
  ctx: Ctx,
  id: string,
  seen: number,
  action: string,
  change: ChangeCustomerBody & { archivedAt?: Date | null },
): Promise<CustomerRecord> {
  return ctx.db.$transaction(async (tx) => {
    const before = await store.getCustomer(tx, id)
    const stored = await store.updateCustomer(tx, id, seen, { ...change, updatedAt: ctx.now() })
    const after = await store.getCustomer(tx, id)
    if (!stored) throw changedMeanwhile(seen, after)
    await audit(ctx, tx, { action, subjectKind: 'customer', subjectId: id, before, after })
    return after
  })
}
