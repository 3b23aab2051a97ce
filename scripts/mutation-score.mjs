// Prints the mutation score of trade/, whole and by folder, from the last run.
// Left out of the count: sentences (StringLiteral), the checklist's data, and mutants of what is computed once while a
// module loads, which a test run cannot switch on and off.
import { readFile } from 'node:fs/promises'

const AIM = 85
const REPORT = 'reports/mutation/mutation.json'
const CAUGHT = ['Killed', 'Timeout']
const MISSED = ['Survived', 'NoCoverage']

let report
try {
  report = JSON.parse(await readFile(REPORT, 'utf8'))
} catch {
  console.error(`No mutation report at ${REPORT}: run "npx stryker run" first.`)
  process.exit(1)
}

const folders = new Map()
for (const [file, { mutants }] of Object.entries(report.files)) {
  const folder = file.split('/').slice(0, 2).join('/')
  const count = folders.get(folder) ?? { caught: 0, missed: 0 }
  count.caught += mutants.filter(({ status }) => CAUGHT.includes(status)).length
  count.missed += mutants.filter(({ status }) => MISSED.includes(status)).length
  folders.set(folder, count)
}

const score = ({ caught, missed }) => (caught + missed === 0 ? null : (100 * caught) / (caught + missed))
const print = (name, count) => {
  const value = score(count)
  if (value !== null)
    console.log(
      `${value.toFixed(1).padStart(6)} %  ${name} (${count.caught} of ${count.caught + count.missed})`,
    )
}
for (const [folder, count] of [...folders].sort(([a], [b]) => (a < b ? -1 : 1))) print(folder, count)
const whole = [...folders.values()].reduce(
  (sum, { caught, missed }) => ({ caught: sum.caught + caught, missed: sum.missed + missed }),
  { caught: 0, missed: 0 },
)
print(`all of trade/, aim ${AIM} %`, whole)
