// The mutation score of trade/, whole and by folder, from the last run of each.
// Left out of the count: sentences (StringLiteral), the checklist's data, and mutants of what is computed once while a
// module loads, which a test run cannot switch on and off.
import { readdir, readFile } from 'node:fs/promises'

const AIM = 85
const REPORTS = 'reports/mutation'
const CAUGHT = ['Killed', 'Timeout']
const MISSED = ['Survived', 'NoCoverage']

function countOf({ files }) {
  const mutants = Object.values(files).flatMap((file) => file.mutants)
  const caught = mutants.filter(({ status }) => CAUGHT.includes(status)).length
  const missed = mutants.filter(({ status }) => MISSED.includes(status)).length
  return { caught, missed }
}

function print(name, { caught, missed }) {
  const all = caught + missed
  if (all > 0)
    console.log(`${((100 * caught) / all).toFixed(1).padStart(6)} %  ${name} (${caught} of ${all})`)
}

export async function printScores() {
  const reports = (await readdir(REPORTS)).filter((name) => /^[a-z-]+\.json$/.test(name)).sort()
  const whole = { caught: 0, missed: 0 }
  for (const name of reports) {
    const count = countOf(JSON.parse(await readFile(`${REPORTS}/${name}`, 'utf8')))
    print(name.replace('.json', ''), count)
    whole.caught += count.caught
    whole.missed += count.missed
  }
  print(`together, aim ${AIM} %`, whole)
}
