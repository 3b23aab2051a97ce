// Programs of the system that the tests need and no package brings.
import { spawn } from 'node:child_process'
import { existsSync } from 'node:fs'
import { delimiter, join } from 'node:path'

const MAC_CHROME = '/Applications/Google Chrome.app'

const TOOLS = [
  {
    what: 'Chromium',
    isThere: () =>
      isSet('CHROMIUM') ||
      ['chromium', 'chromium-browser', 'google-chrome'].some(onPath) ||
      existsSync(MAC_CHROME),
    // A browser without a font draws boxes.
    debian: ['chromium', 'fonts-dejavu-core'],
    brew: '--cask google-chrome',
  },
  {
    what: 'Redis',
    isThere: () => isSet('TEST_REDIS_URL') || onPath('redis-server'),
    debian: ['redis-server'],
    brew: 'redis',
  },
  {
    what: 'the PDF programs of Poppler',
    isThere: () => onPath('pdftotext') && onPath('pdfinfo') && onPath('pdftoppm'),
    debian: ['poppler-utils'],
    brew: 'poppler',
  },
]

const isSet = (name) => Boolean(process.env[name])
const onPath = (name) =>
  (process.env.PATH ?? '').split(delimiter).some((folder) => existsSync(join(folder, name)))

/** Installs what is missing where we may (root, on Debian and its kin), while the caller does something else.
 *  @param {(text: string) => void} say
 *  @returns {Promise<void>}
 *  @throws {Error} one sentence with the remedy where we may not */
export async function installTools(say) {
  const missing = TOOLS.filter(({ isThere }) => !isThere())
  if (missing.length === 0) return
  const names = missing.map(({ what }) => what).join(' and ')
  const packages = missing.flatMap(({ debian }) => debian)
  if (process.getuid?.() === 0 && onPath('apt-get')) {
    say(`Installing ${names} …`)
    await aptGet(packages)
    if (missing.every(({ isThere }) => isThere())) return
  }
  throw new Error(`The tests need ${names}: ${remedy(missing, packages)}`)
}

/** In one process of its own: npm, which we wait for beside it, holds up everything here. */
function aptGet(packages) {
  // No server may start by itself at installation: the tests run their own.
  const env = { ...process.env, DEBIAN_FRONTEND: 'noninteractive', RUNLEVEL: '1' }
  // What it says matters only where it fails, and nobody here would read it meanwhile.
  const quietly = `said=$(mktemp); { apt-get -qq update; apt-get -qq install -y --no-install-recommends "$@"; } >"$said" 2>&1 || cat "$said" >&2; rm "$said"`
  const running = spawn('sh', ['-c', quietly, 'sh', ...packages], {
    env,
    stdio: ['ignore', 'ignore', 'inherit'],
  })
  return new Promise((resolve) => running.on('close', resolve).on('error', resolve))
}

function remedy(missing, packages) {
  if (process.platform === 'darwin') return missing.map(({ brew }) => `brew install ${brew}`).join(' && ')
  if (onPath('apt-get')) return `sudo apt-get install ${packages.join(' ')}`
  return `install them with your system’s package manager (on Debian: ${packages.join(' ')}).`
}
