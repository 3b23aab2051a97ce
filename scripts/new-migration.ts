import { execFileSync } from 'node:child_process'
import { existsSync, mkdirSync, readdirSync, readFileSync, writeFileSync } from 'node:fs'
import { parseArgs } from 'node:util'
import { schemaSql } from './schema-engine.ts'
import { startThrowawayPostgres } from './services/postgres.ts'

// npm run migration -- name-of-it [--from REF]
// Writes the next migration: the SQL from prisma/schema.prisma as committed (or as of REF) to the file as it is now.
// What the schema cannot say is then added by hand, and the whole is read before it is committed.

const USAGE = 'npm run migration -- name-of-it [--from REF]'
const SCHEMA = 'prisma/schema.prisma'
const FOLDER = 'prisma/migrations'

const { values, positionals } = parseArgs({ allowPositionals: true, options: { from: { type: 'string' } } })
const name = positionals[0]?.toLowerCase().replace(/[^a-z0-9]+/g, '_')
if (!name || positionals.length > 1) fail(`Say what the migration does, in a few words: ${USAGE}`)

const before = committedSchema(values.from ?? 'HEAD')
const postgres = await startThrowawayPostgres()
const sql = await schemaSql(postgres.url('postgres'), readFileSync(SCHEMA, 'utf8'), before).finally(() =>
  postgres.stop(),
)

const path = `${FOLDER}/${nextNumber()}_${name}`
mkdirSync(path)
writeFileSync(`${path}/migration.sql`, `-- ${name.replaceAll('_', ' ')}\n${sql && `\n${sql}`}`)
console.log(`${path}/migration.sql${sql ? '' : ': the schema has not changed, so the SQL is yours to write'}`)

function committedSchema(ref: string): string {
  try {
    return execFileSync('git', ['show', `${ref}:${SCHEMA}`], {
      encoding: 'utf8',
      stdio: ['ignore', 'pipe', 'ignore'],
    })
  } catch {
    return fail(`There is no ${SCHEMA} at ${ref} in this repository.`)
  }
}

function nextNumber(): string {
  const numbers = existsSync(FOLDER)
    ? readdirSync(FOLDER).map((entry) => Number.parseInt(entry, 10) || 0)
    : []
  return String(Math.max(0, ...numbers) + 1).padStart(4, '0')
}

function fail(sentence: string): never {
  console.error(sentence)
  process.exit(1)
}
