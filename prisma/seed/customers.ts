import type { Prisma } from '../generated/client.ts'
import type { Chance } from './chance.ts'
import type { DemoHome } from './homes.ts'
import { FIRMS, FIRST_NAMES, LAST_NAMES } from './words.ts'

/** Who owns, lives in and pays for the homes: most one home each, a few firms that let out several. */
export function demoCustomers(chance: Chance, homes: readonly DemoHome[]) {
  const customers: (Prisma.CustomerCreateManyInput & { id: string })[] = []
  const parties: Prisma.PropertyPartyCreateManyInput[] = []
  const contactOf = new Map<string, string>()
  const person = (at: Date) => {
    const name = `${chance.pick(FIRST_NAMES)} ${chance.pick(LAST_NAMES)}`
    const number = customers.length + 1
    const reachable = chance.percent(93)
    const customer = {
      id: chance.id(at),
      kind: 'person',
      name,
      email: reachable ? `${plainLetters(name)}.${number}@example.com` : null,
      phone: `555-01${String(number % 100).padStart(2, '0')}`,
      language: chance.percent(12) ? 'es' : 'en',
      createdAt: at,
      updatedAt: at,
    }
    customers.push(customer)
    return customer.id
  }
  const at = homes[0]!.property.createdAt as Date
  const firms = FIRMS.map((name, index) => {
    const customer = {
      id: chance.id(at),
      kind: 'firm',
      name,
      email: `office@${plainLetters(name)}.example.com`,
      phone: `555-01${String(80 + index)}`,
      addressLines: [`${10 + index} Harbor Street`, 'Port Ansel, ME 04991'],
      createdAt: at,
      updatedAt: at,
    }
    customers.push(customer)
    return customer.id
  })
  for (const home of homes) {
    const since = home.property.createdAt as Date
    const party = (customerId: string, role: string, isContact: boolean) =>
      parties.push({ propertyId: home.property.id, customerId, role, isContact, since })
    const owner = home.rented && chance.percent(55) ? chance.pick(firms) : person(since)
    party(owner, 'owner', true)
    contactOf.set(home.property.id, owner)
    if (home.rented) party(person(since), 'occupant', false)
  }
  return { customers, parties, contactOf }
}

function plainLetters(name: string): string {
  return name
    .normalize('NFD')
    .replace(/\p{M}/gu, '')
    .toLowerCase()
    .replace(/[^a-z]+/g, '.')
}
