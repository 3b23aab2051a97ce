import { randomBytes } from 'node:crypto'
import { existsSync, mkdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'

export const ROOT = fileURLToPath(new URL('../..', import.meta.url))
/** All that the demo keeps between two starts. */
export const DATA = join(ROOT, '.data')

/** A secret made at the first start and kept. It says "demo", so that production refuses it. */
export function secretNamed(name: string): string {
  const path = join(DATA, name)
  if (!existsSync(path)) {
    mkdirSync(DATA, { recursive: true })
    writeFileSync(path, `demo-${randomBytes(32).toString('hex')}`, { mode: 0o600 })
  }
  return readFileSync(path, 'utf8')
}

/** Two demos in one folder would share a database that only one may run.
 *  @throws one sentence when another runs */
export function onlyOne(): void {
  const path = join(DATA, 'running')
  const other = existsSync(path) ? Number(readFileSync(path, 'utf8')) : 0
  if (other && other !== process.pid && isAlive(other)) {
    throw new Error(
      `The demo of this folder is running already, as process ${other}: stop that one first (Ctrl-C).`,
    )
  }
  mkdirSync(DATA, { recursive: true })
  writeFileSync(path, String(process.pid))
  process.on('exit', () => rmSync(path, { force: true }))
}

function isAlive(pid: number): boolean {
  try {
    return process.kill(pid, 0)
  } catch (error) {
    return (error as NodeJS.ErrnoException).code === 'EPERM'
  }
}
