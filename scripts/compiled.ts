import { cpSync, mkdirSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { dirname, join } from 'node:path'
import { fileURLToPath, pathToFileURL } from 'node:url'
import ts from 'typescript'

const root = fileURLToPath(new URL('..', import.meta.url))
const caches = join(root, 'node_modules/.cache')

/**
 * Compiles folders as the build does and tells the address of each of their modules. What starts our scripts compiles on
 * the fly, which takes a second at each start, and gives every function its name at run time, which would be measured.
 */
export function compile(folders: readonly string[]): (module: string) => string {
  // One of its own for each run: two may run at once.
  const out = join(caches, `compiled-${process.pid}-${folders.join('-').replaceAll('/', '-')}`)
  rmSync(out, { recursive: true, force: true })
  process.on('exit', () => rmSync(out, { recursive: true, force: true }))
  const { compilerOptions } = ts.readConfigFile(join(root, 'tsconfig.json'), ts.sys.readFile).config
  const settings = { ...compilerOptions, module: 'ESNext', moduleResolution: 'Bundler' }
  const { options } = ts.convertCompilerOptionsFromJson(settings, root)
  for (const folder of folders) {
    for (const entry of readdirSync(join(root, folder), { recursive: true, withFileTypes: true })) {
      if (!entry.isFile()) continue
      const source = join(entry.parentPath, entry.name)
      const target = join(out, source.slice(root.length)).replace(/\.ts$/, '.js')
      mkdirSync(dirname(target), { recursive: true })
      if (!source.endsWith('.ts')) cpSync(source, target)
      else {
        const text = readFileSync(source, 'utf8')
        writeFileSync(
          target,
          ts.transpileModule(text, { compilerOptions: options, fileName: source }).outputText,
        )
      }
    }
  }
  writeFileSync(join(out, 'package.json'), '{ "type": "module" }')
  return (module) => pathToFileURL(join(out, module)).href
}
