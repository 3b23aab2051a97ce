import { existsSync, mkdirSync, mkdtempSync, rmSync, utimesSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import Fastify from 'fastify'
import { afterEach, expect, test } from 'vitest'
import { webFiles } from '../../server/web-files.ts'

// A built web of a few bytes: what is served under which address, and for how long a browser may keep it.

const folder = mkdtempSync(join(tmpdir(), 'watchlamp-web-'))
const [webDir, dataDir] = [join(folder, 'web'), join(folder, 'data')]
afterEach(() => rmSync(folder, { recursive: true, force: true }))

function build(...assets: string[]): void {
  rmSync(webDir, { recursive: true, force: true })
  for (const path of ['assets', 'field', '.vite']) mkdirSync(join(webDir, path), { recursive: true })
  const write = (path: string, words: string) => writeFileSync(join(webDir, path), words)
  write('index.html', 'the office')
  write('field/index.html', 'the field sheet')
  write('field/sw.js', '// keeps the app')
  write('field/manifest.webmanifest', '{}')
  write('.vite/manifest.json', '{}')
  for (const name of assets) write(`assets/${name}`, `// ${name}`)
}

async function serve(now = new Date()) {
  const app = Fastify()
  await app.register(webFiles, { dataDir, webDir, now: () => now })
  return {
    get: async (url: string) => {
      const { statusCode, headers, body } = await app.inject({ url })
      return {
        status: statusCode,
        type: headers['content-type'],
        keep: headers['cache-control'],
        body,
        headers,
      }
    },
    close: () => app.close(),
  }
}

test('pages and the service worker are asked for again each time, assets never', async () => {
  build('field-a1.js')
  const server = await serve()
  for (const url of [
    '/',
    '/visits/x',
    '/field/',
    '/field/visit/1/area/panel',
    '/field/index.html',
    '/field/sw.js',
  ]) {
    const answer = await server.get(url)
    expect(answer, url).toMatchObject({ status: 200, keep: 'no-cache' })
  }
  expect((await server.get('/field/sw.js')).type).toMatch(/javascript/)
  expect((await server.get('/field/manifest.webmanifest')).type).toMatch(/manifest\+json/)
  expect((await server.get('/field/visit/1')).body).toBe('the field sheet')
  const asset = await server.get('/assets/field-a1.js')
  expect(asset).toMatchObject({ status: 200, keep: expect.stringContaining('immutable') })
  // The service worker reaches no further than the folder that it lies in.
  expect(await server.get('/field')).toMatchObject({ status: 308, headers: { location: '/field/' } })
  await server.close()
})

test.each([
  '/assets/field-gone.js',
  '/assets/../field/index.html/x.js',
  '/field/field-gone.js',
  '/field/assets/x.css',
  '/field/workbox-123.js.map',
  '/.vite/manifest.json',
])('a file that is not there is no page: %s', async (url) => {
  build('field-a1.js')
  const server = await serve()
  const { status, body } = await server.get(url)
  expect(status).toBe(404)
  expect(body).not.toContain('the field sheet')
  await server.close()
})

test('a window that runs an earlier build still gets its assets, for sixty days after that build', async () => {
  const day = (date: string) => new Date(`${date}T12:00:00Z`)
  build('old-1.js', 'same-1.js')
  await (await serve(day('2026-01-01'))).close()
  build('new-2.js', 'same-1.js')
  const second = await serve(day('2026-01-20'))
  expect((await second.get('/assets/old-1.js')).body).toBe('// old-1.js')
  expect((await second.get('/assets/new-2.js')).body).toBe('// new-2.js')
  await second.close()
  const much = await serve(day('2026-03-03'))
  expect((await much.get('/assets/old-1.js')).status).toBe(404)
  expect((await much.get('/assets/same-1.js')).status).toBe(200)
  await much.close()
})

test('a build in place of the one that is being served takes nothing away from it', async () => {
  build('old-1.js')
  const server = await serve()
  build('new-2.js')
  expect((await server.get('/assets/old-1.js')).body).toBe('// old-1.js')
  expect((await server.get('/assets/new-2.js')).body).toBe('// new-2.js')
  await server.close()
})

test('what was half copied when a start was cut short is copied again', async () => {
  build('field-a1.js')
  mkdirSync(join(dataDir, 'web-assets'), { recursive: true })
  const kept = join(dataDir, 'web-assets/field-a1.js')
  writeFileSync(kept, '//')
  utimesSync(kept, new Date(), new Date())
  const server = await serve()
  await server.close()
  build()
  const next = await serve()
  expect((await next.get('/assets/field-a1.js')).body).toBe('// field-a1.js')
  await next.close()
})

test('a folder that cannot be written stops no server', async () => {
  build('field-a1.js')
  writeFileSync(dataDir, 'a file where the folder should be')
  const server = await serve()
  expect((await server.get('/assets/field-a1.js')).status).toBe(200)
  expect(existsSync(join(dataDir, 'web-assets'))).toBe(false)
  await server.close()
})
