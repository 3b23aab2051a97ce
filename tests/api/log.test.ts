import Fastify from 'fastify'
import { expect, test } from 'vitest'
import { createLog, withoutSecrets } from '../../server/log.ts'

test.each([
  ['/api/v1/visits/01990b7e-5c7a-7d3c-9f00-2b6c1f6f0a11?from=2026-02-01', null],
  ['/assets/index.css', null],
  ['/h/Zk3vQ9xTq8fJmW2cR7yLpA5n/visit', '/h/[hidden]/visit'],
  ['/welcome?token=abc123&next=/today', '/welcome?token=[hidden]&next=/today'],
  ['/a?t=1&b=2', '/a?t=[hidden]&b=2'],
])('of %s the log has %s', (url, logged) => {
  expect(withoutSecrets(url)).toBe(logged ?? url)
})

test('a request is logged without cookie, token and password', async () => {
  const lines: string[] = []
  const log = createLog({ logLevel: 'info' }, 'api', { write: (line) => void lines.push(line) })
  const app = Fastify({ loggerInstance: log })
  app.post('/h/:token', (request) => {
    request.log.warn({ headers: request.headers, body: request.body }, 'odd')
    return {}
  })
  await app.inject({
    method: 'POST',
    url: '/h/Zk3vQ9xTq8fJmW2cR7yLpA5n',
    headers: { cookie: 'watchlamp=sesame1', authorization: 'Bearer sesame2' },
    payload: { password: 'sesame3', name: 'Ana' },
  })
  await app.close()
  const text = lines.join('')
  expect(text).toContain('"part":"api"')
  expect(text).toContain('Ana')
  expect(text).not.toMatch(/sesame\d|Zk3vQ9xT/)
})
