import { spawn } from 'node:child_process'
import { createHash } from 'node:crypto'
import { existsSync, mkdirSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { dirname, join } from 'node:path'
import { fileURLToPath } from 'node:url'

const root = fileURLToPath(new URL('..', import.meta.url))
const builtPage = join(root, 'dist/web/index.html')
const stamp = join(root, 'node_modules/.cache/watchlamp/web-build')

/** Builds the pages when their source has changed since the last time, or they are not there.
 *  @returns whether it built
 *  @throws with vite's words when the build fails */
export async function buildWebWhenStale(): Promise<boolean> {
  if (existsSync(builtPage) && existsSync(stamp) && readFileSync(stamp, 'utf8') === sourceHash()) return false
  await buildWeb()
  return true
}

/** Builds web/ into dist/web. */
export async function buildWeb(): Promise<void> {
  const hash = sourceHash()
  rmSync(stamp, { force: true })
  const vite = join(root, 'node_modules/vite/bin/vite.js')
  const config = ['web/vite.config.ts', 'vite.config.ts'].find((path) => existsSync(join(root, path)))
  const args = [vite, 'build', '--logLevel', 'warn', ...(config ? ['--config', config] : [])]
  await new Promise<void>((resolve, reject) => {
    // The same build whoever asks for it: under tests the service worker would come with its diagnostics.
    const env = { ...process.env, NODE_ENV: 'production' }
    const child = spawn(process.execPath, args, { cwd: root, env, stdio: ['ignore', 'pipe', 'pipe'] })
    let words = ''
    for (const stream of [child.stdout, child.stderr])
      stream.on('data', (chunk: Buffer) => (words += chunk.toString()))
    child.on('error', reject)
    child.on('exit', (code) =>
      code === 0 ? resolve() : reject(new Error(`The pages could not be built:\n${words}`)),
    )
  })
  mkdirSync(dirname(stamp), { recursive: true })
  writeFileSync(stamp, hash)
}

/** One hash of all that the built pages are made of. Contents, not dates: a clone has the dates of its own making. */
function sourceHash(): string {
  const hash = createHash('sha256')
  const files = [
    'package-lock.json',
    'vite.config.ts',
    ...under('web'),
    ...under('trade'),
    ...under('scripts/web-build'),
  ]
  for (const file of files) {
    if (existsSync(join(root, file))) hash.update(`${file}\0`).update(readFileSync(join(root, file)))
  }
  return hash.digest('hex')
}

function under(folder: string): string[] {
  return readdirSync(join(root, folder), { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile())
    .map((entry) => join(entry.parentPath, entry.name).slice(root.length))
    .sort()
}
