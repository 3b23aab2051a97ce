import { type ChildProcess, fork } from 'node:child_process'
import { once } from 'node:events'
import { fileURLToPath } from 'node:url'
import { compile } from '../compiled.ts'

/** Workers as processes of their own, one taking the place of each that dies. */
export interface Crew {
  /** SIGKILL: no goodbye. The one that takes its place comes by itself. */
  kill: (chance: () => number) => void
  /** Workers that ended without our doing. */
  deaths: () => number
  stop: () => Promise<void>
}

export async function startCrew(
  size: number,
  env: Record<string, string | undefined>,
  startedAt: number,
): Promise<Crew> {
  const folders = ['trade', 'server', 'worker', 'prisma/generated', 'scripts/faults', 'scripts/mail-sink']
  const program = fileURLToPath(compile(folders)('scripts/faults/worker.js'))
  const crew: ChildProcess[] = []
  let isOver = false
  let deaths = 0
  function hire(place: number): ChildProcess {
    const worker = fork(program, [String(startedAt)], { env: { ...process.env, ...env }, execArgv: [] })
    worker.once('exit', (_code, signal) => {
      if (isOver) return
      if (signal !== 'SIGKILL') deaths++
      crew[place] = hire(place)
    })
    return worker
  }
  for (let place = 0; place < size; place++) crew.push(hire(place))
  await Promise.all(crew.map((worker) => once(worker, 'message')))
  return {
    kill: (chance) => crew[Math.floor(chance() * size)]!.kill('SIGKILL'),
    deaths: () => deaths,
    stop: async () => {
      isOver = true
      const living = crew.filter(({ exitCode, signalCode }) => exitCode === null && signalCode === null)
      const ends = living.map((worker) => once(worker, 'exit'))
      for (const worker of living) worker.kill('SIGKILL')
      await Promise.all(ends)
    },
  }
}
