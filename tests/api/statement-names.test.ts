import { expect, test } from 'vitest'
import { connect } from '../../server/db.ts'
import { statementNames } from '../../server/statement-names.ts'
import { testDatabase } from '../setup/database.ts'

const database = await testDatabase()

test('a statement is named from its third time on, and keeps its name', () => {
  const nameOf = statementNames()
  const ask = (sql: string) => nameOf({ sql })
  expect([ask('a'), ask('a'), ask('b'), ask('a'), ask('a')]).toEqual([
    undefined,
    undefined,
    undefined,
    'watchlamp_0',
    'watchlamp_0',
  ])
  expect([ask('b'), ask('b')]).toEqual([undefined, 'watchlamp_1'])
})

test('statements that never come again take no names, and what is full stays as it is', () => {
  const nameOf = statementNames({ after: 2, most: 5 })
  for (let i = 0; i < 10_000; i++) expect(nameOf({ sql: `once ${i}` })).toBeUndefined()
  const named = Array.from(
    { length: 8 },
    (_, i) => [nameOf({ sql: `again ${i}` }), nameOf({ sql: `again ${i}` })][1],
  )
  expect(named.filter(Boolean)).toHaveLength(5)
  expect(nameOf({ sql: 'again 0' })).toBe('watchlamp_0')
})

test('PostgreSQL holds prepared what is asked often', async () => {
  const db = connect(database.url, 1)
  for (let i = 0; i < 6; i++) await db.user.findUnique({ where: { email: `${i}@example.com` } })
  const prepared = await db.$queryRaw<{ statement: string }[]>`SELECT statement FROM pg_prepared_statements`
  expect(prepared.filter(({ statement }) => statement.includes('staff'))).toHaveLength(1)
  await db.$disconnect()
})
