import { Client } from 'pg'
import { Redis } from 'ioredis'
import { expect, test } from 'vitest'
import { emptyDatabase, testDatabase } from './database.ts'
import { testRedis } from './redis.ts'

const tablesOf = async (url: string) => {
  const client = new Client({ connectionString: url })
  await client.connect()
  const { rows } = await client.query(
    `SELECT tablename FROM pg_tables WHERE schemaname = 'public' ORDER BY 1`,
  )
  await client.end()
  return rows.map((row) => row.tablename as string)
}

const [one, two, bare] = [await testDatabase(), await testDatabase(), await emptyDatabase()]
const redisUrls = [await testRedis(), await testRedis()]

test('a test database is migrated, and nobody else’s', async () => {
  const client = new Client({ connectionString: one.url })
  await client.connect()
  await client.query('CREATE TABLE only_here ()')
  await client.end()
  expect(await tablesOf(one.url)).toEqual(
    expect.arrayContaining(['_prisma_migrations', 'only_here', 'visit']),
  )
  expect(await tablesOf(two.url)).not.toContain('only_here')
  expect(await tablesOf(bare.url)).toEqual([])
})

test('a test Redis is nobody else’s', async () => {
  const [here, there] = redisUrls.map((url) => new Redis(url))
  await here!.set('only', 'here')
  expect(await there!.get('only')).toBeNull()
  await Promise.all([here!.quit(), there!.quit()])
})
