import { afterAll, expect, test } from 'vitest'
import { Prisma } from '../../prisma/generated/client.ts'
import { connect, query, sqlFault } from '../../server/db.ts'
import { testDatabase } from '../setup/database.ts'

const database = await testDatabase()
const db = connect(database.url, 1)
afterAll(() => db.$disconnect())

const EVERY_TYPE = Prisma.sql`
  SELECT 'word' AS word, 3::int AS whole, 3.5::float8 AS float, 9007199254740993::bigint AS large, 12.30::numeric AS price,
    true AS yes, NULL::text AS nothing, '2028-02-29'::date AS day, '2026-03-08 02:30Z'::timestamptz AS instant,
    ${Buffer.from('lamp')}::bytea AS bytes, '{"a": [1]}'::jsonb AS json, ARRAY['x', NULL] AS list,
    '0195f1a0-0000-7000-8000-000000000001'::uuid AS id`

test('the short way reads every type of column as the ORM does', async () => {
  const [short] = await query<Record<string, unknown>>(db, EVERY_TYPE)
  const [long] = await db.$queryRaw<Record<string, unknown>[]>(EVERY_TYPE)
  expect({ ...short, bytes: null }).toEqual({ ...long, bytes: null })
  expect(Buffer.from(short!['bytes'] as Uint8Array)).toEqual(Buffer.from(long!['bytes'] as Uint8Array))
})

test('in a transaction it takes part in it', async () => {
  const count = () => query<{ n: number }>(db, Prisma.sql`SELECT count(*)::int AS n FROM staff`)
  await expect(
    db.$transaction(async (tx) => {
      await query(
        tx,
        Prisma.sql`INSERT INTO staff (id, email, name, role)
          VALUES ('0195f1a0-0000-7000-8000-000000000002', 'dana@example.com', 'Dana', 'office') RETURNING id`,
      )
      throw new Error('changed our mind')
    }),
  ).rejects.toThrow('changed our mind')
  expect(await count()).toEqual([{ n: 0 }])
})

test('what a constraint refuses is told by its code and name', async () => {
  const refused = query(
    db,
    Prisma.sql`INSERT INTO staff (id, email, name, role)
      VALUES ('0195f1a0-0000-7000-8000-000000000003', 'lee@example.com', 'Lee', 'stranger') RETURNING id`,
  )
  expect(sqlFault(await refused.catch((error: unknown) => error))).toMatchObject({ code: '23514' })
})
