import { mkdirSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { dirname, join } from 'node:path'
import { fileURLToPath, pathToFileURL } from 'node:url'
import ts from 'typescript'

const root = fileURLToPath(new URL('../..', import.meta.url))
const out = join(root, 'node_modules/.cache/bench-trade')

/**
 * Compiles trade/ as the build does and tells the address of each of its modules. What starts the benchmarks compiles on
 * the fly and gives every function its name at run time, which would be measured too.
 */
export function compileTrade(): (module: string) => string {
  rmSync(out, { recursive: true, force: true })
  const { compilerOptions } = ts.readConfigFile(join(root, 'tsconfig.json'), ts.sys.readFile).config
  const settings = { ...compilerOptions, module: 'ESNext', moduleResolution: 'Bundler' }
  const { options } = ts.convertCompilerOptionsFromJson(settings, root)
  for (const entry of readdirSync(join(root, 'trade'), { recursive: true, encoding: 'utf8' })) {
    if (!entry.endsWith('.ts')) continue
    const source = readFileSync(join(root, 'trade', entry), 'utf8')
    const { outputText } = ts.transpileModule(source, { compilerOptions: options, fileName: entry })
    const target = join(out, entry.replace(/\.ts$/, '.js'))
    mkdirSync(dirname(target), { recursive: true })
    writeFileSync(target, outputText)
  }
  writeFileSync(join(out, 'package.json'), '{ "type": "module" }')
  return (module) => pathToFileURL(join(out, module)).href
}
