import type { MadeUpHome, MadeUpVisit, Person } from '../../server/follow-ups/simulation/company.ts'
import type { Act } from '../../server/follow-ups/simulation/simulate.ts'
import type { Ctx } from '../../server/ctx.ts'
import type { Db } from '../../server/db.ts'
import { closeFollowUps, restUntil, setAsked } from '../../server/follow-ups/store.ts'
import { newId } from '../../server/ids.ts'
import { fromDay } from '../../server/time.ts'
import { addDays } from '../../trade/dates.ts'
import { DEFAULT_POLICY } from '../../trade/follow-ups/policy.ts'
import { FOLLOW_UP_KINDS } from '../../trade/follow-ups/kinds.ts'
import { buildTechnician } from './follow-up.ts'

/** A simulated home and its person as they stood at a moment. */
export interface Snapshot {
  home: MadeUpHome
  person: Person | null
}

/** Taken apart from the simulation, which goes on changing them. */
export function snapshot(home: MadeUpHome): Snapshot {
  const { open: _open, ended: _ended, contact, visits, estimates, ...plain } = home
  const alone = <Record extends { person: Person }>({ person, ...rest }: Record) => ({
    ...rest,
    person: { id: person.id },
  })
  const copy = structuredClone({
    ...plain,
    visits: visits.map(alone),
    estimates: estimates.map(alone),
    person: contact && { ...contact, homes: [], offers: [] },
  })
  const { person, ...rest } = copy
  return { home: { ...rest, open: [], ended: new Map(), contact: null } as unknown as MadeUpHome, person }
}

const timesFrom = (startsAt: Date) => {
  const after = (minutes: number) => new Date(startsAt.getTime() + minutes * 60_000)
  return {
    ...{ windowStartsAt: startsAt, windowEndsAt: after(120) },
    ...{ startsAt, endsAt: after(90), lengthMinutes: 90 },
  }
}

/** Writes simulated homes to a database, and afterwards what has changed of them. */
export function copyTo({ db, now }: Ctx) {
  const written = new Map<string, string>()
  const people = new Set<string>()
  const contacts = new Map<string, string>()
  const inspections = new Map<string, string>()

  /** @returns false where it stands like this already */
  const isNew = (id: string, value: unknown) => {
    const text = JSON.stringify(value)
    if (written.get(id) === text) return false
    written.set(id, text)
    return true
  }

  async function writePerson(tx: Db, { id, receiver, tipsSince }: Person): Promise<void> {
    if (!isNew(id, { receiver, tipsSince })) return
    const { name, email, phone, language, wants, suppressedFor } = receiver
    const data = { kind: 'person', name, email, phone, language }
    await tx.customer.upsert({ where: { id }, create: { id, ...data }, update: data })
    people.add(id)
    if (email && suppressedFor) {
      const address = { email, reason: suppressedFor, detail: '', createdAt: now() }
      await tx.suppressedAddress.createMany({ data: [address], skipDuplicates: true })
    }
    for (const [category, allowed] of Object.entries(wants)) {
      const changedAt = category === 'tips' && tipsSince ? tipsSince : now()
      const word = { allowed: allowed ?? false, changedAt, source: 'office' }
      const key = { customerId: id, category }
      await tx.messagePreference.upsert({
        where: { customerId_category: key },
        create: { ...key, ...word },
        update: word,
      })
    }
  }

  async function writeContact(tx: Db, home: MadeUpHome, person: Person | null): Promise<void> {
    const before = contacts.get(home.id)
    if (!person || before === person.id) return
    if (before) {
      const where = { propertyId: home.id, customerId: before }
      await tx.propertyParty.updateMany({ where, data: { until: fromDay(home.property.soldOn) } })
    }
    const since = fromDay(home.property.soldOn) ?? now()
    const party = { propertyId: home.id, customerId: person.id, role: 'owner', isContact: true, since }
    await tx.propertyParty.create({ data: party })
    contacts.set(home.id, person.id)
  }

  async function writeDevices(tx: Db, { id: propertyId, devices }: MadeUpHome): Promise<void> {
    const changed = devices.filter((device) => isNew(device.equipment.id, device))
    // New ones first: the old ones name what took their place.
    for (const { equipment, dates, replacedById } of [...changed].reverse()) {
      const { id, kind, label, details, manufacturedOn, installedOn, lastCheckedOn, retiredOn } = equipment
      const data = {
        ...{ propertyId, kind, label, details: details as object, replacedById },
        manufacturedOn: fromDay(manufacturedOn),
        installedOn: fromDay(installedOn),
        lastCheckedOn: fromDay(lastCheckedOn ?? null),
        retiredOn: fromDay(retiredOn),
        replaceBy: fromDay(dates.replaceBy),
        replaceByAssumed: dates.assumed,
        nextCheckOn: fromDay(dates.nextCheckOn),
      }
      await tx.equipment.upsert({ where: { id }, create: { id, ...data }, update: data })
    }
  }

  async function writeVisit(tx: Db, propertyId: string, technicianId: string, visit: MadeUpVisit) {
    if (!isNew(visit.id, visit)) return
    const { id, state, startsAt, bookedAt, person } = visit
    const isFirst = (await tx.visit.count({ where: { id } })) === 0
    if (!isFirst) await tx.visit.update({ where: { id }, data: { state } })
    else {
      await tx.visit.create({
        data: {
          ...{ id, propertyId, customerId: person.id, technicianId, kind: 'inspection', state },
          ...{ ...timesFrom(startsAt), createdAt: bookedAt, updatedAt: bookedAt },
        },
      })
      await tx.visitRequest.updateMany({ where: { propertyId, state: 'waiting' }, data: { state: 'booked' } })
    }
    if (state === 'no-access') await tellNobodyLetUsIn(tx, propertyId, visit)
  }

  /** The steps of the visit write that letter themselves: visits/tell.ts. */
  async function tellNobodyLetUsIn(tx: Db, propertyId: string, { id: visitId, person }: MadeUpVisit) {
    const id = newId()
    await tx.message.create({
      data: {
        ...{ id, kind: 'visit-no-access', category: 'booking', customerId: person.id, propertyId, visitId },
        ...{
          toAddress: 'x@example.com',
          dedupeKey: id,
          messageIdHeader: `<${id}@example.com>`,
          state: 'sent',
          sentAt: now(),
        },
      },
    })
  }

  async function write(tx: Db, { home, person }: Snapshot): Promise<void> {
    const { id, line1, city, zone, property } = home
    if (person) await writePerson(tx, person)
    if (isNew(id, { property, archived: home.archived })) {
      const data = {
        ...{ line1, city, timeZone: zone, yearBuilt: property.yearBuilt, tenure: property.tenure },
        lastInspectedOn: fromDay(property.lastInspectedOn),
        soldOn: fromDay(property.soldOn),
        archivedAt: home.archived ? now() : null,
      }
      const create = { id, region: 'NY', postcode: '12990', ...data }
      await tx.property.upsert({ where: { id }, create, update: data })
    }
    await writeContact(tx, home, person)
    await writeDevices(tx, home)
    const technicianId = inspections.get(`${id} technician`) ?? (await buildTechnician({ db: tx } as Ctx))
    inspections.set(`${id} technician`, technicianId)
    for (const visit of home.visits) await writeVisit(tx, id, technicianId, visit)
    for (const finding of home.findings.filter((each) => isNew(each.id, each))) {
      const { id: findingId, severity, state, foundOn, watchUntil, text } = finding
      const data = {
        ...{ propertyId: id, itemId: 'panel.cover', severity, state, text },
        ...{ foundOn: fromDay(foundOn)!, watchUntil: fromDay(watchUntil ?? null) },
        inspectionId: await inspectionOf(tx, home, technicianId),
      }
      await tx.finding.upsert({ where: { id: findingId }, create: { id: findingId, ...data }, update: data })
    }
    for (const estimate of home.estimates.filter((each) => isNew(each.id, each))) {
      const { id: estimateId, state, sentAt, expiresOn, person: asked } = estimate
      const data = {
        ...{ propertyId: id, customerId: asked.id, state, sentAt, expiresOn: fromDay(expiresOn) },
        createdById: technicianId,
      }
      await tx.estimate.upsert({
        where: { id: estimateId },
        create: { id: estimateId, ...data },
        update: data,
      })
    }
  }

  /** Long ago, called off, and of no importance but that findings belong to one. */
  async function inspectionOf(tx: Db, { id: propertyId }: MadeUpHome, technicianId: string) {
    const known = inspections.get(propertyId)
    if (known) return known
    const [visitId, id] = [newId(), newId()]
    const { customerId } = await tx.propertyParty.findFirstOrThrow({ where: { propertyId } })
    await tx.visit.create({
      data: {
        ...{ id: visitId, propertyId, customerId, technicianId, kind: 'inspection', state: 'cancelled' },
        ...timesFrom(new Date('2010-01-01T12:00:00Z')),
      },
    })
    await tx.inspection.create({
      data: { id, propertyId, visitId, technicianId, checklistVersion: 1 },
    })
    inspections.set(propertyId, id)
    return id
  }

  /** What people said about open follow-ups, or the office did. */
  async function follow(tx: Db, { home, follow = [] }: Pick<Act, 'home' | 'follow'>, person: Person | null) {
    for (const { kind, subjectId, says } of follow) {
      const open = await tx.followUp.findMany({ where: { kind, subjectId, closedAt: null } })
      const ids = open.map(({ id }) => id)
      if ('asked' in says) {
        const request = { id: says.asked, customerId: person!.id, propertyId: home.id }
        const data = [{ ...request, reason: '', source: 'private-link', createdAt: now() }]
        await tx.visitRequest.createMany({ data, skipDuplicates: true })
        await setAsked(tx, ids, says.asked, now())
      } else if ('until' in says) {
        for (const id of ids) await restUntil(tx, id, says.until, now())
      } else if ('storm' in says) {
        const dueOn = addDays(says.storm, DEFAULT_POLICY.surge.afterEventDays)
        const [first] = FOLLOW_UP_KINDS['surge-after-event'].cadence.steps
        const dates = {
          dueOn: fromDay(dueOn),
          nextNoticeOn: fromDay(addDays(dueOn, first!.days)),
        }
        const open = await tx.followUp.findFirst({ where: { kind, subjectId, closedAt: null } })
        if (open) {
          const state = open.state === 'told' ? 'planned' : open.state
          const anew = { ...dates, state, lastStep: null, snoozedUntil: null }
          await tx.followUp.update({ where: { id: open.id }, data: anew })
        } else {
          await tx.followUp.create({
            data: {
              ...{ id: newId(), propertyId: home.id, kind, subjectKind: 'equipment', subjectId },
              ...{ equipmentId: subjectId, assumed: false, reason: 'A storm', state: 'planned', ...dates },
            },
          })
        }
      } else {
        const how =
          'done' in says
            ? ({ state: 'done', reason: says.done } as const)
            : ({ state: 'dismissed', reason: says.dismissed } as const)
        await closeFollowUps(tx, ids, { ...how, byId: null, now: now() })
      }
    }
  }

  return { db, write, follow }
}
