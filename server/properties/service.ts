import { z } from 'zod'
import { isOffice } from '../../trade/permissions.ts'
import { theUser } from '../accounts/service.ts'
import { audit } from '../audit/store.ts'
import { everyPage } from '../csv.ts'
import type { Ctx } from '../ctx.ts'
import { createCustomer, standingVisit } from '../customers/service.ts'
import { findNextVisit } from '../customers/store.ts'
import type { Db } from '../db.ts'
import { invalid, Problem } from '../errors.ts'
import { planFollowUps } from '../follow-ups/service.ts'
import { idSchema, newId } from '../ids.ts'
import { decodeCursor, type Page, toPage } from '../paging.ts'
import { getCompany } from '../settings/store.ts'
import { fromDay } from '../time.ts'
import { changedMeanwhile } from '../versions.ts'
import { type JsonText, readHome as readHomeText } from './home-store.ts'
import { addParties } from './party-service.ts'
import type {
  ChangePropertyBody,
  NewHomeBody,
  NewPropertyBody,
  PropertyFilters,
  PropertyRecord,
  PropertyRow,
} from './schema.ts'
import { checkMaySeeHome } from './scope.ts'
import { addSpaces } from './space-service.ts'
import * as store from './store.ts'

const sortValues = (row: PropertyRow): [string, string, string] => [row.postcode, row.line1, row.id]

/** By postcode and street. When nothing contains what was typed, one page of what it might have meant, best first. */
export async function listProperties(
  ctx: Ctx,
  { cursor, limit, ...filters }: PropertyFilters & { cursor?: string | undefined; limit: number },
): Promise<Page<PropertyRow>> {
  const after = decodeCursor(cursor, z.tuple([z.string(), z.string(), idSchema]))
  const today = await companyToday(ctx)
  const rows = await store.listProperties(ctx.db, filters, today, after, limit + 1)
  if (rows.length > 0 || !filters.q || after) return toPage(rows, limit, sortValues)
  return { items: await store.listResembling(ctx.db, { ...filters, q: filters.q }, today, limit), next: null }
}

/** The same list whole, page by page. */
export async function* everyProperty(ctx: Ctx, filters: PropertyFilters): AsyncGenerator<PropertyRow[]> {
  const today = await companyToday(ctx)
  yield* everyPage(
    (after: [string, string, string] | null, limit) =>
      store.listProperties(ctx.db, filters, today, after, limit),
    sortValues,
  )
}

const companyToday = async (ctx: Ctx) => ctx.today((await getCompany(ctx.db)).timeZone)

/** A home whole, as JSON text. A technician sees only the homes they go to, without messages and estimates. */
export async function readHome(ctx: Ctx, id: string): Promise<JsonText> {
  const forOffice = isOffice(theUser(ctx))
  if (!forOffice) await checkMaySeeHome(ctx, ctx.db, id)
  return readHomeText(ctx.db, id, forOffice)
}

/** A home, its spaces and its people in one act. */
export async function addProperty(
  ctx: Ctx,
  { parties, customer, ...home }: NewPropertyBody,
): Promise<PropertyRecord> {
  return ctx.db.$transaction(async (tx) => {
    const { property, isNew } = await createProperty(ctx, tx, home)
    if (!isNew) return property
    const people = [...parties]
    if (customer) {
      const { role, ...input } = customer
      people.push({ customerId: (await createCustomer(ctx, tx, input)).id, role, isContact: false })
    }
    await addParties(ctx, tx, property, people)
    await planFollowUps(ctx, tx, property.id)
    return property
  })
}

/**
 * Puts a home with its spaces on record, in the caller's transaction. The same id again is the same home, left as it
 * is. Who has to do with it is the caller's to add.
 */
export async function createProperty(ctx: Ctx, tx: Db, { spaces, timeZone, ...input }: NewHomeBody) {
  const id = input.id ?? newId()
  const known = await store.findProperty(tx, id)
  if (known) return { property: known, isNew: false }
  await checkHome(tx, input)
  const now = ctx.now()
  const zone = timeZone ?? (await getCompany(tx)).timeZone
  const isNew = await store.insertProperty(tx, {
    ...input,
    fuels: [...new Set(input.fuels)],
    id,
    timeZone: zone,
    createdAt: now,
    updatedAt: now,
  })
  const property = await store.getProperty(tx, id)
  if (isNew) {
    await addSpaces(tx, id, spaces)
    await audit(ctx, tx, { action: 'property.add', subjectKind: 'property', subjectId: id, after: property })
  }
  return { property, isNew }
}

interface Checked {
  latitude?: number | null | undefined
  longitude?: number | null | undefined
  jurisdictionId?: string | null | undefined
}

/** What only the whole record or other records can tell. */
async function checkHome(db: Db, home: Checked): Promise<void> {
  if (((home.latitude ?? null) === null) !== ((home.longitude ?? null) === null)) {
    const missing = home.latitude == null ? 'latitude' : 'longitude'
    throw invalid({ pointer: `#/${missing}`, detail: 'give latitude and longitude together, or neither' })
  }
  if (home.jurisdictionId && !(await store.isJurisdiction(db, home.jurisdictionId))) {
    throw invalid({ pointer: '#/jurisdictionId', detail: 'there is no such jurisdiction' })
  }
}

export async function changeProperty(
  ctx: Ctx,
  id: string,
  seen: number,
  change: ChangePropertyBody,
): Promise<PropertyRecord> {
  const { soldOn, fuels, ...plain } = change
  return update(ctx, id, seen, 'property.change', {
    ...plain,
    ...(fuels && { fuels: [...new Set(fuels)] }),
    ...(soldOn !== undefined && { soldOn: fromDay(soldOn) }),
  })
}

/** Out of the lists and out of the follow-ups, with the history kept. */
export async function archiveProperty(ctx: Ctx, id: string, seen: number): Promise<PropertyRecord> {
  const next = await findNextVisit(ctx.db, { propertyId: id }, ctx.now())
  if (next) throw new Problem('wrong-state', standingVisit(next))
  return update(ctx, id, seen, 'property.archive', { archivedAt: ctx.now() })
}

export function restoreProperty(ctx: Ctx, id: string, seen: number): Promise<PropertyRecord> {
  return update(ctx, id, seen, 'property.restore', { archivedAt: null })
}

/** Year built, fuels, owner or tenant: all of it may change what is due. */
function update(
  ctx: Ctx,
  id: string,
  seen: number,
  action: string,
  change: Parameters<typeof store.updateProperty>[3],
): Promise<PropertyRecord> {
  return ctx.db.$transaction(async (tx) => {
    const before = await store.getProperty(tx, id)
    if (before.version !== seen) throw changedMeanwhile(seen, before)
    await checkHome(tx, { ...before, ...(change as Checked) })
    const stored = await store.updateProperty(tx, id, seen, { ...change, updatedAt: ctx.now() })
    const after = await store.getProperty(tx, id)
    if (!stored) throw changedMeanwhile(seen, after)
    await audit(ctx, tx, { action, subjectKind: 'property', subjectId: id, before, after })
    await planFollowUps(ctx, tx, id)
    return after
  })
}
