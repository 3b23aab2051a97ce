// node scripts/set-up.mjs: packages, the database client and the tools of the tests, where they are missing or stale.
import { generateWhenStale } from './generate.mjs'
import { checkNode, installPackagesWhenStale } from './setup/packages.mjs'
import { installTools } from './setup/tools.mjs'

const say = (text) => process.stdout.write(`${text}\n`)

try {
  checkNode()
  installPackagesWhenStale(say)
  generateWhenStale()
  installTools(say)
} catch (error) {
  process.stderr.write(`${error.message}\n`)
  process.exitCode = 1
}
