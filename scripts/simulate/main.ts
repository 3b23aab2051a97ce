import { fork } from 'node:child_process'
import { availableParallelism } from 'node:os'
import { parseArgs } from 'node:util'
import { parseDay } from '../../trade/dates.ts'
import { addUp } from '../../server/follow-ups/simulation/figures.ts'
import type { Simulated } from '../../server/follow-ups/simulation/watch.ts'
import { runSimulation, type Wanted } from './run.ts'

// npm run simulate -- --years 20 --homes 5000 [--seed 1] [--from 2026-01-01]
// Runs the follow-up engine over years for a made-up company, prints what would be sent, checks what is promised of it,
// and ends with one JSON line. The exit code is 1 when a promise is broken. Households know nothing of each other, so
// the homes are shared out to one process per processor.

/** Homes that are simulated together: always the same, so that the figures of a seed do not depend on the machine. */
const BATCH = 500

if (process.send) await work()
else await lead()

async function work(): Promise<void> {
  process.on('message', (wanted: Wanted) => {
    void runSimulation(wanted).then((done) => process.send!(done))
  })
}

async function lead(): Promise<void> {
  const { values } = parseArgs({
    options: {
      years: { type: 'string', default: '20' },
      homes: { type: 'string', default: '5000' },
      seed: { type: 'string', default: '1' },
      from: { type: 'string', default: '2026-01-01' },
    },
  })
  const whole = (name: 'years' | 'homes' | 'seed', most: number) => {
    const value = Number(values[name])
    if (Number.isInteger(value) && value >= 1 && value <= most) return value
    return refuse(`--${name} takes a whole number from 1 to ${most}, not “${values[name]}”.`)
  }
  const from = parseDay(values.from) ?? refuse(`--from takes a day such as 2026-01-01, not “${values.from}”.`)
  const [years, homes, seed] = [whole('years', 60), whole('homes', 1_000_000), whole('seed', 1_000_000)]
  const started = Date.now()
  const parts = Array.from({ length: Math.ceil(homes / BATCH) }, (_, n) => {
    return { years, homes: Math.min(BATCH, homes - n * BATCH), seed: seed * 10_000 + n, from }
  })
  const { months, figures, broken, examples } = addUp(await share(parts))
  console.log('Month      offers  visits  safety  held back')
  for (const [name, month] of months) {
    const cells = [month.offers, month.visits, month.safety, month.heldBack]
    console.log(`${name}  ${cells.map((cell) => String(cell).padStart(7)).join(' ')}`)
  }
  for (const example of examples.slice(0, 20)) console.log(`Broken: ${example}`)
  const seconds = Math.round((Date.now() - started) / 1000)
  console.log(JSON.stringify({ name: 'simulate', years, homes, ...figures, ...broken, seed, seconds }))
  process.exitCode = Object.values(broken).every((count) => count === 0) ? 0 : 1
}

function refuse(why: string): never {
  console.error(why)
  process.exit(2)
}

/** Each process does one part after another until none is left. */
async function share(parts: readonly Wanted[]): Promise<Simulated[]> {
  const left = [...parts]
  const done: Simulated[] = []
  const workers = Math.min(parts.length, availableParallelism())
  await Promise.all(
    Array.from({ length: workers }, async () => {
      const child = fork(new URL(import.meta.url).pathname)
      for (let part = left.shift(); part; part = left.shift()) {
        child.send(part)
        done.push(await answerOf(child))
      }
      child.disconnect()
    }),
  )
  return done
}

function answerOf(child: ReturnType<typeof fork>): Promise<Simulated> {
  return new Promise((resolve, reject) => {
    const onExit = (code: number | null) => reject(new Error(`a part of the simulation ended with ${code}`))
    child.once('exit', onExit)
    child.once('message', (message) => {
      child.off('exit', onExit)
      resolve(message as Simulated)
    })
  })
}
