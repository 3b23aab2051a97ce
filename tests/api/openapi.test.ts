import { createHash } from 'node:crypto'
import { readFileSync } from 'node:fs'
import { expect, test } from 'vitest'
import { PROBLEMS } from '../../server/errors.ts'
import { ROUTE_ACCESS } from '../../server/access.ts'
import { buildTestApp } from '../build/app.ts'
import { Validator } from '@seriousme/openapi-schema-validator'

const { app } = await buildTestApp()
const document = (await app.inject('/api/openapi.json')).json()

test('the document is valid OpenAPI 3.1, by the schema that the OpenAPI Initiative publishes', async () => {
  const validator = new Validator()
  const result = await validator.validate(structuredClone(document))
  expect(result).toMatchObject({ valid: true })
  expect(document.openapi).toMatch(/^3\.1\./)
})

test('it names every route of the API', () => {
  const described = Object.entries(document.paths as Record<string, object>).flatMap(([path, methods]) =>
    Object.keys(methods).map((method) => `${method.toUpperCase()} ${path.replaceAll(/\{(\w+)\}/g, ':$1')}`),
  )
  expect(described).toEqual(expect.arrayContaining(Object.keys(ROUTE_ACCESS)))
})

test('the page to read it answers', async () => {
  const page = await app.inject('/api/docs/')
  expect(page.statusCode).toBe(200)
  expect(page.headers['content-type']).toContain('text/html')
  // Its inline script is let through by its hash alone, so that the page works under our policy.
  const [, script] = /<script(?![^>]*\ssrc=)[^>]*>([\s\S]*?)<\/script>/.exec(page.body)!
  const hash = createHash('sha256').update(script!).digest('base64')
  const policy = page.headers['content-security-policy']
  expect(policy).toContain(`script-src 'self' 'sha256-${hash}'`)
  expect(policy).not.toMatch(/script-src[^;]*unsafe-inline|https:/)
})

test('docs/problems.md lists the same problems as the code', () => {
  const listed = [
    ...readFileSync('docs/problems.md', 'utf8').matchAll(/^\| `([a-z-]+)`\s*\| (\d+)\s*\| (.+?)\s*\|$/gm),
  ]
  const inCode = Object.entries(PROBLEMS).map(([code, { status, title }]) => [code, String(status), title])
  expect(listed.map(([, code, status, title]) => [code, status, title])).toEqual(inCode)
})
