import { addDays, type Day } from '../../trade/dates.ts'
import type { Adoption } from '../../trade/editions.ts'
import type { Equipment } from '../../trade/equipment.ts'
import { equipmentDates } from '../../trade/follow-ups/equipment-dates.ts'
import type { Home } from '../../trade/home.ts'
import type { Property, Space } from '../../trade/property.ts'
import type { Jurisdiction } from '../../trade/whole-home/context.ts'
import type { BaseCtx } from '../../server/ctx.ts'
import type { Prisma, PrismaClient } from '../generated/client.ts'
import { type Chance, makeChance } from './chance.ts'
import { demoCustomers } from './customers.ts'
import { demoEquipment } from './equipment.ts'
import { pastInspection, type PastInspection } from './history.ts'
import { asDate, demoHome, type DemoHome } from './homes.ts'
import { insertRows } from './insert.ts'
import { demoOfficeWork } from './office-work.ts'
import { demoPrices } from './prices.ts'
import { demoRequests } from './requests.ts'
import { demoStaff } from './staff.ts'
import { isWeekend, makeDiary, type Slot } from './visits.ts'
import { KESTREL_ROW } from './company.ts'

const HOMES = 400
/** Homes that have been inspected; the others are new to the company. */
const INSPECTED_PERCENT = 78
const TWO_YEARS = 730
const NO_ACCESS_PERCENT = 12
const REPLACED_PERCENT = 92

/**
 * Kestrel Row Electric of Port Ansel, with two years behind it and a full week ahead. The same seed and day give the
 * same company. Into an empty database only.
 */
export async function seedDemo(
  base: BaseCtx,
  { today, seed = 7 }: { today: Day; seed?: number },
): Promise<void> {
  const { db } = base
  const now = base.now()
  const chance = makeChance(seed)
  const founded = asDate(addDays(today, -1000))
  await db.company.create({ data: KESTREL_ROW })
  const jurisdictions = demoJurisdictions(chance, founded)
  await db.jurisdiction.createMany({ data: jurisdictions.map(({ row }) => row) })
  const staff = await demoStaff(chance, founded)
  await db.user.createMany({ data: staff })
  const technicians = staff.filter((each) => each.role === 'technician').map((each) => each.id)

  const homes = Array.from({ length: HOMES }, (_, number) =>
    demoHome(
      chance,
      number,
      today,
      jurisdictions.map(({ row }) => row.id),
    ),
  )
  const customers = demoCustomers(chance, homes)
  const equipment = new Map(homes.map((home) => [home.property.id, demoEquipment(chance, home, today)]))

  const diary = makeDiary(chance, technicians)
  const visits: Prisma.VisitCreateManyInput[] = []
  const past: PastInspection[] = []
  const payer = (home: DemoHome) => customers.contactOf.get(home.property.id)!
  const book = (
    home: DemoHome,
    slot: Slot,
    state: string,
    more: Partial<Prisma.VisitCreateManyInput> = {},
  ) => {
    const { technicianId, windowStartsAt, windowEndsAt, startsAt, endsAt, lengthMinutes } = slot
    const id = chance.id(startsAt)
    const createdAt = new Date(Math.min(startsAt.getTime() - 6 * 86_400_000, now.getTime()))
    visits.push({
      id,
      propertyId: home.property.id,
      customerId: payer(home),
      technicianId,
      kind: 'inspection',
      state,
      windowStartsAt,
      windowEndsAt,
      startsAt,
      endsAt,
      lengthMinutes,
      createdAt,
      updatedAt: createdAt,
      ...more,
    })
    return id
  }

  const lastInspected = new Map<string, Day>()
  const inspect = (home: DemoHome, slot: Slot) => {
    const visitId = book(home, slot, 'finished', {
      travelStartedAt: new Date(slot.startsAt.getTime() - 15 * 60_000),
      arrivedAt: slot.startsAt,
      finishedAt: slot.endsAt,
    })
    lastInspected.set(home.property.id, slot.day)
    const which = jurisdictions.find(({ row }) => row.id === home.property.jurisdictionId)!
    past.push(
      pastInspection(chance, {
        home: asHome(home, equipment.get(home.property.id)!),
        jurisdiction: which.rules,
        propertyId: home.property.id,
        visitId,
        technicianId: slot.technicianId,
        on: slot.day,
        endedAt: slot.endsAt,
        today,
      }),
    )
  }
  const fresh: DemoHome[] = []
  for (const home of homes) {
    const slot = chance.percent(INSPECTED_PERCENT)
      ? diary.from(addDays(today, -chance.whole(4, TWO_YEARS)))
      : null
    if (slot && slot.day < today) inspect(home, slot)
    else fresh.push(home)
  }
  bookTheWeek(chance, today, now, diary, fresh, { book, inspect })
  for (const [propertyId, seenOn] of lastInspected)
    equipment.set(
      propertyId,
      equipment.get(propertyId)!.map((each) => sinceReplaced(chance, each, seenOn, today)),
    )
  const requests = demoRequests(chance, fresh.slice(-9), payer, now)
  await db.priceItem.createMany({ data: demoPrices(chance, founded) })

  await store(db, { homes, customers, equipment, visits, past, requests, lastInspected, today })
  // Tables that nobody has measured yet make the plan of all homes slow.
  await db.$executeRaw`ANALYZE`
  await demoOfficeWork(base, today)
}

function demoJurisdictions(
  chance: Chance,
  at: Date,
): { row: Prisma.JurisdictionCreateManyInput & { id: string }; rules: Jurisdiction }[] {
  // Invented, like the town; each edition about a year after it came out.
  const editions = [
    '1968',
    '1971',
    '1975',
    '1978',
    '1981',
    '1984',
    '1987',
    '1990',
    '1993',
    '1996',
    '1999',
    '2002',
    '2005',
    '2008',
    '2011',
    '2014',
    '2017',
    '2020',
    '2023',
  ] as const
  const adoptions = (lateYears: number): Adoption[] =>
    editions.map((edition) => ({ edition, from: `${Number(edition) + lateYears}-07-01` as Day }))
  return [
    { name: 'Town of Port Ansel', adoptions: adoptions(1), amendments: [] },
    {
      name: 'Ansel County',
      adoptions: adoptions(2),
      amendments: [
        {
          requirement: 'ground-fault.places/basement-finished',
          effect: 'remove' as const,
          from: '2022-07-01' as Day,
          source: 'County ordinance 14-7 (invented for the demo)',
        },
      ],
    },
  ].map((given) => ({
    row: {
      id: chance.id(at),
      name: given.name,
      region: 'ME',
      adoptions: given.adoptions as unknown as Prisma.InputJsonArray,
      amendments: given.amendments.map((each) => ({
        ...each,
        by: 'Maren Hale',
        at: at.toISOString(),
      })) as Prisma.InputJsonArray,
    },
    rules: { ...given, isUs: true },
  }))
}

type Book = (home: DemoHome, slot: Slot, state: string, more?: Partial<Prisma.VisitCreateManyInput>) => string

/** From three days ago to the Friday of next week: busy, with gaps that can still be booked. */
function bookTheWeek(
  chance: Chance,
  today: Day,
  now: Date,
  diary: ReturnType<typeof makeDiary>,
  homes: readonly DemoHome[],
  { book, inspect }: { book: Book; inspect: (home: DemoHome, slot: Slot) => void },
): void {
  let next = 0
  for (let offset = -3; offset <= 11; offset++) {
    const day = addDays(today, offset)
    if (isWeekend(day) && offset !== 0) continue
    const wanted = offset === 0 ? 15 : offset < 0 ? 4 : Math.max(3, 14 - offset)
    for (let each = 0; each < wanted && next < homes.length - 9; each++) {
      const slot = diary.on(day)
      if (!slot) continue
      const home = homes[next++]!
      if (slot.startsAt > now)
        book(home, slot, 'booked', { note: chance.percent(20) ? 'Call ten minutes ahead.' : '' })
      else if (slot.endsAt > now) book(home, slot, 'on-site', { arrivedAt: slot.startsAt })
      else if (chance.percent(NO_ACCESS_PERCENT))
        book(home, slot, 'no-access', {
          closedReason: chance.pick(['Nobody at home, card left.', 'Gate was locked.']),
          arrivedAt: slot.startsAt,
        })
      else inspect(home, slot)
    }
  }
}

/** Most people follow the report within weeks: what had served its time, or failed, is new by now. */
function sinceReplaced(chance: Chance, piece: Equipment, seenOn: Day, today: Day): Equipment {
  const { replaceBy } = equipmentDates({ ...piece, lastCheckedOn: seenOn }, today)
  if (!replaceBy) return piece
  const installedOn = addDays(replaceBy > seenOn ? replaceBy : seenOn, chance.whole(5, 45))
  if (installedOn >= today || !chance.percent(REPLACED_PERCENT)) return piece
  const manufacturedOn = addDays(installedOn, -chance.whole(20, 150))
  const renewed = { ...piece, manufacturedOn, installedOn }
  if (renewed.kind === 'surge-protector')
    return { ...renewed, details: { ...renewed.details, indicator: 'good' } }
  if (renewed.kind !== 'alarm') return piece
  const { labelUnreadable: _, ...details } = renewed.details
  return {
    ...renewed,
    details: { ...details, buttonTest: 'sounds', labelText: manufacturedOn.replaceAll('-', ' ') },
  }
}

export function asHome(home: DemoHome, equipment: readonly Equipment[]): Home {
  const { property } = home
  return {
    property: {
      yearBuilt: property.yearBuilt,
      yearAltered: property.yearAltered ?? null,
      levels: property.levels,
      areaSqFt: property.areaSqFt,
      fuels: property.fuels as Property['fuels'],
      hasGasPiping: property.hasGasPiping ?? null,
      garage: home.garage,
      garageOpensIntoHome: property.garageOpensIntoHome ?? null,
      tenure: home.rented ? 'rented' : 'owner',
      lastInspectedOn: null,
      soldOn: null,
    },
    spaces: home.spaces as readonly Space[],
    equipment,
  }
}

interface Everything {
  homes: readonly DemoHome[]
  customers: ReturnType<typeof demoCustomers>
  equipment: ReadonlyMap<string, readonly Equipment[]>
  visits: readonly Prisma.VisitCreateManyInput[]
  past: readonly PastInspection[]
  requests: readonly Prisma.VisitRequestCreateManyInput[]
  lastInspected: ReadonlyMap<string, Day>
  today: Day
}

async function store(db: PrismaClient, all: Everything): Promise<void> {
  const properties = all.homes.map(({ property }) => {
    const on = all.lastInspected.get(property.id)
    return { ...property, lastInspectedOn: on ? asDate(on) : null }
  })
  await insertRows(db, 'customer', all.customers.customers)
  await insertRows(db, 'property', properties)
  await insertRows(db, 'property_party', all.customers.parties)
  await insertRows(
    db,
    'space',
    all.homes.flatMap(({ spaces }) => spaces),
  )
  // A circuit names its panel: parents go first.
  const pieces = equipmentRows(all)
  await insertRows(
    db,
    'equipment',
    pieces.filter((each) => !each.parentId),
  )
  await insertRows(
    db,
    'equipment',
    pieces.filter((each) => each.parentId),
  )
  await insertRows(db, 'visit_request', all.requests)
  await insertRows(db, 'visit', all.visits)
  await insertRows(
    db,
    'inspection',
    all.past.map(({ inspection }) => inspection),
  )
  await insertRows(
    db,
    'answer',
    all.past.flatMap(({ answers }) => answers),
  )
  await insertRows(
    db,
    'finding',
    all.past.flatMap(({ findings }) => findings),
  )
}

function equipmentRows({ equipment, lastInspected, today }: Everything): Prisma.EquipmentCreateManyInput[] {
  return [...equipment].flatMap(([propertyId, pieces]) => {
    // Of a home that nobody has seen yet nothing is known.
    const seenOn = lastInspected.get(propertyId)
    if (!seenOn) return []
    return pieces.map((each) => {
      const dates = equipmentDates({ ...each, lastCheckedOn: seenOn } as Equipment, today)
      return {
        id: each.id,
        propertyId,
        spaceId: each.spaceId,
        parentId: each.parentId,
        kind: each.kind,
        label: each.label,
        details: each.details as Prisma.InputJsonObject,
        manufacturedOn: each.manufacturedOn && asDate(each.manufacturedOn),
        installedOn: each.installedOn && asDate(each.installedOn),
        lastCheckedOn: asDate(seenOn),
        replaceBy: dates.replaceBy && asDate(dates.replaceBy),
        replaceByAssumed: dates.assumed,
        nextCheckOn: dates.nextCheckOn && asDate(dates.nextCheckOn),
        createdAt: asDate(seenOn),
        updatedAt: asDate(seenOn),
      }
    })
  })
}
