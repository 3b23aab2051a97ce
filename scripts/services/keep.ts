import { spawn } from 'node:child_process'
import { readFileSync } from 'node:fs'
import { fileURLToPath } from 'node:url'

const keeper = fileURLToPath(new URL('./keeper.mjs', import.meta.url))

export interface Order {
  command: string
  args: string[]
  cwd?: string
  uid?: number
  gid?: number
  /** Its environment; ours when left out. Never among the arguments, which every user of the machine may read. */
  env?: Record<string, string | undefined>
  /** A file: the server writes there, as its owner may be gone before it. */
  log: string
  stopSignal: NodeJS.Signals
  /** Removed once the server is gone: for servers whose data nobody wants to keep. */
  removeFolder?: string
}

export interface Kept {
  /** Asks the server to stop and waits until it has. */
  stop(): Promise<void>
  /** Once the server is gone, however it went. */
  ended: Promise<void>
}

/** Starts a server that cannot outlive this program, and waits until `isReady` says it answers.
 *  @throws when it ends before that or takes longer than two minutes, with the last lines of its log */
export async function keep({ env, ...order }: Order, isReady: () => Promise<boolean>): Promise<Kept> {
  const child = spawn(process.execPath, [keeper, JSON.stringify(order)], {
    // In its own process group: the keeper must not hear the terminal's Ctrl-C either.
    detached: process.platform !== 'win32',
    stdio: ['pipe', 'ignore', 'pipe'],
    env: env as NodeJS.ProcessEnv | undefined,
  })
  let complaint = ''
  child.stderr.on('data', (chunk: Buffer) => (complaint += chunk.toString()))
  const ended = new Promise<void>((resolve) => child.once('exit', () => resolve()))

  const deadline = Date.now() + 120_000
  while (!(await isReady())) {
    if (child.exitCode !== null || Date.now() > deadline) {
      child.stdin.end()
      await ended
      throw new Error(`${order.command} did not start:\n${complaint || lastLines(order.log)}`)
    }
    await new Promise((resolve) => setTimeout(resolve, 25))
  }
  return {
    ended,
    async stop() {
      child.stdin.end()
      await ended
    },
  }
}

function lastLines(path: string): string {
  try {
    return readFileSync(path, 'utf8').trim().split('\n').slice(-8).join('\n')
  } catch {
    return '(it left no log)'
  }
}
