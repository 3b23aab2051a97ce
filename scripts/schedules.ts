// npm run schedules -- --count 10000 [--seed N]: plays random schedules of two devices against the server
// (tests/faults/schedules/), prints the seed first, and ends with one line of JSON.
// npm run schedules -- --break NAME: with a fault in the product on purpose, until a schedule finds it; --breaks: each of them.
import { spawnSync } from 'node:child_process'
import { existsSync, mkdtempSync, readFileSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { parseArgs } from 'node:util'
import { BREAKS } from '../tests/faults/schedules/breaks.ts'

const root = fileURLToPath(new URL('..', import.meta.url))
const { values } = parseArgs({
  options: {
    count: { type: 'string' },
    seed: { type: 'string' },
    break: { type: 'string', multiple: true },
    breaks: { type: 'boolean' },
  },
})
const count = wholeNumber('count', values.count ?? '500')
const seed = wholeNumber('seed', values.seed ?? String(Math.floor(Math.random() * 0x7fffffff)))

interface Result {
  name: 'schedules'
  count: number
  lost: number
  doubled: number
  seed: number
  says?: string
}

if (values.breaks || values.break !== undefined) {
  const names = values.breaks ? Object.keys(BREAKS) : values.break!.map(known)
  const notFound = names.filter((name) => !wasFound(name))
  if (notFound.length > 0) say(`not found within ${count} schedules: ${notFound.join(', ')}`)
  process.exit(notFound.length > 0 ? 1 : 0)
}
say(`${count} schedules, seed ${seed}`)
const { status, result } = run()
say(JSON.stringify(result))
process.exit(status)

/** Prints one line: after how many schedules the fault was found, and as what. */
function wasFound(name: string): boolean {
  const { result, status } = run(name)
  const { says = null, lost, doubled } = result
  if (status !== 0 && says === null) say(`the tests could not run with “${name}”`)
  const foundAfter = says === null ? null : result.count
  say(JSON.stringify({ name: 'schedules.break', break: name, foundAfter, lost, doubled, seed, says }))
  return says !== null
}

function run(fault?: string): { status: number; result: Result } {
  const folder = mkdtempSync(join(tmpdir(), 'watchlamp-schedules-'))
  const file = join(folder, 'result.json')
  const { status } = spawnSync(
    process.execPath,
    [
      join(root, 'node_modules/vitest/vitest.mjs'),
      'run',
      '--config',
      'tests/setup/schedules.config.ts',
      '--root',
      '.',
    ],
    {
      cwd: root,
      // With a fault, errors come from everywhere; the last line says what was found.
      stdio: ['ignore', fault ? 'ignore' : 'inherit', fault ? 'ignore' : 'inherit'],
      env: {
        ...process.env,
        SCHEDULES: String(count),
        SCHEDULES_SEED: String(seed),
        SCHEDULES_RESULT: file,
        ...(fault && { SCHEDULES_BREAK: fault }),
      },
    },
  )
  const result: Result = { name: 'schedules', count: 0, lost: 0, doubled: 0, seed }
  for (const half of [`${file}.0`, `${file}.1`].filter((each) => existsSync(each))) {
    const its = JSON.parse(readFileSync(half, 'utf8')) as Omit<Result, 'name' | 'seed'>
    result.count += its.count
    result.lost += its.lost
    result.doubled += its.doubled
    if (its.says) result.says ??= its.says
  }
  rmSync(folder, { recursive: true, force: true })
  return { status: status ?? 1, result }
}

function wholeNumber(name: string, given: string): number {
  if (/^\d{1,9}$/.test(given) && (name === 'seed' || Number(given) > 0)) return Number(given)
  return wrong(`--${name} takes a whole number, such as 500; this was “${given}”.`)
}

function known(name: string): string {
  if (Object.hasOwn(BREAKS, name)) return name
  return wrong(`--break takes one of these: ${Object.keys(BREAKS).join(', ')}; this was “${name}”.`)
}

function wrong(words: string): never {
  process.stderr.write(`${words}\n`)
  return process.exit(2)
}

function say(line: string): void {
  process.stdout.write(`${line}\n`)
}
