import { mkdtemp, rm } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { createTransport } from 'nodemailer'
import { afterAll, expect, test } from 'vitest'
import { startMailCatcher } from '../../scripts/mail-catcher/catcher.ts'

const folder = await mkdtemp(join(tmpdir(), 'watchlamp-mail-test-'))
afterAll(() => rm(folder, { recursive: true }))
const catcher = await startMailCatcher({ folder })
afterAll(() => catcher.stop())
const transport = createTransport(catcher.smtpUrl)

const get = async (path: string) => fetch(`${catcher.webUrl}${path}`)
const json = async <T>(path: string) => (await (await get(path)).json()) as T

interface Listed {
  id: string
  subject: string
  envelope: { from: string; to: string[] }
}

test('a message is kept whole, with whom the envelope named', async () => {
  await transport.sendMail({
    from: 'Kestrel Row Electric <office@example.com>',
    to: 'ana@example.com',
    bcc: 'records@example.com',
    subject: 'Señales & <alarms>',
    text: 'Your alarm: https://office.example.com/due/abc',
    html: '<p>Your alarm</p><script>alert(1)</script>',
    attachments: [{ filename: 'visit.ics', content: 'BEGIN:VCALENDAR', contentType: 'text/calendar' }],
  })
  const [listed] = await json<Listed[]>('/api/messages')
  expect(listed).toMatchObject({
    subject: 'Señales & <alarms>',
    envelope: { from: 'office@example.com', to: ['ana@example.com', 'records@example.com'] },
  })
  const message = await json<Record<string, unknown>>(`/api/messages/${listed!.id}`)
  expect(message).toMatchObject({
    text: expect.stringContaining('Your alarm: https://office.example.com/due/abc'),
    attachments: [{ filename: 'visit.ics', contentType: 'text/calendar', size: 15 }],
    headers: { subject: expect.any(String), 'message-id': expect.stringContaining('@') },
  })

  const page = await (await get(`/messages/${listed!.id}`)).text()
  expect(page).toContain('Señales &amp; &lt;alarms&gt;')
  expect(page).not.toContain('<script')
  const shown = await get(`/messages/${listed!.id}/html`)
  expect(await shown.text()).toContain('<base target="_blank">')
  expect(shown.headers.get('content-security-policy')).toMatch(
    /^sandbox allow-popups allow-popups-to-escape-sandbox; default-src 'none'/,
  )
  expect(await (await get(`/messages/${listed!.id}/text`)).text()).toContain(
    '<a href="https://office.example.com/due/abc"',
  )
  expect(await (await get(`/messages/${listed!.id}/source`)).text()).toContain(
    'Content-Type: multipart/mixed',
  )
  expect(await (await get(`/messages/${listed!.id}/attachments/0`)).text()).toBe('BEGIN:VCALENDAR')
})

test('what is not there is a 404, also by a path that leads elsewhere', async () => {
  for (const id of ['nothing', '..%2F..%2Fetc%2Fpasswd', '%00']) {
    expect((await get(`/messages/${id}`)).status).toBe(404)
    expect((await get(`/api/messages/${id}`)).status).toBe(404)
  }
})

test('a refusal reaches the sender with its code, and nothing is kept', async () => {
  catcher.refuse = ({ to }) =>
    to.includes('full@example.com') ? { code: 452, message: 'mailbox full' } : null
  const before = (await catcher.mailbox.list()).length
  await expect(
    transport.sendMail({ from: 'office@example.com', to: 'full@example.com', subject: 'x', text: 'x' }),
  ).rejects.toMatchObject({ responseCode: 452 })
  expect(await catcher.mailbox.list()).toHaveLength(before)
})

test('the mail is still there for the next catcher of the folder, until it is thrown away', async () => {
  const next = await startMailCatcher({ folder })
  expect((await next.mailbox.list()).map(({ subject }) => subject)).toEqual(['Señales & <alarms>'])
  await fetch(`${next.webUrl}/clear`, { method: 'POST', body: new URLSearchParams() })
  expect(await catcher.mailbox.list()).toEqual([])
  expect(await (await get('/')).text()).toContain('Nothing has been sent yet')
  await next.stop()
})
