import { createHash } from 'node:crypto'
import { Client } from 'pg'
import { afterAll, expect, test } from 'vitest'
import {
  migrate,
  migrationState,
  type Migration,
  MigrationError,
  readMigrations,
} from '../../prisma/migrate.ts'
import { emptyDatabase } from '../setup/database.ts'

const migration = (name: string, sql: string): Migration => ({
  name,
  sql,
  checksum: createHash('sha256').update(sql).digest('hex'),
})
const first = migration('0001_lamp', 'CREATE TABLE lamp (id int)')
const second = migration('0002_post', 'CREATE TABLE post (id int)')

const open = async (url: string) => {
  const client = new Client({ connectionString: url })
  await client.connect()
  afterAll(() => client.end())
  const rows = async (sql: string) => (await client.query(sql)).rows as Record<string, unknown>[]
  return { client, rows }
}
const tables = `SELECT tablename FROM pg_tables WHERE schemaname = 'public' ORDER BY 1`

test('each new file is applied once and entered as Prisma enters it', async () => {
  const { url } = await emptyDatabase()
  const told: string[] = []
  expect(await migrate(url, { migrations: [first], onApplied: (name) => told.push(name) })).toEqual([
    '0001_lamp',
  ])
  expect(await migrate(url, { migrations: [first, second] })).toEqual(['0002_post'])
  expect(await migrate(url, { migrations: [first, second] })).toEqual([])
  expect(told).toEqual(['0001_lamp'])
  const { rows } = await open(url)
  expect(await rows('SELECT * FROM _prisma_migrations ORDER BY migration_name')).toMatchObject([
    {
      id: expect.stringMatching(/^[0-9a-f-]{36}$/),
      checksum: first.checksum,
      migration_name: '0001_lamp',
      logs: null,
      rolled_back_at: null,
      applied_steps_count: 1,
      started_at: expect.any(Date),
      finished_at: expect.any(Date),
    },
    { migration_name: '0002_post' },
  ])
})

test('a file that fails leaves nothing of itself, and says where', async () => {
  const { url } = await emptyDatabase()
  const broken = migration(
    '0002_broken',
    'CREATE TABLE half (id int);\nCREATE TABLE half (id int);\n\nSELEC 1',
  )
  const attempt = migrate(url, { migrations: [first, broken, second] })
  await expect(attempt).rejects.toThrow(
    /^Migration 0002_broken failed, line 4, and nothing of it was kept: syntax error/,
  )
  const { rows } = await open(url)
  expect((await rows(tables)).map((row) => row['tablename'])).toEqual(['_prisma_migrations', 'lamp'])
  expect(await migrate(url, { migrations: [first, second] })).toEqual(['0002_post'])
})

test('function bodies with semicolons arrive whole', async () => {
  const { url } = await emptyDatabase()
  const sql = `CREATE FUNCTION two() RETURNS int LANGUAGE plpgsql AS $$ DECLARE a int; BEGIN a := 1; RETURN a + 1; END $$; SELECT 1;`
  await migrate(url, { migrations: [migration('0001_two', sql)] })
  const { rows } = await open(url)
  expect(await rows('SELECT two()')).toEqual([{ two: 2 }])
})

test('many at once: one does the work, the others find it done', async () => {
  const { url } = await emptyDatabase()
  const slow = migration('0001_slow', 'SELECT pg_sleep(0.3); CREATE TABLE slow (id int)')
  const results = await Promise.all(
    Array.from({ length: 5 }, () => migrate(url, { migrations: [slow, second] })),
  )
  expect(results.filter((names) => names.length > 0)).toEqual([['0001_slow', '0002_post']])
})

test('whoever holds Prisma’s lock is waited for', async () => {
  const { url } = await emptyDatabase()
  const { client } = await open(url)
  await client.query('SELECT pg_advisory_lock(72707369)') // the key in Prisma's schema engine
  let done = false
  const migrating = migrate(url, { migrations: [first] }).then(() => (done = true))
  await new Promise((resolve) => setTimeout(resolve, 300))
  expect(done).toBe(false)
  await client.query('SELECT pg_advisory_unlock(72707369)')
  await migrating
})

test('a database of a newer version is left alone, with what to do', async () => {
  const { url } = await emptyDatabase()
  await migrate(url, { migrations: [first, second] })
  const attempt = migrate(url, { migrations: [first] })
  await expect(attempt).rejects.toThrow(MigrationError)
  await expect(attempt).rejects.toThrow(/newer version: it has 0002_post.*restore a backup/)
})

test('a file edited after it was applied is refused', async () => {
  const { url } = await emptyDatabase()
  await migrate(url, { migrations: [first] })
  const edited = migration('0001_lamp', 'CREATE TABLE lamp (id bigint)')
  await expect(migrate(url, { migrations: [edited, second] })).rejects.toThrow(/0001_lamp was edited/)
})

test('what the Prisma CLI left half done is named', async () => {
  const { url } = await emptyDatabase()
  await migrate(url, { migrations: [first] })
  const { client, rows } = await open(url)
  await client.query(
    `INSERT INTO _prisma_migrations (id, checksum, migration_name) VALUES ('x', 'x', '0002_post')`,
  )
  expect(await migrationState(rows, [first, second])).toEqual({
    pending: ['0002_post'],
    unknown: [],
    edited: [],
    failed: ['0002_post'],
  })
  await expect(migrate(url, { migrations: [first, second] })).rejects.toThrow(
    /0002_post was begun by another tool/,
  )
})

test('the migrations of the program have numbers that rise by one', () => {
  const numbers = readMigrations().map(({ name }) => Number(/^(\d{4})_[a-z0-9_]+$/.exec(name)?.[1]))
  expect(numbers).toEqual(numbers.map((_, index) => index + 1))
})
