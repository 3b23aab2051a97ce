import { parseArgs } from 'node:util'
import { runFaults } from './faults.ts'

// npm run faults -- --kills 1000 [--due 10000] [--seed N] [--workers 3]
// Ends with one line of its figures, and with 1 when a promise is broken: nothing missed, nothing twice, except where the
// mail server took a letter and the connection died before its answer was heard; then under the same Message-ID.

const { values } = parseArgs({
  options: {
    kills: { type: 'string', default: '1000' },
    due: { type: 'string', default: '10000' },
    seed: { type: 'string', default: String(Date.now() % 1_000_000) },
    workers: { type: 'string', default: '3' },
  },
})
const [kills, due, seed, workers] = [values.kills, values.due, values.seed, values.workers].map(Number) as [
  number,
  number,
  number,
  number,
]
if (
  ![kills, due, seed, workers].every((each) => Number.isInteger(each) && each >= 0) ||
  workers < 1 ||
  due < 10
) {
  console.error(
    'npm run faults -- --kills 1000 --due 10000 --seed 7 --workers 3: whole numbers, due 10 at least',
  )
  process.exit(2)
}
const verdict = await runFaults({ kills, due, seed, workers, say: (line) => console.error(line) })
console.log(JSON.stringify({ name: 'faults', kills, due, ...verdict, seed }))
process.exit(verdict.missed > 0 || verdict.duplicates > 0 ? 1 : 0)
