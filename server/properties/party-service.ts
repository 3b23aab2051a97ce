import { audit } from '../audit/store.ts'
import type { Ctx } from '../ctx.ts'
import type { Db } from '../db.ts'
import { invalid } from '../errors.ts'
import { planFollowUps } from '../follow-ups/service.ts'
import { fromDay } from '../time.ts'
import { changedMeanwhile } from '../versions.ts'
import type { ChangePartiesBody, NewParty, PartiesView } from './party-schema.ts'
import * as store from './party-store.ts'
import { getProperty, updateProperty } from './store.ts'

/** People of a home that is new. Without a named contact the first is written to. */
export async function addParties(
  ctx: Ctx,
  tx: Db,
  home: { id: string; timeZone: string },
  parties: readonly NewParty[],
): Promise<void> {
  await checkKnown(tx, parties)
  const first = parties.find((party) => party.isContact) ?? parties[0]
  const today = ctx.today(home.timeZone)
  for (const party of parties) {
    await store.upsertParty(tx, home.id, { ...party, isContact: party === first }, today)
  }
}

/** Someone who now has to do with a home on record: the contact only where there is none. */
export async function joinParty(
  ctx: Ctx,
  tx: Db,
  home: { id: string; timeZone: string },
  party: Omit<NewParty, 'isContact'>,
): Promise<void> {
  const there = await store.listParties(tx, home.id)
  if (there.some((each) => each.customerId === party.customerId)) return
  const isContact = !there.some((each) => each.isContact)
  await store.upsertParty(tx, home.id, { ...party, isContact }, ctx.today(home.timeZone))
}

/** Who has to do with the home from now on. Whoever is left out stays in the history, and is no longer written to. */
export async function changeParties(
  ctx: Ctx,
  propertyId: string,
  seen: number,
  { parties, soldOn }: ChangePartiesBody,
): Promise<PartiesView> {
  return ctx.db.$transaction(async (tx) => {
    const home = await getProperty(tx, propertyId)
    const sale = soldOn === undefined ? {} : { soldOn: fromDay(soldOn) }
    const stored = await updateProperty(tx, propertyId, seen, { ...sale, updatedAt: ctx.now() })
    if (!stored) throw changedMeanwhile(seen, home)
    await checkKnown(tx, parties)

    const before = await store.listParties(tx, propertyId)
    const today = ctx.today(home.timeZone)
    const isSame = (a: NewParty) => (b: NewParty) => a.customerId === b.customerId && a.role === b.role
    await store.clearContact(tx, propertyId)
    for (const party of before) {
      if (!parties.some(isSame(party))) await store.endParty(tx, propertyId, party, today)
    }
    for (const party of parties) await store.upsertParty(tx, propertyId, party, today)
    const gone = before.filter((old) => !parties.some((party) => party.customerId === old.customerId))
    await store.endContactWith(tx, propertyId, [...new Set(gone.map((party) => party.customerId))], ctx.now())

    const after = await store.listParties(tx, propertyId)
    const action = 'property.change-parties'
    await audit(ctx, tx, { action, subjectKind: 'property', subjectId: propertyId, before, after })
    await planFollowUps(ctx, tx, propertyId)
    return { id: propertyId, version: seen + 1, parties: after }
  })
}

async function checkKnown(tx: Db, parties: readonly NewParty[]): Promise<void> {
  const unknown = await store.unknownCustomers(
    tx,
    parties.map((party) => party.customerId),
  )
  if (unknown.length === 0) return
  throw invalid(
    ...parties.flatMap(({ customerId }, i) =>
      unknown.includes(customerId)
        ? [{ pointer: `#/parties/${i}/customerId`, detail: 'there is no such customer' }]
        : [],
    ),
  )
}
