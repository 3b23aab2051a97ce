import { spawnSync } from 'node:child_process'
import { mkdtempSync } from 'node:fs'
import { connect } from 'node:net'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { type Kept, keep } from './keep.ts'
import { freePort } from './ports.ts'

/** How many databases the server holds: one per test file. */
export const REDIS_DATABASES = 2000

export interface Redis extends Kept {
  url: string
}

/** A Redis for one run of the tests, or null where no redis-server is installed. */
export async function startThrowawayRedis(): Promise<Redis | null> {
  if (spawnSync('redis-server', ['--version']).status !== 0) return null
  const port = await freePort()
  const home = mkdtempSync(join(tmpdir(), 'watchlamp-redis-'))
  const settings = {
    port: String(port),
    bind: '127.0.0.1',
    save: '',
    appendonly: 'no',
    'maxmemory-policy': 'noeviction',
    databases: String(REDIS_DATABASES),
    dir: home,
  }
  const kept = await keep(
    {
      command: 'redis-server',
      args: Object.entries(settings).flatMap(([name, value]) => [`--${name}`, value]),
      log: join(home, 'redis.log'),
      stopSignal: 'SIGTERM',
      removeFolder: home,
    },
    () => listens(port),
  )
  return { ...kept, url: `redis://127.0.0.1:${port}` }
}

function listens(port: number): Promise<boolean> {
  return new Promise((resolve) => {
    const socket = connect(port, '127.0.0.1')
    socket.once('connect', () => resolve(true)).once('error', () => resolve(false))
    socket.once('connect', () => socket.destroy())
  })
}
