import { fork } from 'node:child_process'
import { fileURLToPath } from 'node:url'
import { bigHome, BIG_HOME_JURISDICTION, BIG_HOME_TODAY } from '../../tests/build/big-home.ts'
import type { Equipment } from '../../trade/equipment.ts'
import type { Home } from '../../trade/home.ts'
import type * as evaluating from '../../trade/whole-home/evaluate.ts'
import type * as reevaluating from '../../trade/whole-home/reevaluate.ts'
import { compile } from '../compiled.ts'
import type { Measurement } from './run.ts'

const WARM_UP = 500
const ROUNDS = 50
const RUNS_PER_ROUND = 20

/** The fastest round: what the machine does when nothing else runs on it. */
function fastest(times: number[]): number {
  return Math.min(...times)
}

/** Rounds of the candidates take turns, so that both feel the same machine. */
function compare(ours: () => unknown, bare: () => unknown): { ours: number; bare: number } {
  for (let i = 0; i < WARM_UP; i += 1) {
    ours()
    bare()
  }
  // Microseconds of processor time, garbage collection included: other programs on the machine do not count.
  const timed = (run: () => unknown) => {
    const start = process.cpuUsage()
    for (let i = 0; i < RUNS_PER_ROUND; i += 1) run()
    const { user, system } = process.cpuUsage(start)
    return (user + system) / RUNS_PER_ROUND
  }
  const rounds = Array.from({ length: ROUNDS }, () => ({ ours: timed(ours), bare: timed(bare) }))
  return { ours: fastest(rounds.map((each) => each.ours)), bare: fastest(rounds.map((each) => each.bare)) }
}

function result(name: string, aim: number, times: { ours: number; bare: number }): Measurement {
  const round = (value: number) => Number(value.toFixed(3))
  return {
    name,
    ours: round(times.ours),
    bare: round(times.bare),
    ratio: round(times.ours / times.bare),
    aim,
    unit: 'µs',
  }
}

const AIM_WHOLE = 5
const AIM_INCREMENTAL = 0.2

/**
 * V8 sizes the young generation of a heap by what it sees first, and then collects either seldom or all the time: the
 * same code took 4.6 or 9 times as long as its peer from run to run. Here both get one that is large enough.
 */
const WITH_ROOM = ['--import', 'tsx', '--min-semi-space-size=64', '--max-semi-space-size=64']

/**
 * `trade.home`: a home of 60 circuits and 80 devices judged whole, against `structuredClone` of the same record.
 * `trade.home.incremental`: the same home after a change of one circuit, against judging it whole.
 */
export function run(): Promise<Measurement[]> {
  const measuring = fork(fileURLToPath(import.meta.url), { execArgv: WITH_ROOM })
  return new Promise((resolve, reject) => {
    measuring.once('message', (results) => resolve(results as Measurement[]))
    measuring.once('exit', (code) => reject(new Error(`the measuring process ended with ${code}`)))
  })
}

async function measure(): Promise<Measurement[]> {
  const compiled = compile(['trade'])
  const { evaluateHome } = (await import(compiled('trade/whole-home/evaluate.js'))) as typeof evaluating
  const { reevaluate } = (await import(compiled('trade/whole-home/reevaluate.js'))) as typeof reevaluating
  const home = bigHome()
  // A new object each time, as after every change: nothing gathered from the record before may be reused.
  const whole = () => evaluateHome({ ...home }, BIG_HOME_JURISDICTION, BIG_HOME_TODAY)
  const clone = () => structuredClone(home)

  const before = evaluateHome(home, BIG_HOME_JURISDICTION, BIG_HOME_TODAY)
  const retyped = (each: Equipment): Equipment =>
    each.id === 'circuit-31' && each.kind === 'circuit'
      ? { ...each, details: { ...each.details, ratingAmps: 50 } }
      : each
  const changed: Home = { ...home, equipment: home.equipment.map(retyped) }
  const incremental = () => reevaluate(before, { ...changed }, ['circuit-31'])

  return [
    result('trade.home', AIM_WHOLE, compare(whole, clone)),
    result('trade.home.incremental', AIM_INCREMENTAL, compare(incremental, whole)),
  ]
}

if (process.argv[1] === fileURLToPath(import.meta.url)) process.send!(await measure())
