// npm run demo [-- --fresh]: a company that runs, from a clean clone with nothing but Node.js.
import { generateWhenStale } from './generate.mjs'
import { checkNode, installPackagesWhenStale } from './setup/packages.mjs'

const say = (text) => process.stdout.write(`${text}\n`)

try {
  checkNode()
  installPackagesWhenStale(say)
  generateWhenStale()
} catch (error) {
  process.stderr.write(`${error.message}\n`)
  process.exit(1)
}

// From here on the packages are there, so the rest may be TypeScript; in this same process, which hears Ctrl-C once.
const { register } = await import('tsx/esm/api')
register()
await import('./demo/main.ts')
