import { readFile } from 'node:fs/promises'
import { createRequire } from 'node:module'
import { dirname, join } from 'node:path'
import { pathToFileURL } from 'node:url'
import { PrismaPg } from '@prisma/adapter-pg'
import { bindMigrationAwareSqlAdapterFactory } from '@prisma/driver-adapter-utils'

// Prisma's schema engine, as WebAssembly: it says which SQL leads from one schema file to another. The CLI would
// download the same engine as a program. It is not let near the catalogs of a database, nor asked to run migrations:
// it stumbles over internal column types, and the adapter cuts scripts at every semicolon, function bodies too.

interface Schema {
  tag: 'schemaDatamodel'
  files: { path: string; content: string }[]
}

interface Engine {
  diff(params: {
    from: Schema | { tag: 'empty' }
    to: Schema
    script: true
    exitCode: null
    shadowDatabaseUrl: null
    filters: { externalTables: string[]; externalEnums: string[] }
  }): Promise<{ stdout: string | null }>
  free(): void
}

interface Bindings {
  SchemaEngine: {
    new: (options: { datamodels: [string, string][] }, log: () => void, adapter: unknown) => Promise<Engine>
  }
  __wbg_set_wasm: (exports: unknown) => void
}

/** The SQL from one schema to another, both as text; from nothing when `from` is null. Empty when they agree.
 *  @param databaseUrl any PostgreSQL, asked for its version and no more */
export async function schemaSql(
  databaseUrl: string,
  to: string,
  from: string | null = null,
): Promise<string> {
  const { SchemaEngine } = await loadEngine()
  const adapter = bindMigrationAwareSqlAdapterFactory(new PrismaPg({ connectionString: databaseUrl }))
  const engine = await SchemaEngine.new({ datamodels: [['schema.prisma', to]] }, () => {}, adapter)
  try {
    const { stdout } = await engine.diff({
      from: from === null ? { tag: 'empty' } : schema(from),
      to: schema(to),
      script: true,
      exitCode: null,
      shadowDatabaseUrl: null,
      filters: { externalTables: [], externalEnums: [] },
    })
    const sql = stdout ?? ''
    return sql.includes('This is an empty migration') ? '' : sql
  } finally {
    engine.free()
  }
}

const schema = (content: string): Schema => ({
  tag: 'schemaDatamodel',
  files: [{ path: 'schema.prisma', content }],
})

async function loadEngine(): Promise<Bindings> {
  // The package's own entry loads the WebAssembly by import, which Node allows behind a flag only.
  const folder = dirname(createRequire(import.meta.url).resolve('@prisma/schema-engine-wasm'))
  const bindings = (await import(pathToFileURL(join(folder, 'schema_engine_bg.js')).href)) as Bindings
  const code = await readFile(join(folder, 'schema_engine_bg.wasm'))
  const { instance } = await WebAssembly.instantiate(code, { './schema_engine_bg.js': bindings as never })
  bindings.__wbg_set_wasm(instance.exports)
  ;(instance.exports['__wbindgen_start'] as (() => void) | undefined)?.()
  return bindings
}
