import { readdirSync } from 'node:fs'
import { fileURLToPath } from 'node:url'

// npm run bench             all of scripts/bench/, one JSON object a line
// npm run bench -- api.read  those whose name begins so: api-read.ts

/** What one measurement found. `ratio` is ours to bare in the same run, on the same machine: bigger is better when the
 *  unit is a rate, smaller when it is a time; `aim` is what the ratio should reach, or the bound of ours where there is
 *  nothing to compare with. */
export interface Measurement {
  name: string
  ours: number
  bare: number | null
  ratio: number | null
  aim: number | string
  unit: string
}

interface Bench {
  run: () => Promise<Measurement[]>
}

const folder = fileURLToPath(new URL('.', import.meta.url))
// What begins with dashes is for the measurement itself: `followups.sweep --homes=1000000`.
const names = process.argv.slice(2).filter((name) => !name.startsWith('--'))
const wanted = names.map((name) => name.replaceAll('.', '-'))
const modules = readdirSync(folder)
  .filter((name) => /^[a-z].*\.ts$/.test(name))
  .map((name) => name.slice(0, -'.ts'.length))
  .sort()

let found = 0
for (const name of modules) {
  if (name === 'run' || (wanted.length > 0 && !wanted.some((each) => name.startsWith(each)))) continue
  const bench = (await import(new URL(`./${name}.ts`, import.meta.url).href)) as Partial<Bench>
  // Helpers of the measurements lie in the same folder.
  if (!bench.run) continue
  found++
  for (const measurement of await bench.run()) console.log(JSON.stringify(measurement))
}
if (found === 0) {
  console.error(`Nothing to measure by that name; there are: ${modules.join(', ').replaceAll('-', '.')}`)
  process.exitCode = 1
}
// Pools and servers that a measurement left open are no reason to stay.
process.exit()
