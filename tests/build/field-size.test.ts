import { randomBytes } from 'node:crypto'
import { mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { gzipSync } from 'node:zlib'
import { afterAll, expect, test } from 'vitest'
import { filesOf } from '../../scripts/web-build/entry-files.ts'
import { checkFieldSize } from '../../scripts/web-build/field-size.ts'

// Manifests as Vite writes them (vite.dev, "Backend Integration"): a page, what it imports, what it imports later.

const MANIFEST = {
  'field/index.html': {
    file: 'assets/field.js',
    css: ['assets/field.css'],
    imports: ['_shared.js'],
    dynamicImports: ['sheet.tsx'],
  },
  '_shared.js': { file: 'assets/shared.js', imports: ['_react.js'] },
  '_react.js': { file: 'assets/react.js', imports: ['_shared.js'] },
  'sheet.tsx': { file: 'assets/sheet.js', imports: ['_rules.js', '_react.js'], css: ['assets/sheet.css'] },
  '_rules.js': { file: 'assets/rules.js' },
  'index.html': { file: 'assets/office.js', imports: ['_react.js'] },
}

const webDir = mkdtempSync(join(tmpdir(), 'watchlamp-size-'))
afterAll(() => rmSync(webDir, { recursive: true, force: true }))

/** Bytes that cannot be compressed, so that the sum is known. */
function build(sizes: Record<string, number>): void {
  for (const path of ['.vite', 'assets']) mkdirSync(join(webDir, path), { recursive: true })
  writeFileSync(join(webDir, '.vite/manifest.json'), JSON.stringify(MANIFEST))
  for (const name of ['field.js', 'shared.js', 'react.js', 'sheet.js', 'rules.js', 'office.js'])
    writeFileSync(join(webDir, 'assets', name), randomBytes(sizes[name] ?? 100))
}

test('the first load is the page with all that it imports, each once', () => {
  expect([...filesOf(MANIFEST, 'field/index.html', 'first')].sort()).toEqual([
    'assets/field.css',
    'assets/field.js',
    'assets/react.js',
    'assets/shared.js',
  ])
})

test('the device keeps also what is imported later, and nothing of the office', () => {
  const kept = filesOf(MANIFEST, 'field/index.html', 'ever')
  expect(kept).toContain('assets/rules.js')
  expect(kept).toContain('assets/sheet.css')
  expect(kept).not.toContain('assets/office.js')
  expect(() => filesOf(MANIFEST, 'no.html', 'ever')).toThrow('no.html')
})

test('a first load under the limit is printed with its size', () => {
  build({ 'sheet.js': 900_000, 'office.js': 900_000 })
  expect(checkFieldSize(webDir, 10_000)).toMatch(
    /^Field app, first load: 0\.\d kB .* in 3 files; at most 10\.0 kB$/,
  )
})

test('one byte over the limit fails the build, and the largest file is named', () => {
  build({ 'react.js': 60_000 })
  const total = ['field.js', 'shared.js', 'react.js']
    .map((name) => gzipSync(readFileSync(join(webDir, 'assets', name))).byteLength)
    .reduce((a, b) => a + b)
  expect(() => checkFieldSize(webDir, total)).not.toThrow()
  expect(() => checkFieldSize(webDir, total - 1)).toThrow(/largest:\n {2}60\.\d kB {2}assets\/react\.js/)
})
