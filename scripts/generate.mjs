// npm run generate: makes prisma/generated from prisma/schema.prisma. Dependency-free, as set-up calls it.
import { spawnSync } from 'node:child_process'
import { createHash } from 'node:crypto'
import { existsSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs'
import { dirname, join } from 'node:path'
import { fileURLToPath } from 'node:url'

const root = fileURLToPath(new URL('..', import.meta.url))
const stamp = join(root, 'prisma/generated/.made-from')

/** Generates the database client when it is missing or older than its schema.
 *  @returns {boolean} whether it did */
export function generateWhenStale() {
  const made = existsSync(stamp) ? readFileSync(stamp, 'utf8') : null
  if (made === sources() && existsSync(join(root, 'prisma/generated/client.ts'))) return false
  generate()
  return true
}

function generate() {
  const result = spawnSync(process.execPath, [join(root, 'node_modules/prisma/build/index.js'), 'generate'], {
    cwd: root,
    encoding: 'utf8',
    // Generating needs no engine, but the CLI would download one unless told of a file that exists: any will do.
    env: {
      ...process.env,
      PRISMA_SCHEMA_ENGINE_BINARY: process.execPath,
      PRISMA_HIDE_UPDATE_MESSAGE: '1',
      CHECKPOINT_DISABLE: '1',
    },
  })
  if (result.status !== 0)
    throw new Error(`The database client could not be generated:\n${result.stdout}${result.stderr}`)
  mkdirSync(dirname(stamp), { recursive: true })
  writeFileSync(stamp, sources())
}

function sources() {
  const hash = createHash('sha256')
  for (const path of ['prisma/schema.prisma', 'node_modules/prisma/package.json']) {
    if (existsSync(join(root, path))) hash.update(readFileSync(join(root, path)))
  }
  return hash.digest('hex')
}

if (process.argv[1] === fileURLToPath(import.meta.url)) generate()
