import { expect, test } from 'vitest'
import { memoryMailer } from '../../server/gateways/mail-memory.ts'
import { sendMessage } from '../../server/messages/sending.ts'
import { buildTestApp } from '../build/app.ts'
import { buildHousehold } from '../build/follow-up.ts'
import { buildCompletedInspection } from '../build/inspection.ts'
import { buildLink } from '../build/link.ts'

const { app, ctx, clock, person } = await buildTestApp()
const office = await person('office')
const technician = await person('technician')
const mailer = memoryMailer()
const get = (url: string) => app.inject({ method: 'GET', url })

test('the report that was mailed is read on its page, as it was issued, with its PDF and nothing of others', async () => {
  const { id } = await buildCompletedInspection(ctx, technician)
  const issued = await office.call('POST', `/api/v1/inspections/${id}/issue`, { payload: {} })
  expect(issued.statusCode, issued.body).toBeLessThan(300)
  const message = await ctx.db.message.findFirstOrThrow({ where: { kind: 'report-issued' } })
  clock.set('2026-06-02T15:00:00Z')
  expect(await sendMessage(ctx, mailer, message.id)).toBe('sent')
  const url = new URL(/http\S+\/h\/[\w-]{43}/.exec(mailer.letters[0]!.text)![0]).pathname

  const page = await get(url)
  expect(page.statusCode).toBe(200)
  expect(page.body).toContain('<article class="report"')
  expect(page.body).toContain('Kestrel Row Electric')
  expect(page.body.match(/<h1/g)).toHaveLength(1)
  const pdf = await get(`${url}/report.pdf`)
  expect(pdf.headers['content-type']).toBe('application/pdf')
  expect(pdf.rawPayload.subarray(0, 5).toString()).toBe('%PDF-')
  expect((await get(`${url}/photos/${'0'.repeat(64)}`)).statusCode).toBe(404)

  await office.call('POST', `/api/v1/inspections/${id}/issue`, { payload: { reason: 'A date was wrong.' } })
  expect((await get(url)).body).toContain('There is a newer version of this report, of June 2, 2026.')

  const stranger = await buildHousehold(ctx)
  const due = await buildLink(ctx, stranger)
  expect((await get(`${due}/report.pdf`)).statusCode).toBe(404)
  const without = await buildLink(ctx, stranger, { purpose: 'report' })
  expect((await get(without)).statusCode).toBe(404)
})
