import { z } from 'zod'
import { type Adoption, type Amendment } from '../../trade/editions.ts'
import { theUser } from '../accounts/service.ts'
import { audit } from '../audit/store.ts'
import type { Ctx } from '../ctx.ts'
import { refusedBy } from '../db.ts'
import { invalid, Problem } from '../errors.ts'
import { newId } from '../ids.ts'
import { decodeCursor, toPage } from '../paging.ts'
import { changedMeanwhile } from '../versions.ts'
import type { companyBody, jurisdictionBody, jurisdictionChange } from './schema.ts'
import * as store from './store.ts'

export async function readCompany(ctx: Ctx) {
  return store.companyOf(await store.getCompany(ctx.db))
}

export async function changeCompany(ctx: Ctx, seen: number, change: z.output<typeof companyBody>) {
  return ctx.db.$transaction(async (tx) => {
    const before = store.companyOf(await store.getCompany(tx))
    const stored = await store.updateCompany(tx, seen, change as store.CompanyChange)
    const after = store.companyOf(await store.getCompany(tx))
    if (!stored) throw changedMeanwhile(seen, after)
    await audit(ctx, tx, { action: 'company.change', subjectKind: 'company', subjectId: null, before, after })
    return after
  })
}

export async function listJurisdictions(ctx: Ctx) {
  return (await store.listJurisdictions(ctx.db)).map(store.jurisdictionOf)
}

export async function readJurisdiction(ctx: Ctx, id: string) {
  return store.jurisdictionOf(await store.getJurisdiction(ctx.db, id))
}

export async function addJurisdiction(ctx: Ctx, input: z.output<typeof jurisdictionBody>) {
  const id = input.id ?? newId()
  const existing = await ctx.db.jurisdiction.findUnique({ where: { id } })
  if (existing) return store.jurisdictionOf(existing)
  try {
    return await ctx.db.$transaction(async (tx) => {
      const row = await tx.jurisdiction.create({
        data: {
          ...input,
          id,
          adoptions: inOrder(input.adoptions),
          amendments: signed(ctx, input.amendments as Amendment[], []),
        },
      })
      await audit(ctx, tx, {
        action: 'jurisdiction.add',
        subjectKind: 'jurisdiction',
        subjectId: id,
        after: row,
      })
      return store.jurisdictionOf(row)
    })
  } catch (error) {
    throw refusedBy(error, 'name') ? nameTaken(input.name) : error
  }
}

export async function changeJurisdiction(
  ctx: Ctx,
  id: string,
  seen: number,
  change: z.output<typeof jurisdictionChange>,
) {
  try {
    return await ctx.db.$transaction(async (tx) => {
      const before = store.jurisdictionOf(await store.getJurisdiction(tx, id))
      const { adoptions, amendments, ...plain } = change
      const stored = await store.updateJurisdiction(tx, id, seen, {
        ...plain,
        ...(adoptions && { adoptions: inOrder(adoptions) }),
        ...(amendments && {
          amendments: signed(ctx, amendments as Amendment[], before.amendments as store.RecordedAmendment[]),
        }),
      })
      const after = store.jurisdictionOf(await store.getJurisdiction(tx, id))
      if (!stored) throw changedMeanwhile(seen, after)
      await audit(ctx, tx, {
        action: 'jurisdiction.change',
        subjectKind: 'jurisdiction',
        subjectId: id,
        before,
        after,
      })
      return after
    })
  } catch (error) {
    throw change.name && refusedBy(error, 'name') ? nameTaken(change.name) : error
  }
}

const nameTaken = (name: string) =>
  new Problem('already-exists', `There is a jurisdiction named ${name} already.`)

function inOrder(adoptions: readonly { edition: string; from: string }[]): store.JsonArray {
  const sorted = [...adoptions].sort((a, b) => a.from.localeCompare(b.from)) as Adoption[]
  const twice = sorted.find((each, index) => sorted[index + 1]?.from === each.from)
  if (twice)
    throw invalid({ pointer: '#/adoptions', detail: `two editions begin on ${twice.from}; keep one` })
  return sorted as unknown as store.JsonArray
}

/** Amendments say who entered them and when; one that was there before keeps its entry. */
function signed(
  ctx: Ctx,
  now: readonly Amendment[],
  before: readonly store.RecordedAmendment[],
): store.JsonArray {
  const same = (a: Amendment, b: Amendment) =>
    a.requirement === b.requirement &&
    a.effect === b.effect &&
    a.from === b.from &&
    a.source === b.source &&
    a.note === b.note
  return now.map((each) => {
    const kept = before.find((old) => same(old, each))
    return { ...each, by: kept?.by ?? theUser(ctx).name, at: kept?.at ?? ctx.now().toISOString() }
  }) as unknown as store.JsonArray
}

export async function listAudit(
  ctx: Ctx,
  query: {
    subjectKind?: string | undefined
    subjectId?: string | undefined
    cursor?: string | undefined
    limit: number
  },
) {
  const before = decodeCursor(query.cursor, z.tuple([z.iso.datetime(), z.uuid()]))
  const rows = await store.listAudit(ctx.db, { ...query, before, limit: query.limit + 1 })
  const page = toPage(rows, query.limit, (last) => [last.at.toISOString(), last.id])
  return {
    ...page,
    items: page.items.map((row) => ({
      id: row.id,
      at: row.at.toISOString(),
      actorKind: row.actor_kind,
      actorName: row.actor_name,
      action: row.action,
      subjectKind: row.subject_kind,
      subjectId: row.subject_id,
      before: row.before,
      after: row.after,
    })),
  }
}
