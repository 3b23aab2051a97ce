import { randomUUID } from 'node:crypto'
import { afterAll, inject } from 'vitest'
import { onServer, withDatabase } from './services.ts'

export interface TestDatabase {
  name: string
  url: string
}

/** A database of this test file's own, migrated and empty, dropped when the file is done. Call it first in the file:
 *  what is registered later is ended earlier, so clients close before their database goes.
 *
 *      const database = await testDatabase()
 */
export function testDatabase(): Promise<TestDatabase> {
  return create(inject('databaseTemplate'))
}

/** The same without any table: for tests of the migrations themselves. */
export function emptyDatabase(): Promise<TestDatabase> {
  return create('template0')
}

async function create(template: string): Promise<TestDatabase> {
  const admin = inject('databaseAdminUrl')
  const name = `watchlamp_test_${randomUUID().replaceAll('-', '')}`
  await onServer(admin, `CREATE DATABASE ${name} TEMPLATE ${template}`)
  afterAll(() => onServer(admin, `DROP DATABASE IF EXISTS ${name} WITH (FORCE)`))
  return { name, url: withDatabase(admin, name) }
}
