import { expect, test, vi } from 'vitest'
import { hashToken } from '../../server/accounts/secrets.ts'
import type { Credential } from '../../server/accounts/store.ts'
import { whoIsKnown } from '../../server/accounts/who-is-known.ts'
import { newId } from '../../server/ids.ts'
import { buildTestApp } from '../build/app.ts'

// Who is behind a session is read once for what comes within seconds; nobody is let in on what held before.
const { app, base, changes, clock, person } = await buildTestApp()

const tokenOf = async (userId: string) => {
  const token = `wl_token-of-${userId}`
  await base.db.apiToken.create({
    data: {
      id: newId(),
      userId,
      name: 'Till',
      prefix: 'wl_token',
      tokenHash: hashToken(token),
      createdAt: clock.now,
    },
  })
  return token
}
const enters = async (authorization: string) =>
  (await app.inject({ url: '/api/v1/me', headers: { authorization } })).statusCode

/** The database is listened to from soon after the start on. */
async function heard() {
  await vi.waitFor(() => expect(changes.isListening()).toBe(true), { timeout: 10_000 })
}

test('ended by another process, a session, a token and a person’s right to enter end here, too', async () => {
  await heard()
  const office = await person('office')
  const token = `Bearer ${await tokenOf(office.id)}`
  const ended = () => vi.waitFor(async () => expect(await enters(token)).toBe(401), { timeout: 4000 })
  const sessionEnded = () =>
    vi.waitFor(async () => expect((await office.call('GET', '/api/v1/me')).statusCode).toBe(401), {
      timeout: 4000,
    })
  expect([await enters(token), (await office.call('GET', '/api/v1/me')).statusCode]).toEqual([200, 200])

  await base.db.apiToken.updateMany({ where: { userId: office.id }, data: { revokedAt: clock.now } })
  await ended()
  await base.db.session.updateMany({ where: { userId: office.id }, data: { revokedAt: clock.now } })
  await sessionEnded()

  const other = await person('office')
  expect((await other.call('GET', '/api/v1/me')).statusCode).toBe(200)
  await base.db.user.update({ where: { id: other.id }, data: { disabledAt: clock.now } })
  await vi.waitFor(async () => expect((await other.call('GET', '/api/v1/me')).statusCode).toBe(401), {
    timeout: 4000,
  })
})

test('what an answer here said holds for the very next request', async () => {
  await heard()
  const admin = await person('admin')
  for (let round = 0; round < 20; round++) {
    const clerk = await person('office')
    expect((await clerk.call('GET', '/api/v1/me')).statusCode).toBe(200)
    const { version } = (await admin.call('GET', '/api/v1/people'))
      .json<{ id: string; version: number }[]>()
      .find(({ id }) => id === clerk.id)!
    const changed = await admin.call('PATCH', `/api/v1/people/${clerk.id}`, {
      headers: { 'if-match': `"${version}"` },
      payload: { disabled: true },
    })
    expect(changed.statusCode).toBe(200)
    expect((await clerk.call('GET', '/api/v1/me')).statusCode).toBe(401)

    const leaver = await person('office')
    expect((await leaver.call('POST', '/api/v1/log-out')).statusCode).toBe(200)
    expect((await leaver.call('GET', '/api/v1/me')).statusCode).toBe(401)
  }
})

const CLERK: Credential = {
  id: 's1',
  usedAt: null,
  endsAt: new Date('2026-06-02T00:00:00Z'),
  user: { id: 'u1', role: 'office', name: 'Ada' },
}

function memory() {
  let listening = true
  let tell = () => {}
  const known = whoIsKnown({ isListening: () => listening, onAccess: (listener) => void (tell = listener) })
  return { known, tell: () => tell(), deafen: () => void (listening = false) }
}

test('read once; again after word of a change, after its end, and where nothing can be heard', async () => {
  const { known, tell, deafen } = memory()
  const read = vi.fn(async () => ({ ...CLERK }))
  const ask = (now = clock.now) => known.find('s1', now, read)
  await ask()
  await ask()
  expect(read).toHaveBeenCalledTimes(1)
  tell()
  await ask()
  expect(read).toHaveBeenCalledTimes(2)
  await ask(CLERK.endsAt!)
  expect(read).toHaveBeenCalledTimes(3)
  deafen()
  tell()
  await ask()
  await ask()
  expect(read).toHaveBeenCalledTimes(5)
})

test('what was read while something changed is not kept, nor that nobody was found', async () => {
  const { known, tell } = memory()
  const read = vi.fn(async () => {
    if (read.mock.calls.length === 1) tell()
    return { ...CLERK }
  })
  await known.find('s1', clock.now, read)
  await known.find('s1', clock.now, read)
  await known.find('s1', clock.now, read)
  expect(read).toHaveBeenCalledTimes(2)
  const nobody = vi.fn(async () => null)
  expect(await known.find('s2', clock.now, nobody)).toBe(null)
  expect(await known.find('s2', clock.now, nobody)).toBe(null)
  expect(nobody).toHaveBeenCalledTimes(2)
})

test('nobody is let in on what was read long ago, even when no word came', async () => {
  const { known } = memory()
  const read = vi.fn(async () => ({ ...CLERK }))
  await known.find('s1', clock.now, read)
  vi.spyOn(performance, 'now').mockReturnValue(performance.now() + 5001)
  await known.find('s1', clock.now, read)
  expect(read).toHaveBeenCalledTimes(2)
  vi.restoreAllMocks()
})
