import { expect, test } from 'vitest'
import type { Role } from '../../trade/permissions.ts'
import { ROUTE_ACCESS } from '../../server/access.ts'
import { newId } from '../../server/ids.ts'
import { buildTestApp } from '../build/app.ts'

const { app, nobody, person } = await buildTestApp()
const people = {
  admin: await person('admin'),
  office: await person('office'),
  technician: await person('technician'),
}
const routes = Object.entries(ROUTE_ACCESS)

/** An address that fits the route and names nothing that exists. */
const addressOf = (url: string) => url.replace(/:kind\b/g, 'visit-booked').replace(/:\w+/g, () => newId())
const calls = (name: string) => {
  const [method, url] = name.split(' ') as ['GET' | 'POST' | 'PUT' | 'PATCH' | 'DELETE', string]
  return { method, url: addressOf(url), ...(method !== 'GET' && { payload: {} }) }
}

test('the table names every route of the API, and no other', () => {
  const printed = app.printRoutes({ commonPrefix: false, includeMeta: false })
  expect(printed).toContain('api/v1')
  const missing = routes.filter(([name]) => {
    const [method, url] = name.split(' ') as [string, string]
    return !app.hasRoute({ method: method as 'GET', url })
  })
  expect(missing.map(([name]) => name)).toEqual([])
})

test.each(routes)('%s lets in whom the table says, and nobody else', async (name, access) => {
  if (name === 'GET /api/v1/events') return // An open stream: its own test.
  const { method, url, ...more } = calls(name)
  const stranger = await nobody(method, url, more)
  if (access === 'anyone' || access === 'link') expect(stranger.statusCode).not.toBe(403)
  else expect(stranger.statusCode, 'without a log-in').toBe(401)
  for (const role of ['admin', 'office', 'technician'] as const satisfies readonly Role[]) {
    // Logging out ends the session that the next route needs.
    const someone = name.endsWith('/log-out') ? await person(role) : people[role]
    const { statusCode } = await someone.call(method, url, more)
    const may = access === 'anyone' || access === 'link' || access.includes(role)
    if (may) expect(statusCode, role).not.toBe(401)
    else expect(statusCode, role).toBe(403)
    expect(statusCode, role).toBeLessThan(500)
  }
})

test('a role that the table lets in may still be refused one record, never with a 5xx', async () => {
  const { statusCode } = await people.technician.call('GET', `/api/v1/properties/${newId()}`)
  expect([403, 404]).toContain(statusCode)
})
