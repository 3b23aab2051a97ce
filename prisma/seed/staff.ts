import { hash } from '@node-rs/argon2'
import type { Prisma } from '../generated/client.ts'
import type { Chance } from './chance.ts'
import { DEMO_PASSWORD } from './logins.ts'

const PEOPLE = [
  ['admin@example.com', 'Maren Hale', 'admin'],
  ['office@example.com', 'Iris Calloway', 'office'],
  ['office2@example.com', 'Jonah Peña', 'office'],
  ['technician@example.com', 'Cal Dunmore', 'technician'],
  ['technician2@example.com', 'Rosa Okafor', 'technician'],
  ['technician3@example.com', 'Silas Fenn', 'technician'],
  ['technician4@example.com', 'Yara Lindqvist', 'technician'],
  ['technician5@example.com', 'Theo Ramos', 'technician'],
  ['technician6@example.com', 'Nora Birch', 'technician'],
] as const

/** Three in the office, the admin among them, and six technicians. */
export async function demoStaff(chance: Chance, at: Date): Promise<Prisma.UserCreateManyInput[]> {
  const passwordHash = await hash(DEMO_PASSWORD, { memoryCost: 19_456, timeCost: 2, parallelism: 1 })
  return PEOPLE.map(([email, name, role], index) => ({
    id: chance.id(at),
    email,
    name,
    role,
    phone: `555-01${String(10 + index).padStart(2, '0')}`,
    passwordHash,
    createdAt: at,
  }))
}
