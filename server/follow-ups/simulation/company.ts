import { addDays, addMonths, type Day } from '../../../trade/dates.ts'
import type { DetailsOf, Equipment } from '../../../trade/equipment.ts'
import { type EquipmentDates, equipmentDates } from '../../../trade/follow-ups/equipment-dates.ts'
import type { FollowUpEstimate, FollowUpFinding, FollowUpVisit } from '../../../trade/follow-ups/facts.ts'
import type { Policy } from '../../../trade/follow-ups/policy.ts'
import type { Property } from '../../../trade/property.ts'
import type { Household, OpenFollowUp } from '../household.ts'
import type { Chance } from './chance.ts'

/** A made-up company: homes, what is fitted in them, and whom to write to. All of it is invented. */
export interface Person {
  id: string
  receiver: Household['receiver']
  /** When they asked for tips; null = never. */
  tipsSince: Date | null
  /** Homes about which they are written to. */
  homes: MadeUpHome[]
  /** Mail that offers work, and when it went out. */
  offers: { sendAfter: Date; sentAt: Date }[]
  /** When their household is next looked at for notices; later entries for other times are stale. */
  lookAt: number
}

export interface Device {
  equipment: Equipment
  /** As kept since it was last saved. */
  dates: EquipmentDates
  replacedById: string | null
}
export interface MadeUpVisit extends FollowUpVisit {
  person: Person
  startsAt: Date
  bookedAt: Date
}
export interface MadeUpEstimate extends FollowUpEstimate {
  person: Person
  sentAt: Date
}
export interface MadeUpFinding extends FollowUpFinding {
  text: string
}
export interface OpenInHome extends OpenFollowUp {
  assumed: boolean
  /** The waiting request that made it `asked`. */
  requestId: string | null
}

export interface MadeUpHome {
  id: string
  line1: string
  city: string
  zone: string
  property: Property
  devices: Device[]
  findings: MadeUpFinding[]
  visits: MadeUpVisit[]
  estimates: MadeUpEstimate[]
  contact: Person | null
  archived: boolean
  open: OpenInHome[]
  /** `kind subject dueOn` of what was ended, why, and what had been said: not opened for that date again. */
  ended: Map<string, { why: string; lastStep: string | null }>
  /** When it is next planned; later entries for other times are stale. */
  planAt: number
}

export interface Company {
  zone: string
  homes: MadeUpHome[]
  people: Person[]
  newId: () => string
}

/** Most homes lie where the company does; the others prove that midnight is the home's own. */
export const COMPANY_ZONE = 'America/New_York'
const ZONES = [
  ...Array<string>(14).fill(COMPANY_ZONE),
  ...[
    'America/Chicago',
    'America/Los_Angeles',
    'America/Phoenix',
    'Pacific/Honolulu',
    'America/St_Johns',
    'Pacific/Kiritimati',
  ],
]
const CITIES = ['Port Ansel', 'Gale Point', 'Millbrook', 'North Quay'] as const

/** Ids as UUIDs that count up, so that a run can be written to a database and named in a fault. */
function counter(): () => string {
  let count = 0
  return () => `00000000-0000-7000-8000-${(++count).toString(16).padStart(12, '0')}`
}

export function makeCompany(chance: Chance, count: number, today: Day, policy: Policy): Company {
  const company: Company = { zone: COMPANY_ZONE, homes: [], people: [], newId: counter() }
  while (company.homes.length < count) {
    const person = addPerson(company, chance, new Date(`${today}T00:00:00Z`))
    // One in twenty rents out several homes.
    const homes = chance.is(0.05) ? chance.between(2, 7) : 1
    for (let n = 0; n < homes && company.homes.length < count; n++) {
      addHome(company, person, chance, today, policy, homes > 1)
    }
  }
  return company
}

export function addPerson(company: Company, chance: Chance, now: Date): Person {
  const id = company.newId()
  const n = company.people.length + 1
  const isWarm = chance.is(0.2)
  const wants = { ...(chance.is(0.03) && { reminder: false }), ...(isWarm && { tips: true }) }
  const person: Person = {
    id,
    receiver: {
      id,
      name: `Customer ${n}`,
      email: chance.is(0.93) ? `customer-${n}@example.com` : null,
      phone: '555-0142',
      language: chance.is(0.2) ? 'es' : 'en',
      archived: false,
      suppressedFor: null,
      allowed: null,
      wants,
    },
    tipsSince: isWarm ? new Date(now.getTime() - chance.between(1, 700) * 86_400_000) : null,
    homes: [],
    offers: [],
    lookAt: Infinity,
  }
  company.people.push(person)
  return person
}

function addHome(
  company: Company,
  person: Person,
  chance: Chance,
  today: Day,
  policy: Policy,
  isRented: boolean,
): void {
  const inspectedOn = addDays(today, -chance.between(1, 3600))
  const home: MadeUpHome = {
    id: company.newId(),
    line1: `${company.homes.length + 1} Quay Lane`,
    city: chance.pick(CITIES),
    zone: chance.pick(ZONES),
    property: {
      yearBuilt: chance.is(0.9) ? chance.between(1920, 2020) : null,
      yearAltered: null,
      levels: null,
      areaSqFt: null,
      fuels: null,
      hasGasPiping: null,
      garage: null,
      garageOpensIntoHome: null,
      tenure: isRented ? 'rented' : chance.is(0.9) ? 'owner' : null,
      lastInspectedOn: chance.is(0.95) ? inspectedOn : null,
      soldOn: null,
    },
    devices: [],
    findings: [],
    visits: [],
    estimates: [],
    contact: person,
    archived: false,
    open: [],
    ended: new Map(),
    planAt: Infinity,
  }
  const alarms = chance.between(4, 8)
  for (let n = 0; n < alarms; n++) addDevice(company, home, anyAlarm(chance, n, today), today, policy)
  if (chance.is(0.7)) addDevice(company, home, anyProtector(chance, today), today, policy)
  person.homes.push(home)
  company.homes.push(home)
}

export type NewDevice = Omit<Equipment, 'id' | 'spaceId' | 'parentId' | 'retiredOn'>

export function addDevice(
  company: Company,
  home: MadeUpHome,
  device: NewDevice,
  today: Day,
  policy: Policy,
): Device {
  const equipment = {
    ...device,
    id: company.newId(),
    spaceId: null,
    parentId: null,
    retiredOn: null,
  } as Equipment
  const added = { equipment, dates: equipmentDates(equipment, today, { policy }), replacedById: null }
  home.devices.push(added)
  return added
}

/** Made at any time in the last twelve years, on 29 February more often than chance would have it. */
function anyAlarm(chance: Chance, n: number, today: Day): NewDevice {
  const madeOn = chance.is(0.03) ? leapDayBefore(today, chance) : addDays(today, -chance.between(0, 4300))
  const senses = chance.pick(['smoke', 'smoke', 'smoke', 'smoke-and-co', 'co', 'heat'] as const)
  const power = chance.pick(['mains-and-battery', 'mains', 'battery', 'sealed-battery'] as const)
  const details: DetailsOf<'alarm'> = { senses, power, buttonTest: chance.is(0.02) ? 'silent' : 'sounds' }
  if (chance.is(0.5)) details.batteryChangedOn = addDays(today, -chance.between(0, 500))
  if (chance.is(0.2)) details.makerLifeYears = chance.between(5, 10)
  const isDated = chance.is(0.9)
  return {
    kind: 'alarm',
    label: `Alarm ${n + 1}`,
    details,
    manufacturedOn: isDated ? madeOn : null,
    installedOn: chance.is(0.5) ? addMonths(madeOn, 2) : null,
    lastCheckedOn: addDays(today, -chance.between(1, 900)),
  } as NewDevice
}

function leapDayBefore(today: Day, chance: Chance): Day {
  const year = Number(today.slice(0, 4))
  return `${year - (year % 4) - 4 * chance.between(1, 2)}-02-29` as Day
}

function anyProtector(chance: Chance, today: Day): NewDevice {
  const fittedOn = addDays(today, -chance.between(30, 4000))
  return {
    kind: 'surge-protector',
    label: 'Surge protector at the panel',
    details: { indicator: chance.is(0.03) ? 'dark' : 'good' },
    manufacturedOn: null,
    installedOn: chance.is(0.8) ? fittedOn : null,
    lastCheckedOn: chance.is(0.7) ? addDays(today, -chance.between(1, 400)) : null,
  } as NewDevice
}
