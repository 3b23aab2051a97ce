import { expect, test } from 'vitest'
import { hashPassword } from '../../server/accounts/secrets.ts'
import { staffToken } from '../../server/links/tokens.ts'
import { newId } from '../../server/ids.ts'
import { firstStart } from '../../server/people/service.ts'
import { buildTestApp } from '../build/app.ts'

const { app, base, ctx, clock, nobody, person, rung } = await buildTestApp()

const PASSWORD = 'a lamp in the window'
async function someone(email: string, role = 'office') {
  const id = newId()
  await base.db.user.create({
    data: { id, email, name: 'Ana Reyes', role, passwordHash: await hashPassword(PASSWORD) },
  })
  return id
}

const logIn = (email: string, password: string) =>
  nobody('POST', '/api/v1/log-in', { payload: { email, password } })

test('the right password opens a session that shows who I am', async () => {
  await someone('ana@example.com')
  const answer = await logIn('Ana@Example.com', PASSWORD)
  expect(answer.statusCode).toBe(200)
  const cookie = answer.cookies[0]!
  expect(cookie).toMatchObject({ name: 'watchlamp', httpOnly: true, sameSite: 'Lax', path: '/' })
  const me = await app.inject({ url: '/api/v1/me', cookies: { watchlamp: cookie.value } })
  expect(me.json()).toMatchObject({
    email: 'ana@example.com',
    role: 'office',
    company: { name: 'Kestrel Row Electric' },
  })
})

test('over https the cookie is Secure and bound to this host by its name', async () => {
  const secure = await buildTestApp({ PUBLIC_URL: 'https://office.example.com' })
  await secure.base.db.user.create({
    data: {
      id: newId(),
      email: 'ana@example.com',
      name: 'Ana',
      role: 'office',
      passwordHash: await hashPassword(PASSWORD),
    },
  })
  const answer = await secure.nobody('POST', '/api/v1/log-in', {
    payload: { email: 'ana@example.com', password: PASSWORD },
  })
  expect(answer.cookies[0]).toMatchObject({ name: '__Host-watchlamp', secure: true })
})

test('a wrong password and an unknown person get the same answer', async () => {
  await someone('bea@example.com')
  const [wrong, unknown] = [
    await logIn('bea@example.com', 'not it'),
    await logIn('who@example.com', 'not it'),
  ]
  expect(wrong.statusCode).toBe(401)
  expect({ ...wrong.json(), requestId: '' }).toEqual({ ...unknown.json(), requestId: '' })
})

test('five wrong passwords lock the account for a while, also for the right one', async () => {
  await someone('cal@example.com')
  await Promise.all(Array.from({ length: 5 }, () => logIn('cal@example.com', 'guess')))
  const locked = await logIn('cal@example.com', PASSWORD)
  expect(locked.statusCode).toBe(429)
  expect(locked.json().detail).toContain('5 min')
  clock.set('2026-06-01T15:06:00Z')
  expect((await logIn('cal@example.com', PASSWORD)).statusCode).toBe(200)
})

test('a session can be ended, and a new password ends the others', async () => {
  await someone('dot@example.com')
  const cookies = await Promise.all(
    [1, 2, 3].map(async () => (await logIn('dot@example.com', PASSWORD)).cookies[0]!.value),
  )
  const as = (value: string, method: 'GET' | 'POST' | 'DELETE', url: string, payload?: object) =>
    app.inject({
      method,
      url,
      cookies: { watchlamp: value },
      headers: { origin: 'http://localhost:3000' },
      ...(payload && { payload }),
    })
  const sessions = (await as(cookies[0]!, 'GET', '/api/v1/me/sessions')).json() as {
    id: string
    current: boolean
  }[]
  expect(sessions).toHaveLength(3)
  const other = sessions.find((each) => !each.current)!
  expect((await as(cookies[0]!, 'DELETE', `/api/v1/me/sessions/${other.id}`)).statusCode).toBe(200)
  const changed = await as(cookies[0]!, 'POST', '/api/v1/me/password', {
    current: PASSWORD,
    password: 'another lamp, another window',
  })
  expect(changed.statusCode).toBe(200)
  const states = await Promise.all(
    cookies.map(async (value) => (await as(value, 'GET', '/api/v1/me')).statusCode),
  )
  expect(states).toEqual([200, 401, 401])
})

test('an invitation lets one person in, once', async () => {
  const admin = await person('admin')
  const invited = await admin.call('POST', '/api/v1/people', {
    payload: { name: 'Eve Park', email: 'eve@example.com', role: 'technician' },
  })
  expect(invited.statusCode).toBe(201)
  expect(invited.json()).toMatchObject({ sent: true, person: { invited: true, role: 'technician' } })
  expect(rung.at(-1)).toMatchObject({ name: 'send-message' })
  const token = new URL(invited.json().link as string).searchParams.get('token')!
  const read = await nobody('GET', `/api/v1/staff-link?token=${token}`)
  expect(read.json()).toEqual({ email: 'eve@example.com', name: 'Eve Park', purpose: 'invitation' })
  const use = () => nobody('POST', '/api/v1/staff-link', { payload: { token, password: PASSWORD } })
  const [first, second] = await Promise.all([use(), use()])
  expect([first!.statusCode, second!.statusCode].sort()).toEqual([200, 410])
  expect((await logIn('eve@example.com', PASSWORD)).statusCode).toBe(200)
})

test('a forgotten password gets the same answer for known and unknown addresses, and a link that runs out', async () => {
  const id = await someone('fay@example.com')
  const ask = (email: string) => nobody('POST', '/api/v1/forgotten-password', { payload: { email } })
  expect((await ask('fay@example.com')).json()).toEqual((await ask('nobody@example.com')).json())
  const link = await base.db.userToken.findFirstOrThrow({ where: { userId: id } })
  const token = staffToken(base.env, link.id)
  expect((await nobody('GET', `/api/v1/staff-link?token=${token}`)).statusCode).toBe(200)
  const before = clock.now
  clock.now = new Date(before.getTime() + 2.1 * 3_600_000)
  expect(
    (await nobody('POST', '/api/v1/staff-link', { payload: { token, password: PASSWORD } })).statusCode,
  ).toBe(410)
  clock.now = before
})

test('a short new password is refused with what is expected', async () => {
  const answer = await nobody('POST', '/api/v1/staff-link', {
    payload: { token: 'x'.repeat(43), password: 'short' },
  })
  expect(answer.statusCode).toBe(400)
  expect(answer.headers['content-type']).toContain('application/problem+json')
  expect(answer.json()).toMatchObject({
    type: '/problems/invalid-request',
    errors: [{ pointer: '#/password', detail: 'expected 12 characters or more' }],
  })
})

test('a write from another site is refused; with the token it passes', async () => {
  const office = await person('office')
  const me = (await office.call('GET', '/api/v1/me')).json()
  const from = (headers: Record<string, string>) =>
    office.call('POST', '/api/v1/log-out', { headers: { origin: 'https://evil.example', ...headers } })
  expect((await from({})).statusCode).toBe(403)
  expect((await from({ 'x-csrf-token': 'made-up' })).json().type).toBe('/problems/cross-site')
  expect((await from({ 'x-csrf-token': me.csrfToken })).statusCode).toBe(200)
})

test('an API token acts for its person until it is revoked', async () => {
  const office = await person('office')
  const made = (
    await office.call('POST', '/api/v1/me/tokens', { payload: { name: 'spreadsheet', expiresInDays: 30 } })
  ).json()
  const me = () => app.inject({ url: '/api/v1/me', headers: { authorization: `Bearer ${made.token}` } })
  expect((await me()).json()).toMatchObject({ id: office.id })
  await office.call('DELETE', `/api/v1/me/tokens/${made.id}`)
  expect((await me()).statusCode).toBe(401)
})

test('somebody disabled is out at once, and the last admin cannot leave', async () => {
  const [admin, gone] = [await person('admin'), await person('office')]
  await base.db.user.updateMany({
    where: { role: 'admin', id: { not: admin.id } },
    data: { disabledAt: clock.now },
  })
  await base.db.user.update({ where: { id: admin.id }, data: { passwordHash: 'x' } })
  const change = (id: string, payload: object) =>
    admin.call('PATCH', `/api/v1/people/${id}`, { payload, headers: { 'if-match': '"1"' } })
  expect((await change(gone.id, { disabled: true })).statusCode).toBe(200)
  expect((await gone.call('GET', '/api/v1/me')).statusCode).toBe(401)
  const last = await change(admin.id, { role: 'office' })
  expect(last.statusCode).toBe(400)
  expect(last.json().errors[0].pointer).toBe('#/role')
})

test('the first start gives a link until somebody can log in', async () => {
  const fresh = await buildTestApp()
  const link = await firstStart(fresh.ctx, 'admin@example.com')
  expect(link).toContain('/welcome?token=')
  const token = new URL(link!).searchParams.get('token')
  expect(
    (await fresh.nobody('POST', '/api/v1/staff-link', { payload: { token, password: PASSWORD } })).statusCode,
  ).toBe(200)
  expect(await firstStart(fresh.ctx, 'admin@example.com')).toBeNull()
  void ctx
})
