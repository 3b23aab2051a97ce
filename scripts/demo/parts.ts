import { mkdirSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { type Kept, keep } from '../services/keep.ts'
import { DATA, ROOT } from './folder.ts'

export type PartEnv = Record<string, string | undefined> & { HOST: string; PORT: string; WORKER_PORT: string }

/** Starts the API or the worker as a process of its own, and waits until it says that it is ready.
 *  @throws with its last words when it does not get there */
export function startPart(part: 'api' | 'worker', env: PartEnv): Promise<Kept> {
  const log = join(DATA, 'logs', `${part}.log`)
  mkdirSync(join(DATA, 'logs'), { recursive: true })
  writeFileSync(log, '')
  const main = part === 'api' ? 'server/main.ts' : 'worker/main.ts'
  const host = env.HOST === '0.0.0.0' || env.HOST === '::' ? '127.0.0.1' : env.HOST
  const ready = `http://${host}:${part === 'api' ? env.PORT : env.WORKER_PORT}/readyz`
  return keep(
    {
      command: process.execPath,
      args: ['--import', 'tsx', main],
      cwd: ROOT,
      env: withoutFiles({ ...process.env, ...env }),
      log,
      stopSignal: 'SIGTERM',
    },
    async () => (await fetch(ready).catch(() => null))?.ok ?? false,
  )
}

/** A setting of ours must not meet its NAME_FILE from outside. */
function withoutFiles(env: Record<string, string | undefined>): Record<string, string | undefined> {
  return Object.fromEntries(Object.entries(env).filter(([name]) => !name.endsWith('_FILE')))
}
