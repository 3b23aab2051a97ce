// npm run demo [-- --fresh]: a company that runs, from a clean clone with nothing but Node.js.
import { spawn } from 'node:child_process'
import { fileURLToPath } from 'node:url'
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

const main = fileURLToPath(new URL('./demo/main.ts', import.meta.url))
const demo = spawn(process.execPath, ['--import', 'tsx', main, ...process.argv.slice(2)], {
  stdio: 'inherit',
})
// A terminal sends Ctrl-C to both; whoever signals only us means the demo.
process.on('SIGINT', () => {})
for (const signal of ['SIGTERM', 'SIGHUP']) process.on(signal, () => demo.kill(signal))
demo.on('exit', (code) => process.exit(code ?? 1))
