import type { FastifyInstance } from 'fastify'
import { afterAll } from 'vitest'
import { hashToken } from '../../../server/accounts/secrets.ts'
import { buildApp } from '../../../server/app.ts'
import { makeBaseCtx } from '../../../server/base-ctx.ts'
import type { BaseCtx } from '../../../server/ctx.ts'
import { newId } from '../../../server/ids.ts'
import { dayInZone } from '../../../server/time.ts'
import { KESTREL_ROW } from '../../../prisma/seed/company.ts'
import { buildTestApp } from '../../build/app.ts'
import { buildInspectableHome } from '../../build/inspection.ts'
import { buildJpeg } from '../../build/picture.ts'

/** The office that schedules share, one after the other: a server on a database, each schedule a home of its own. */
export interface Office {
  base: BaseCtx
  /** Sent along by the desk. */
  deskCookie: string
  clock: { now: Date }
  pictures: readonly ArrayBuffer[]
  server: () => FastifyInstance
  /** A new server on the same database; the old one is gone. */
  restart: () => Promise<void>
  newVisit: () => Promise<Place>
}

export interface Place {
  visitId: string
  /** Of the visit, on the company's wall. */
  day: string
  technicianId: string
  cookie: string
  hall: string
  kitchen: string
  panelId: string
  circuitId: string
  alarmId: string
}

/** Eight in the morning in New York. */
const FIRST_MORNING = Date.parse('2026-06-01T12:00:00Z')
const MS_PER_DAY = 86_400_000

/** What day it is for the company. */
export const today = ({ clock }: Office) => dayInZone(clock.now, KESTREL_ROW.timeZone)

/** So many offices on one database, each with a server and a clock of its own. */
export async function openOffices(count: number): Promise<Office[]> {
  const { base, ctx } = await buildTestApp()
  const template = await templateOf(base, await buildInspectableHome(ctx))
  const pictures = await Promise.all(
    [1, 2, 3, 4, 5].map(async (seed) => new Uint8Array(await buildJpeg(24, 16, seed)).buffer),
  )
  const desk = await newPerson(base, 'office')
  return Promise.all(
    Array.from({ length: count }, async (): Promise<Office> => {
      const clock = { now: base.now() }
      let mornings = 0
      const own = makeBaseCtx({ ...base, now: () => clock.now })
      let app = await started(own)
      afterAll(() => app.close())
      return {
        base: own,
        deskCookie: desk.cookie,
        clock,
        pictures,
        server: () => app,
        restart: async () => {
          await app.close()
          app = await started(own)
        },
        newVisit: () => {
          // Each begins on a morning of its own, whatever those before have made of the clock.
          mornings++
          clock.now = new Date(FIRST_MORNING + mornings * MS_PER_DAY)
          return newVisit(own, template)
        },
      }
    }),
  )
}

async function started(base: BaseCtx): Promise<FastifyInstance> {
  const nobodyListens = {
    subscribe: () => () => {},
    onAccess: () => {},
    isListening: () => false,
    close: async () => {},
  }
  const app = await buildApp(base, nobodyListens, { requestsPerMinute: 1e9 })
  await app.ready()
  return app
}

type Template = Awaited<ReturnType<typeof templateOf>>

/** The rows of a home, to be written again under new ids: some hundred times faster than to add one. */
async function templateOf({ db }: BaseCtx, { property }: { property: { id: string; customerId: string } }) {
  const where = { propertyId: property.id }
  return {
    property: await db.property.findUniqueOrThrow({ where: { id: property.id } }),
    spaces: await db.space.findMany({ where }),
    equipment: await db.equipment.findMany({ where }),
    customerId: property.customerId,
  }
}

async function newPerson({ db, now }: BaseCtx, role: string): Promise<{ id: string; cookie: string }> {
  const id = newId()
  const token = `session-of-${id}`
  await db.user.create({ data: { id, email: `${id}@example.com`, name: 'Ana Reyes', role } })
  await db.session.create({
    data: {
      id: newId(),
      userId: id,
      tokenHash: hashToken(token),
      userAgent: 'test',
      ip: '127.0.0.1',
      createdAt: now(),
      lastSeenAt: now(),
      expiresAt: new Date('2100-01-01T00:00:00Z'),
    },
  })
  return { id, cookie: `watchlamp=${token}` }
}

/** A home, a technician of its own who is logged in, and a visit today. */
async function newVisit(
  base: BaseCtx,
  { property, spaces, equipment, customerId }: Template,
): Promise<Place> {
  const { db } = base
  const technician = await newPerson(base, 'technician')
  const ids = new Map([property, ...spaces, ...equipment].map((row) => [row.id, newId()]))
  const again = <Id extends string | null>(id: Id) => (id === null ? null : ids.get(id)!) as Id
  const propertyId = again(property.id)
  await db.property.create({ data: { ...property, id: propertyId } as never })
  await db.space.createMany({ data: spaces.map((row) => ({ ...row, id: again(row.id), propertyId })) })
  await db.equipment.createMany({
    data: equipment.map((row) => ({
      ...row,
      id: again(row.id),
      propertyId,
      spaceId: again(row.spaceId),
      parentId: again(row.parentId),
    })) as never,
  })
  const visitId = newId()
  const startsAt = base.now()
  await db.visit.create({
    data: {
      id: visitId,
      propertyId,
      customerId,
      technicianId: technician.id,
      kind: 'inspection',
      state: 'booked',
      windowStartsAt: startsAt,
      windowEndsAt: new Date(startsAt.getTime() + 7_200_000),
      startsAt,
      lengthMinutes: 60,
      endsAt: new Date(startsAt.getTime() + 3_600_000),
    },
  })
  const roomOf = (kind: string) => again(spaces.find((row) => row.kind === kind)!.id)
  const thingOf = (kind: string) => again(equipment.find((row) => row.kind === kind)!.id)
  return {
    visitId,
    day: dayInZone(startsAt, KESTREL_ROW.timeZone),
    technicianId: technician.id,
    cookie: technician.cookie,
    hall: roomOf('hall'),
    kitchen: roomOf('kitchen'),
    panelId: thingOf('panel'),
    circuitId: thingOf('circuit'),
    alarmId: thingOf('alarm'),
  }
}
