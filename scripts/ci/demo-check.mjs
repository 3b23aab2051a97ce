// Starts the demo as a stranger would, asks whether it is well, logs in, stops it with Ctrl-C's signal, starts it again
// to find the data there, and sees that it leaves nothing running.
import { spawn } from 'node:child_process'
import { once } from 'node:events'
import { fileURLToPath } from 'node:url'

const PATIENCE_MS = 300_000
const root = fileURLToPath(new URL('../..', import.meta.url))

async function startDemo(...args) {
  const began = Date.now()
  const demo = spawn(process.execPath, ['scripts/demo.mjs', ...args], {
    cwd: root,
    stdio: ['ignore', 'pipe', 'inherit'],
  })
  let output = ''
  demo.stdout.on('data', (chunk) => {
    output += chunk
    process.stdout.write(chunk)
  })
  const ended = once(demo, 'exit')
  const timer = setTimeout(() => demo.kill('SIGTERM'), PATIENCE_MS)
  const found = (label) => new RegExp(`^ +${label} +(\\S+(?: \\S+)*)`, 'm').exec(output)?.[1]
  while (!output.includes('Ctrl-C stops it')) {
    const step = await Promise.race([once(demo.stdout, 'data'), ended.then(([code]) => `ended with ${code}`)])
    if (typeof step === 'string') throw new Error(`the demo ${step} before it was up`)
  }
  clearTimeout(timer)
  console.log(`up after ${((Date.now() - began) / 1000).toFixed(1)} s`)
  const stop = async () => {
    demo.kill('SIGINT')
    const [code] = await ended
    if (code !== 0) throw new Error(`the demo ended with ${code}`)
  }
  return {
    address: found('Watchlamp'),
    mail: found('mail'),
    password: found('password'),
    stop,
    output: () => output,
  }
}

async function expectOk(url, init) {
  const answer = await fetch(url, init)
  if (!answer.ok) throw new Error(`${url} answered ${answer.status}: ${await answer.text()}`)
  return answer
}

async function check({ address, mail, password }) {
  await expectOk(`${address}/healthz`)
  await expectOk(`${address}/readyz`)
  await expectOk(`${address}/`)
  await expectOk(`${mail}/api/messages`)
  for (const email of ['office@example.com', 'technician@example.com', 'admin@example.com']) {
    await expectOk(`${address}/api/v1/log-in`, {
      method: 'POST',
      headers: { 'content-type': 'application/json', origin: address },
      body: JSON.stringify({ email, password }),
    })
  }
}

async function isGone(url) {
  return await fetch(url).then(
    () => false,
    () => true,
  )
}

const first = await startDemo('--fresh')
await check(first).finally(first.stop)
if (!(await isGone(first.address)) || !(await isGone(first.mail)))
  throw new Error('something of the demo still answers')

const second = await startDemo()
await check(second).finally(second.stop)
if (second.output().includes('Loading the demo company'))
  throw new Error('the second start did not find the data')
console.log('The demo starts, answers, stops and starts again.')
