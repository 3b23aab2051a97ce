// Brings the packages that package-lock.json names, when they are missing or others. Needs nothing but Node and npm.
import { spawnSync } from 'node:child_process'
import { createHash } from 'node:crypto'
import { existsSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs'
import { dirname, join } from 'node:path'
import { fileURLToPath } from 'node:url'

const root = fileURLToPath(new URL('../..', import.meta.url))
const stamp = join(root, 'node_modules/.cache/watchlamp/packages')

/** @throws {Error} one sentence with the remedy */
export function checkNode() {
  const [major, minor] = process.versions.node.split('.').map(Number)
  if (major > 20 || (major === 20 && minor >= 19)) return
  throw new Error(
    `Watchlamp needs Node.js 20.19 or newer, and this is ${process.versions.node}: install a newer one.`,
  )
}

/** @param {(text: string) => void} say hears what takes its time
 *  @returns {boolean} whether anything was installed
 *  @throws {Error} one sentence with the remedy, after npm's own words */
export function installPackagesWhenStale(say) {
  const lock = readFileSync(join(root, 'package-lock.json'))
  const hash = createHash('sha256').update(lock).update(process.versions.modules).digest('hex')
  const seen = existsSync(stamp) ? readFileSync(stamp, 'utf8') : null
  if (seen === hash && existsSync(join(root, 'node_modules/.package-lock.json'))) return false

  const isInstalledByHand = matchesInstalled(JSON.parse(lock.toString()))
  if (!isInstalledByHand) install(say)
  mkdirSync(dirname(stamp), { recursive: true })
  writeFileSync(stamp, hash)
  return !isInstalledByHand
}

/** Whether what npm noted at its last installation is what the lock file asks for. */
function matchesInstalled(lock) {
  const path = join(root, 'node_modules/.package-lock.json')
  if (!existsSync(path)) return false
  const installed = JSON.parse(readFileSync(path, 'utf8')).packages
  return Object.entries(lock.packages).every(
    ([name, { version, optional, peer, link }]) =>
      name === '' || link || installed[name]?.version === version || ((optional || peer) && !installed[name]),
  )
}

function install(say) {
  say('Installing packages (a minute or two) …')
  // From nothing exactly what the lock file says; later only what has changed, which takes seconds.
  const command = existsSync(join(root, 'node_modules/.package-lock.json'))
    ? ['install', '--no-save']
    : ['ci']
  const result = spawnSync('npm', [...command, '--no-audit', '--no-fund', '--loglevel=error'], {
    cwd: root,
    encoding: 'utf8',
    shell: process.platform === 'win32',
    // Some packages would fetch programs that we do not use, from places that a closed network does not reach.
    env: { ...process.env, PRISMA_SCHEMA_ENGINE_BINARY: process.execPath, NODE_ENV: 'development' },
  })
  if (result.status === 0) return
  process.stderr.write(`${result.stdout ?? ''}${result.stderr ?? ''}`)
  if (result.error) throw new Error('npm could not be started: install npm, which comes with Node.js.')
  throw new Error(
    'The packages could not be installed: see that npm reaches its registry (npm ping), then start again.',
  )
}
