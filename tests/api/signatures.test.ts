import { createHash } from 'node:crypto'
import { getDocument } from 'pdfjs-dist/legacy/build/pdf.mjs'
import { expect, test, vi } from 'vitest'
import { declinedStatement, refusalStatement, signaturePath } from '../../trade/inspection/signature.ts'
import { newId } from '../../server/ids.ts'
import type { ReportContent } from '../../server/reports/content.ts'
import { renderReport } from '../../server/reports/pdf/render.ts'
import { buildTestApp } from '../build/app.ts'
import { buildCompletedInspection, buildInspection, operation, readInspection } from '../build/inspection.ts'

// A whole inspection is a hundred operations, each a transaction of its own.
vi.setConfig({ testTimeout: 90_000 })

const { base, ctx, person } = await buildTestApp()
const technician = await person('technician')
const office = await person('office')

const where = { line1: '14 Quay Lane', city: 'Port Ansel' }
const drawing = signaturePath(
  [
    [
      { x: 30, y: 60 },
      { x: 120, y: 20 },
      { x: 210, y: 70 },
    ],
    [{ x: 230, y: 40 }],
  ],
  { width: 300, height: 100 },
)
const sign = (statement: string, more: Record<string, unknown> = {}) => ({
  name: 'Robin Vale',
  at: '2026-06-01T15:20:00Z',
  statement,
  statementHash: createHash('sha256').update(statement).digest('hex'),
  ...more,
})
const unsafe = (findingId: string) =>
  ({
    findingId,
    itemId: 'panel-cover-off.circuit',
    severity: 'unsafe',
    text: 'A 30 A breaker on 14 AWG copper.',
    correction: 'Replace the breaker with one of 15 A.',
  }) as const

test('work that is declined is kept with the words, their hash, the name and the strokes', async () => {
  const { id, device } = await buildInspection(ctx, technician)
  const findingId = newId()
  const statement = declinedStatement([unsafe(findingId)], where)
  await device.apply([
    operation('save-finding', id, unsafe(findingId)),
    operation('decline-work', id, {
      findingIds: [findingId],
      signature: sign(statement, { drawing }),
    }),
  ])
  const { workDeclined, findings } = await readInspection(office, id)
  expect(workDeclined).toEqual({ findingIds: [findingId], ...sign(statement, { drawing }) })
  expect(findings[0]).toMatchObject({ state: 'open' })
  const again = `${statement} Signed again.`
  await device.apply([
    operation('decline-work', id, { findingIds: [findingId], signature: sign(again, { name: 'Ida Vale' }) }),
  ])
  expect((await readInspection(office, id)).workDeclined).toMatchObject({ name: 'Ida Vale' })
  const audited = await base.db.auditEntry.findMany({
    where: { action: 'inspection.decline-work', subjectId: id },
    orderBy: { id: 'asc' },
  })
  expect(audited.map(({ before, after }) => ({ before, after }))).toMatchObject([
    { before: null, after: { statement } },
    { before: { name: 'Robin Vale', statement }, after: { statement: again } },
  ])
})

test.each([
  ['other words than the hash is of', { statement: 'I agree to everything.' }, /statementHash/],
  ['a hash of other words', { statementHash: 'f'.repeat(64) }, /statementHash/],
  ['no name', { name: ' ' }, /name/],
  ['strokes that are a program', { drawing: '<script>alert(1)</script>' }, /strokes/],
  ['strokes with a quote', { drawing: 'M1 1L2 2" onload="x' }, /strokes/],
])('a signature with %s is refused, for refusal and declined work alike', async (_what, change, words) => {
  const { id, device } = await buildInspection(ctx, technician)
  const findingId = newId()
  const statement = refusalStatement(unsafe(findingId), where)
  await device.apply([operation('save-finding', id, unsafe(findingId))])
  const signature = { ...sign(statement), ...change } as ReturnType<typeof sign>
  const outcomes = await device.send([
    operation('refuse-make-safe', id, { findingId, signature }),
    operation('decline-work', id, { findingIds: [findingId], signature }),
  ])
  for (const { outcome, problem } of outcomes) {
    expect(outcome).toBe('refused')
    expect(JSON.stringify(problem)).toMatch(words)
  }
  const after = await readInspection(technician, id)
  expect(after.workDeclined).toBeNull()
  expect(after.findings[0]!.refusal).toBeNull()
})

test('work cannot be declined for a finding of another home, or one that is not there', async () => {
  const { id, device } = await buildInspection(ctx, technician)
  const other = await buildInspection(ctx, technician)
  const findingId = newId()
  await other.device.apply([operation('save-finding', other.id, unsafe(findingId))])
  const outcomes = await device.send(
    [findingId, newId()].map((each) =>
      operation('decline-work', id, { findingIds: [each], signature: sign('I decline.') }),
    ),
  )
  for (const { problem } of outcomes) expect(problem).toMatchObject({ type: '/problems/not-found' })
})

test('report and PDF carry both signatures: words, name, time at the home, strokes', async () => {
  const { id, device, findings } = await buildCompletedInspection(ctx, technician)
  await office.call('POST', `/api/v1/inspections/${id}/reopen`)
  const refused = refusalStatement({ text: 'A 30 A breaker' }, where)
  const declined = declinedStatement([{ text: 'The hall smoke alarm is past its ten years.' }], where)
  await device.apply([
    operation('refuse-make-safe', id, {
      findingId: findings.breaker,
      signature: sign(refused, { drawing }),
    }),
    operation('decline-work', id, { findingIds: [findings.alarm], signature: sign(declined, { drawing }) }),
    operation('complete-inspection', id, {}),
  ])
  const preview = await office.call('GET', `/api/v1/inspections/${id}/report-preview`)
  expect(preview.statusCode, preview.body).toBe(200)
  const { html, content } = preview.json<{ html: string; content: Record<string, unknown> }>()
  expect(html).toContain('I was offered to have it made safe now and decline')
  expect(html).toContain('Work that was not wanted now')
  expect(html.match(/aria-label="Signature of Robin Vale"/g)).toHaveLength(2)
  expect(html).toContain(`<path d="${drawing}"/>`)
  // 15:20 in UTC is 11:20 in the morning where daylight time is four hours behind.
  expect(html).toContain('Robin Vale, June 1, 2026 at 11:20 AM')
  expect(content).toMatchObject({ workDeclined: { statement: declined, name: 'Robin Vale', drawing } })

  // An independent reader finds the words on the paper.
  const pdf = await renderReport(content as ReportContent, new Map())
  const document = await getDocument({ data: new Uint8Array(pdf), verbosity: 0 }).promise
  const pages = await Promise.all(
    Array.from({ length: document.numPages }, async (_, i) =>
      (await document.getPage(i + 1)).getTextContent(),
    ),
  )
  const text = pages.flatMap(({ items }) => items.map((each) => ('str' in each ? each.str : ''))).join(' ')
  expect(text.replace(/\s+/g, ' ')).toMatch(
    /Work that was not wanted now.*Signed by Robin Vale, June 1, 2026 at 11:20 AM/,
  )
})
