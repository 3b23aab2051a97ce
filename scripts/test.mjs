// npm test [-- arguments for vitest]: brings what the tests need, runs them, and says at last how many passed.
import { spawnSync } from 'node:child_process'
import { existsSync, mkdtempSync, readFileSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { setUp } from './setup/all.mjs'

const root = fileURLToPath(new URL('..', import.meta.url))
const say = (text) => process.stdout.write(`${text}\n`)
const args = process.argv.slice(2)
const needsNoServices = args.length > 0 && args.every((arg) => /^(?:\.\/)?tests\/(?:trade|web)\b/.test(arg))

await setUp(say, { tools: !needsNoServices })

const folder = mkdtempSync(join(tmpdir(), 'watchlamp-results-'))
const results = join(folder, 'results.json')
const vitest = spawnSync(
  process.execPath,
  [
    join(root, 'node_modules/vitest/vitest.mjs'),
    'run',
    '--reporter=default',
    '--reporter=json',
    `--outputFile.json=${results}`,
    ...args,
  ],
  { cwd: root, stdio: ['ignore', 'inherit', 'inherit'] },
)
say(closingLine(existsSync(results) ? JSON.parse(readFileSync(results, 'utf8')) : null))
rmSync(folder, { recursive: true, force: true })
process.exit(vitest.status ?? 1)

/** A file that could not even be read counts as one failure, and so does an error outside of any test. */
function closingLine(report) {
  if (!report) return '0 passed, 1 failed'
  const brokenFiles = report.testResults.filter(
    ({ status, assertionResults }) =>
      status === 'failed' && !assertionResults.some((each) => each.status === 'failed'),
  ).length
  const counted = report.numFailedTests + brokenFiles
  const failed = counted === 0 && vitest.status !== 0 ? 1 : counted
  const skipped = report.numPendingTests + (report.numTodoTests ?? 0)
  return `${report.numPassedTests} passed, ${failed} failed${skipped > 0 ? `, ${skipped} skipped` : ''}`
}
