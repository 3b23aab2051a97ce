import { readFile } from 'node:fs/promises'
import { Client } from 'pg'
import { afterAll, expect, test } from 'vitest'
import { drift, readCatalog } from '../../scripts/schema-drift.ts'
import { schemaSql } from '../../scripts/schema-engine.ts'
import { emptyDatabase, testDatabase } from '../setup/database.ts'

const open = async (url: string) => {
  const client = new Client({ connectionString: url })
  await client.connect()
  afterAll(() => client.end())
  return client
}

const migrated = await open((await testDatabase()).url)
const bare = await emptyDatabase()
const described = await open(bare.url)
await described.query('CREATE EXTENSION citext')
await described.query(await schemaSql(bare.url, await readFile('prisma/schema.prisma', 'utf8')))

test('the migrations make what schema.prisma describes, and the listed rest', async () => {
  expect(drift(await readCatalog(migrated), await readCatalog(described))).toEqual([])
})

test('a column, an index or a function too many is noticed on either side', async () => {
  await described.query('BEGIN; ALTER TABLE visit ADD COLUMN mood text; DROP INDEX message_dedupe_key_key')
  await migrated.query(
    `BEGIN; ALTER TABLE staff ALTER COLUMN name DROP NOT NULL; DROP FUNCTION digits CASCADE`,
  )
  const lines = drift(await readCatalog(migrated), await readCatalog(described))
  await Promise.all([described.query('ROLLBACK'), migrated.query('ROLLBACK')])
  expect(lines).toContainEqual(expect.stringMatching(/^only the schema has column visit\.mood: text$/))
  expect(lines).toContainEqual(
    expect.stringMatching(/^only the migrations make index message\.message_dedupe_key_key: /),
  )
  expect(lines).toContainEqual('column staff.name is text by the migrations, text not null by the schema')
  expect(lines).toContainEqual('BEYOND_PRISMA names function digits, which is not there')
})
