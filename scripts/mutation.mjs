// Mutation testing of trade/, one folder after another: `npm run mutation` for all, `npm run mutation -- load alarms` for
// some. `home` stands for the files beside the folders. A folder is tried by its own tests alone, so that its score says
// how strong those are. Prints the scores of the last run of each folder.
import { spawnSync } from 'node:child_process'
import { readdirSync } from 'node:fs'
import { availableParallelism } from 'node:os'
import { printScores } from './mutation-score.mjs'

/** The files beside the folders. */
const BESIDE = 'home'
/** Tests of the home's record stand with the whole home. */
const TESTS_OF_BESIDE = 'tests/trade/*.test.ts,tests/trade/whole-home/home.test.ts'

const folders = readdirSync('trade', { withFileTypes: true })
  .filter((each) => each.isDirectory() && each.name !== 'rules')
  .map(({ name }) => name)
const asked = process.argv.slice(2)
const unknown = asked.filter((name) => name !== BESIDE && !folders.includes(name))
if (unknown.length > 0) {
  console.error(
    `No such folder in trade/: ${unknown.join(', ')}. There are: ${[...folders, BESIDE].join(', ')}.`,
  )
  process.exit(1)
}

for (const part of asked.length > 0 ? asked : [...folders, BESIDE]) {
  const { status } = spawnSync('npx', ['stryker', 'run', 'stryker.config.mjs'], {
    stdio: 'inherit',
    env: {
      MUTATION_CONCURRENCY: String(availableParallelism()),
      ...process.env,
      MUTATION_PART: part,
      MUTATION_MUTATE: part === BESIDE ? 'trade/*.ts' : `trade/${part}/**/*.ts`,
      MUTATION_TESTS: part === BESIDE ? TESTS_OF_BESIDE : `tests/trade/${part}/**/*.test.ts`,
    },
  })
  if (status !== 0) process.exit(status ?? 1)
}
await printScores()
