import { equipmentDates } from '../../trade/follow-ups/equipment-dates.ts'
import { addDays, type Day } from '../../trade/dates.ts'
import type { Equipment } from '../../trade/equipment.ts'
import type { Severity } from '../../trade/verdict.ts'
import type { Ctx } from '../../server/ctx.ts'
import { newId } from '../../server/ids.ts'
import { dayInZone, fromDay } from '../../server/time.ts'

export interface Household {
  customerId: string
  propertyId: string
  zone: string
}

let street = 0

/** A home and the person who is written to about it. */
export async function buildHousehold(
  { db }: Ctx,
  more: {
    email?: string | null
    name?: string
    phone?: string
    language?: 'en' | 'es'
    zone?: string
    customerId?: string
    line1?: string
    city?: string
    yearBuilt?: number
    tenure?: string
    lastInspectedOn?: Day
  } = {},
): Promise<Household> {
  const propertyId = newId()
  const customerId = more.customerId ?? newId()
  const zone = more.zone ?? 'America/New_York'
  if (!more.customerId) {
    await db.customer.create({
      data: {
        id: customerId,
        kind: 'person',
        name: more.name ?? 'Robin Vale',
        email: more.email === undefined ? `home-${customerId}@example.com` : more.email,
        phone: more.phone ?? '555-0142',
        language: more.language ?? 'en',
      },
    })
  }
  await db.property.create({
    data: {
      id: propertyId,
      line1: more.line1 ?? `${++street} Quay Lane`,
      city: more.city ?? 'Port Ansel',
      region: 'NY',
      postcode: '12990',
      timeZone: zone,
      yearBuilt: more.yearBuilt ?? null,
      tenure: more.tenure ?? null,
      lastInspectedOn: fromDay(more.lastInspectedOn ?? null),
      parties: { create: { customerId, role: 'owner', isContact: true } },
    },
  })
  return { customerId, propertyId, zone }
}

/** Stores a piece of equipment with the dates that the trade works out for it. */
export async function storeEquipment(
  { db, now }: Ctx,
  home: Household,
  equipment: Equipment,
): Promise<string> {
  const today = dayInZone(now(), home.zone)
  const dates = equipmentDates(equipment, today)
  await db.equipment.create({
    data: {
      id: equipment.id,
      propertyId: home.propertyId,
      kind: equipment.kind,
      label: equipment.label,
      details: equipment.details as object,
      manufacturedOn: fromDay(equipment.manufacturedOn),
      installedOn: fromDay(equipment.installedOn),
      lastCheckedOn: fromDay(equipment.lastCheckedOn ?? null),
      retiredOn: fromDay(equipment.retiredOn),
      replaceBy: fromDay(dates.replaceBy),
      replaceByAssumed: dates.assumed,
      nextCheckOn: fromDay(dates.nextCheckOn),
    },
  })
  return equipment.id
}

/** A smoke alarm made so that its ten years end on `replaceBy`. */
export function buildAlarm(ctx: Ctx, home: Household, replaceBy: Day, label = 'Hall alarm'): Promise<string> {
  const made = `${Number(replaceBy.slice(0, 4)) - 10}${replaceBy.slice(4)}` as Day
  return storeEquipment(ctx, home, {
    id: newId(),
    kind: 'alarm',
    label,
    spaceId: null,
    parentId: null,
    details: { senses: 'smoke', power: 'mains' },
    manufacturedOn: made,
    installedOn: null,
    retiredOn: null,
  } as Equipment)
}

/** A surge protector at the panel, put in and looked at on those days. */
export function buildProtector(
  ctx: Ctx,
  home: Household,
  { installedOn, lastCheckedOn, details = {} }: { installedOn: Day; lastCheckedOn: Day; details?: object },
): Promise<string> {
  return storeEquipment(ctx, home, {
    id: newId(),
    kind: 'surge-protector',
    label: 'Panel',
    spaceId: null,
    parentId: null,
    details,
    manufacturedOn: null,
    installedOn,
    lastCheckedOn,
    retiredOn: null,
  } as Equipment)
}

export async function buildTechnician({ db }: Ctx, name = 'Jo Marsh'): Promise<string> {
  const id = newId()
  await db.user.create({ data: { id, email: `${id}@example.com`, name, role: 'technician' } })
  return id
}

export async function buildVisit(
  { db, now }: Ctx,
  home: Household,
  startsAt: Date,
  more: { state?: string; technicianId?: string; createdAt?: Date; sequence?: number } = {},
): Promise<string> {
  const id = newId()
  const technicianId = more.technicianId ?? (await buildTechnician({ db } as Ctx))
  await db.visit.create({
    data: {
      id,
      propertyId: home.propertyId,
      customerId: home.customerId,
      technicianId,
      kind: 'inspection',
      state: more.state ?? 'booked',
      windowStartsAt: startsAt,
      windowEndsAt: new Date(startsAt.getTime() + 2 * 3_600_000),
      startsAt,
      lengthMinutes: 90,
      endsAt: new Date(startsAt.getTime() + 90 * 60_000),
      sequence: more.sequence ?? 0,
      createdAt: more.createdAt ?? now(),
      updatedAt: more.createdAt ?? now(),
    },
  })
  return id
}

export async function buildFinding(
  ctx: Ctx,
  home: Household,
  more: {
    severity?: Severity
    state?: string
    foundOn?: Day
    watchUntil?: Day | null
    refusedAt?: string | null
    text?: string
  } = {},
): Promise<string> {
  const { db } = ctx
  const foundOn = more.foundOn ?? dayInZone(ctx.now(), home.zone)
  const technicianId = await buildTechnician(ctx)
  const at = new Date(`${addDays(foundOn, -3000)}T12:00:00Z`)
  const visitId = await buildVisit(ctx, home, at, { state: 'cancelled', technicianId })
  const inspectionId = newId()
  await db.inspection.create({
    data: { id: inspectionId, propertyId: home.propertyId, visitId, technicianId, checklistVersion: 1 },
  })
  const id = newId()
  await db.finding.create({
    data: {
      id,
      propertyId: home.propertyId,
      inspectionId,
      itemId: 'panel.cover',
      severity: more.severity ?? 'repair',
      state: more.state ?? 'open',
      text: more.text ?? 'Cover of the panel is missing a screw',
      foundOn: fromDay(foundOn),
      watchUntil: fromDay(more.watchUntil ?? null),
      ...(more.refusedAt && { refusal: { name: 'Robin Vale', at: more.refusedAt, statement: 'It stays' } }),
    },
  })
  return id
}
