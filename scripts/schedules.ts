// npm run schedules -- --count 10000 [--seed N]: plays random schedules of two devices against the server
// (tests/faults/schedules/), prints the seed first, and ends with one line of JSON.
import { spawnSync } from 'node:child_process'
import { existsSync, mkdtempSync, readFileSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { parseArgs } from 'node:util'

const root = fileURLToPath(new URL('..', import.meta.url))
const { values } = parseArgs({ options: { count: { type: 'string' }, seed: { type: 'string' } } })
const count = wholeNumber('count', values.count ?? '500')
const seed = wholeNumber('seed', values.seed ?? String(Math.floor(Math.random() * 0x7fffffff)))

const folder = mkdtempSync(join(tmpdir(), 'watchlamp-schedules-'))
const file = join(folder, 'result.json')
process.stdout.write(`${count} schedules, seed ${seed}\n`)
const { status } = spawnSync(
  process.execPath,
  [join(root, 'node_modules/vitest/vitest.mjs'), 'run', 'tests/faults/schedules.test.ts'],
  {
    cwd: root,
    stdio: ['ignore', 'inherit', 'inherit'],
    env: {
      ...process.env,
      SCHEDULES: String(count),
      SCHEDULES_SEED: String(seed),
      SCHEDULES_RESULT: file,
    },
  },
)
const result = existsSync(file)
  ? readFileSync(file, 'utf8')
  : JSON.stringify({ name: 'schedules', count: 0, lost: 0, doubled: 0, seed })
rmSync(folder, { recursive: true, force: true })
process.stdout.write(`${result}\n`)
process.exit(status ?? 1)

function wholeNumber(name: string, given: string): number {
  if (/^\d{1,9}$/.test(given) && (name === 'seed' || Number(given) > 0)) return Number(given)
  process.stderr.write(`--${name} takes a whole number, such as 500; this was “${given}”.\n`)
  return process.exit(2)
}
