import { spawnSync } from 'node:child_process'
import { cpSync, readdirSync, rmSync } from 'node:fs'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { buildWeb } from './build-web.ts'
import { generateWhenStale } from './generate.mjs'
import { checkFieldSize } from './web-build/field-size.ts'

// npm run build: dist/, which with package.json and the packages of production is all that a server needs.

const root = fileURLToPath(new URL('..', import.meta.url))
process.chdir(root)
const began = performance.now()

try {
  generateWhenStale()
  rmSync('dist', { recursive: true, force: true })
  compile()
  for (const folder of ['trade', 'server', 'worker', 'prisma/migrations']) copyRest(folder)
  await buildWeb()
  console.log(checkFieldSize('dist/web'))
  console.log(`Built dist/ in ${((performance.now() - began) / 1000).toFixed(1)} s`)
} catch (error) {
  console.error((error as Error).message)
  process.exitCode = 1
}

function compile(): void {
  const tsc = join('node_modules', 'typescript', 'bin', 'tsc')
  // Types are held by `npm run typecheck`; to check them here as well takes three times as long.
  const { status, stdout } = spawnSync(
    process.execPath,
    [tsc, '--project', 'tsconfig.build.json', '--noCheck'],
    {
      encoding: 'utf8',
    },
  )
  if (status !== 0) throw new Error(`The server could not be compiled:\n${stdout}`)
}

/** Templates, typefaces and SQL lie beside the code that reads them, in dist/ too. */
function copyRest(folder: string): void {
  for (const entry of readdirSync(folder, { recursive: true, withFileTypes: true })) {
    const path = join(entry.parentPath, entry.name)
    if (entry.isFile() && !/\.tsx?$/.test(entry.name)) cpSync(path, join('dist', path))
  }
}
