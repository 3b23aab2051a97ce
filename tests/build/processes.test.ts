import { spawn } from 'node:child_process'
import { once } from 'node:events'
import { existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { pathToFileURL } from 'node:url'
import { afterAll, expect, test } from 'vitest'

const folder = mkdtempSync(join(tmpdir(), 'watchlamp-processes-'))
afterAll(() => rmSync(folder, { recursive: true, force: true }))

const at = (path: string) => pathToFileURL(join(process.cwd(), path)).href

/** Runs a program of a few lines with our modules at hand. */
function program(name: string, source: string) {
  const path = join(folder, `${name}.mts`)
  writeFileSync(path, source)
  const child = spawn(process.execPath, ['--import', 'tsx', path], { stdio: ['ignore', 'pipe', 'inherit'] })
  let output = ''
  child.stdout.on('data', (chunk: Buffer) => (output += chunk.toString()))
  const failed = once(child, 'exit').then(([code]) =>
    Promise.reject(new Error(`ended with ${code}: ${output}`)),
  )
  failed.catch(() => {})
  const until = async (text: string) => {
    while (!output.includes(text)) await Promise.race([once(child.stdout, 'data'), failed])
  }
  return {
    child,
    until,
    output: () => output,
    ended: once(child, 'exit') as Promise<[number | null, string | null]>,
  }
}

const isAlive = (pid: number) => {
  try {
    return process.kill(pid, 0)
  } catch {
    return false
  }
}

const eventually = async (isSo: () => boolean) => {
  for (const end = Date.now() + 15_000; !isSo() && Date.now() < end;)
    await new Promise((wait) => setTimeout(wait, 50))
  return isSo()
}

test('a server does not outlive the program that started it, however that ends', async () => {
  const [home, pidFile] = [join(folder, 'home'), join(folder, 'pid')]
  const owner = program(
    'owner',
    `import { mkdirSync, existsSync } from 'node:fs'
     import { keep } from '${at('scripts/services/keep.ts')}'
     mkdirSync('${home}')
     const server = "require('fs').writeFileSync('${pidFile}', String(process.pid)); setInterval(() => {}, 1000)"
     await keep({
       command: process.execPath, args: ['-e', server], log: '${join(folder, 'log')}',
       stopSignal: 'SIGTERM', removeFolder: '${home}',
     }, async () => existsSync('${pidFile}'))
     console.log('running')
     setInterval(() => {}, 1000)`,
  )
  await owner.until('running')
  const pid = Number(readFileSync(pidFile, 'utf8'))
  expect(isAlive(pid)).toBe(true)
  owner.child.kill('SIGKILL')
  expect(await eventually(() => !isAlive(pid))).toBe(true)
  expect(await eventually(() => !existsSync(home))).toBe(true)
})

test('a server that cannot start is told of with its own words', async () => {
  const owner = program(
    'failing',
    `import { keep } from '${at('scripts/services/keep.ts')}'
     await keep({
       command: process.execPath, args: ['-e', "console.error('no room for a lamp'); process.exit(3)"],
       log: '${join(folder, 'failing-log')}', stopSignal: 'SIGTERM',
     }, async () => false).catch((error) => console.log(error.message))`,
  )
  await owner.ended
  expect(owner.output()).toContain('no room for a lamp')
})

const leaving = (name: string, steps: string) =>
  program(
    name,
    `import { createLog } from '${at('server/log.ts')}'
     import { leaveGracefully } from '${at('server/shutdown.ts')}'
     const wait = (ms) => new Promise((resolve) => setTimeout(resolve, ms))
     const { isLeaving } = leaveGracefully(createLog({ logLevel: 'silent' }, 'api'), ${steps})
     setInterval(() => {}, 1000)
     console.log('running')`,
  )

test('SIGTERM: the steps one after the other, also after one that failed', async () => {
  const { child, until, output, ended } = leaving(
    'leaving',
    `{ take: async () => { console.log('1', isLeaving()); await wait(200); console.log('2') },
       fail: async () => { throw new Error('no') },
       close: async () => console.log('3') }`,
  )
  await until('running')
  child.kill('SIGTERM')
  expect(await ended).toEqual([1, null])
  expect(output().trim().split('\n')).toEqual(['running', '1 true', '2', '3'])
})

test('SIGTERM: leaves with 0 when all is in order', async () => {
  const { child, until, ended } = leaving('in-order', `{ close: async () => wait(50) }`)
  await until('running')
  child.kill('SIGTERM')
  expect(await ended).toEqual([0, null])
})

test('an error that nobody caught ends the process, in order too', async () => {
  const { ended, output } = program(
    'uncaught',
    `import { createLog } from '${at('server/log.ts')}'
     import { leaveGracefully } from '${at('server/shutdown.ts')}'
     leaveGracefully(createLog({ logLevel: 'silent' }, 'api'), { close: async () => console.log('closed') })
     void Promise.reject(new Error('unseen'))
     setInterval(() => {}, 1000)`,
  )
  expect(await ended).toEqual([1, null])
  expect(output()).toContain('closed')
})

test('work that does not end is left after 20 s', { timeout: 40_000 }, async () => {
  const { child, until, ended } = leaving('stuck', `{ stuck: () => new Promise(() => {}) }`)
  await until('running')
  const began = performance.now()
  child.kill('SIGTERM')
  expect(await ended).toEqual([1, null])
  const seconds = (performance.now() - began) / 1000
  expect(seconds).toBeGreaterThan(18)
  expect(seconds).toBeLessThan(24)
})
