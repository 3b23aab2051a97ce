import type { PrismaClient } from '../../prisma/generated/client.ts'
import { KESTREL_ROW } from '../../prisma/seed/company.ts'

/** The company, which writes at any hour: the run must not wait for the morning. */
export async function openCompany(db: PrismaClient): Promise<void> {
  await db.company.create({
    data: { ...KESTREL_ROW, policy: { sendingHours: { from: '00:00', to: '24:00' } } },
  })
}

/** Homes with an alarm each at the end of its life, a second one in every other home: `due` alarms in all. They are
 *  numbered from `first` on. */
export async function addHomes(db: PrismaClient, first: number, due: number): Promise<void> {
  const homes = Math.ceil((due * 2) / 3)
  const run = (sql: string) => db.$executeRawUnsafe(sql)
  const id = (kind: string, n: string) => `md5('${kind}' || (${n}))::uuid`
  const numbers = `generate_series(${first}, ${first + homes - 1}) n`
  await run(`INSERT INTO customer (id, kind, name, email, phone, language, address_lines)
    SELECT ${id('customer', 'n')}, 'person', 'Customer ' || n, 'c' || n || '@d' || n % 40 || '.example.com', '555-0142',
      CASE WHEN n % 4 = 0 THEN 'es' ELSE 'en' END, '{}' FROM ${numbers}`)
  await run(`INSERT INTO property (id, line1, city, region, postcode, time_zone, fuels)
    SELECT ${id('property', 'n')}, n || ' Quay Lane', 'Port Ansel', 'ME', '04100', 'America/New_York', '{electric}' FROM ${numbers}`)
  await run(`INSERT INTO property_party (property_id, customer_id, role, is_contact)
    SELECT ${id('property', 'n')}, ${id('customer', 'n')}, 'owner', true FROM ${numbers}`)
  await run(`INSERT INTO equipment (id, property_id, kind, label, details, manufactured_on, replace_by)
    SELECT ${id('alarm', "n || '-' || k")}, ${id('property', 'n')}, 'alarm', 'Alarm ' || k, '{"senses": "smoke", "power": "mains"}',
      date '2016-06-28', date '2026-06-28' FROM ${numbers} CROSS JOIN generate_series(1, 2) k
    WHERE k = 1 OR n % 2 = 0 ORDER BY n, k LIMIT ${due}`)
}
