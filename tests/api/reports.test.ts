import { createHash } from 'node:crypto'
import { getDocument, type PDFDocumentProxy } from 'pdfjs-dist/legacy/build/pdf.mjs'
import { expect, test, vi } from 'vitest'
import { newId } from '../../server/ids.ts'
import type { ReportSummary } from '../../server/inspections/schema.ts'
import { canonicalJson, type ReportContent } from '../../server/reports/content.ts'
import type { ReportView } from '../../server/reports/schema.ts'
import { buildTestApp, type TestPerson } from '../build/app.ts'
import { buildCompletedInspection, buildInspection, operation, readInspection } from '../build/inspection.ts'
import { buildJpeg } from '../build/picture.ts'

// A whole inspection is a hundred operations, each a transaction of its own.
vi.setConfig({ testTimeout: 90_000 })

const { base, ctx, rung, person } = await buildTestApp()
const office = await person('office', 'Dana Okafor')
const technician = await person('technician', 'Ana Reyes')
const other = await person('technician')

const issue = (by: TestPerson, id: string, reason?: string) =>
  by.call('POST', `/api/v1/inspections/${id}/issue`, { payload: reason === undefined ? {} : { reason } })

async function issued(
  by: TestPerson,
  id: string,
  reason?: string,
): Promise<ReportView & { content: ReportContent }> {
  const answer = await issue(by, id, reason)
  expect(answer.statusCode, answer.body).toBe(201)
  return answer.json()
}

interface Tree {
  role?: string
  alt?: string
  children?: Tree[]
}

/** Everything that an independent reader of PDFs finds in it. */
async function openPdf(bytes: Buffer) {
  const pdf: PDFDocumentProxy = await getDocument({ data: new Uint8Array(bytes), verbosity: 0 }).promise
  let text = ''
  const roles: Tree[] = []
  for (let number = 1; number <= pdf.numPages; number++) {
    const page = await pdf.getPage(number)
    const { items } = await page.getTextContent()
    text += `${items.map((item) => ('str' in item ? item.str + (item.hasEOL ? ' ' : '') : '')).join('')}\n`
    const walk = (tree: Tree): void => {
      roles.push(tree)
      tree.children?.forEach(walk)
    }
    const tree = (await page.getStructTree()) as Tree | null
    if (tree) walk(tree)
  }
  const { info } = await pdf.getMetadata()
  return {
    pages: pdf.numPages,
    text: text.replace(/\s+/g, ' '),
    roles,
    info: info as Record<string, unknown>,
    mark: await pdf.getMarkInfo(),
  }
}

test('a completed inspection is issued, frozen, printed and told to the customer', async () => {
  const { id, findings, property } = await buildCompletedInspection(ctx, technician)
  const photoId = newId()
  await technician.call(
    'PUT',
    `/api/v1/inspections/${id}/photos/${photoId}?findingId=${findings.breaker}&caption=Circuit%204`,
    {
      payload: await buildJpeg(900, 700),
      headers: { 'content-type': 'image/jpeg' },
    },
  )
  const preview = await technician.call('GET', `/api/v1/inspections/${id}/report-preview`)
  expect(preview.json()).toMatchObject({
    open: [],
    content: { version: 1, answer: { safety: 'made-safe', first: [1] } },
  })

  const report = await issued(office, id)
  expect(report).toMatchObject({ version: 1, issuedById: office.id, issuedAt: '2026-06-01T15:00:00.000Z' })
  const { content } = report
  expect(content.findings.map((group) => group.severity)).toEqual(['unsafe', 'repair'])
  expect(content.findings[0]!.findings[0]).toMatchObject({
    number: 1,
    place: 'Circuit 4',
    makeSafe: 'Breaker switched off and tagged.',
    photos: [{ id: photoId, caption: 'Circuit 4' }],
  })
  expect(content.devices).toEqual([
    expect.objectContaining({ name: 'Hall alarm', manufacturedOn: '2014-03-01', replaceBy: '2024-03-01' }),
  ])
  expect(content.good.length).toBeGreaterThan(3)
  expect(content.leftOut).toContainEqual(expect.objectContaining({ reason: 'The home has no gas piping.' }))

  const stored = await base.db.report.findUniqueOrThrow({ where: { id: report.id } })
  expect(createHash('sha256').update(canonicalJson(stored.content)).digest('hex')).toBe(report.sha256)

  expect(await readInspection(technician, id)).toMatchObject({
    state: 'issued',
    reports: [{ id: report.id, version: 1 }],
  })
  const message = await base.db.message.findFirstOrThrow({
    where: { propertyId: property.id, kind: 'report-issued' },
  })
  expect(message).toMatchObject({
    category: 'report',
    customerId: property.customerId,
    context: { reportId: report.id },
  })
  expect(rung).toContainEqual({ name: 'send-message', payload: { messageId: message.id } })
  expect(await base.db.auditEntry.findFirst({ where: { subjectId: report.id } })).toMatchObject({
    action: 'report.issue',
    actorId: office.id,
  })
})

test('the PDF is tagged, and reads in the order that people need', async () => {
  const { id, findings } = await buildCompletedInspection(ctx, technician)
  await technician.call(
    'PUT',
    `/api/v1/inspections/${id}/photos/${newId()}?findingId=${findings.breaker}&caption=The%20breaker`,
    {
      payload: await buildJpeg(1600, 1200),
      headers: { 'content-type': 'image/jpeg' },
    },
  )
  const report = await issued(technician, id)
  const answer = await office.call('GET', `/api/v1/reports/${report.id}/pdf`)
  expect(answer.headers['content-type']).toBe('application/pdf')
  expect(answer.headers['content-disposition']).toMatch(/^inline; filename="inspection-[\w-]+-v1\.pdf"$/)
  expect(answer.rawPayload.length).toBeLessThan(2_000_000)

  const { pages, text, roles, info, mark } = await openPdf(answer.rawPayload)
  expect(pages).toBeGreaterThan(1)
  expect(mark).toMatchObject({ Marked: true })
  expect(info['Title']).toMatch(/^Electrical safety inspection: .*Quay Lane, Port Ansel/)
  expect(info['Language']).toBe('en-US')
  const order = [
    'Kestrel Row Electric',
    'Electrical safety inspection',
    'Safe to use for now',
    'What we found',
    '1. Circuit 4',
    'A 30 A breaker protects 14 AWG copper wire.',
    'Why it matters',
    'Replace the breaker with one of 15 A.',
    'Alarms and protective devices',
    'March 1, 2014',
    'Looked at and found good',
    'Not part of this home',
    'Please keep in mind',
  ]
  let from = 0
  for (const words of order) {
    const at = text.indexOf(words, from)
    expect(at, `“${words}” after “${text.slice(Math.max(0, from - 40), from)}”`).toBeGreaterThanOrEqual(from)
    from = at
  }
  expect(text).toContain(`Page ${pages} of ${pages}`)

  const named = (role: string) => roles.filter((each) => each.role === role)
  expect(named('H1')).toHaveLength(1)
  expect(named('H2').length).toBeGreaterThanOrEqual(4)
  expect(named('Table').length).toBeGreaterThanOrEqual(1)
  expect(named('TH').length).toBeGreaterThanOrEqual(6)
  expect(named('Figure').map((figure) => figure.alt)).toEqual(['The breaker'])
})

test('a correction is a new version with its reason; the old one stays as it was', async () => {
  const { id, findings } = await buildCompletedInspection(ctx, technician)
  const first = await issued(office, id)
  const firstPdf = (await office.call('GET', `/api/v1/reports/${first.id}/pdf`)).rawPayload

  const without = await issue(office, id)
  expect(without.json()).toMatchObject({ status: 400, errors: [{ pointer: '#/reason' }] })

  const change = { text: 'A 30 A breaker protects 14 AWG wire in the kitchen circuit.' }
  const etag = { 'if-match': '"1"' }
  const changed = await office.call('PATCH', `/api/v1/findings/${findings.breaker}`, {
    payload: change,
    headers: etag,
  })
  expect(changed.json()).toMatchObject({ ...change, version: 2 })
  const second = await issued(office, id, 'Named the circuit')
  expect(second).toMatchObject({ version: 2, reason: 'Named the circuit' })
  expect(second.content.findings[0]!.findings[0]!.text).toBe(change.text)

  expect((await office.call('GET', `/api/v1/reports/${first.id}`)).json()).toEqual(first)
  expect((await office.call('GET', `/api/v1/reports/${first.id}/pdf`)).rawPayload.equals(firstPdf)).toBe(true)
  const list = (await technician.call('GET', `/api/v1/inspections/${id}/reports`)).json<ReportSummary[]>()
  expect(list.map((each) => each.version)).toEqual([2, 1])
  expect(
    await base.db.message.count({
      where: { kind: 'report-issued', context: { path: ['inspectionId'], equals: id } },
    }),
  ).toBe(2)
  await expect(base.db.report.update({ where: { id: first.id }, data: { reason: 'No' } })).rejects.toThrow()
})

test('issued at the same time twice, it is one version', async () => {
  const { id } = await buildCompletedInspection(ctx, technician)
  // Both have printed their report before either may write it down.
  let bothHave = () => {}
  const printed = new Promise<void>((resolve) => (bothHave = resolve))
  const keep = base.files.put.bind(base.files)
  let waiting = 0
  const put = vi.spyOn(base.files, 'put').mockImplementation(async (pdf) => {
    if (++waiting === 2) bothHave()
    await printed
    return keep(pdf)
  })
  const answers = await Promise.all([issue(office, id), issue(technician, id)])
  put.mockRestore()
  expect(waiting).toBe(2)
  expect(answers.map((each) => each.statusCode).sort()).toEqual([201, 412])
  expect(await base.db.report.count({ where: { inspectionId: id } })).toBe(1)
})

test('what is not finished, and what is not theirs, is not issued', async () => {
  const { id, device } = await buildInspection(ctx, technician)
  const early = await issue(office, id)
  expect(early.json()).toMatchObject({ type: '/problems/inspection-incomplete', status: 409 })
  expect((await issue(other, id)).statusCode).toBe(403)
  expect((await issue(office, newId())).statusCode).toBe(404)

  const { id: done, findings } = await buildCompletedInspection(ctx, technician)
  const makeUnsafe = { payload: { severity: 'unsafe', makeSafe: null }, headers: { 'if-match': '"1"' } }
  await office.call('PATCH', `/api/v1/findings/${findings.alarm}`, makeUnsafe)
  const unsettled = await issue(office, done)
  expect(unsettled.json()).toMatchObject({
    type: '/problems/inspection-incomplete',
    open: [{ kind: 'unsafe-unsettled', findingId: findings.alarm }],
  })
  expect(await base.db.report.count({ where: { inspectionId: done } })).toBe(0)
  void device
})

test('after the issue the field sheet and the photos stay as they are', async () => {
  const { id, device, circuit } = await buildCompletedInspection(ctx, technician)
  await issued(office, id)
  const [late] = await device.send([
    operation('answer-item', id, {
      itemId: 'panel-cover-off.circuit',
      subjectKind: 'equipment',
      subjectId: circuit.id,
      result: 'ok',
    }),
  ])
  expect(late!.problem).toMatchObject({ type: '/problems/wrong-state', state: 'issued' })
  const photo = await technician.call('PUT', `/api/v1/inspections/${id}/photos/${newId()}`, {
    payload: await buildJpeg(60, 40),
    headers: { 'content-type': 'image/jpeg' },
  })
  expect(photo.json()).toMatchObject({ type: '/problems/wrong-state' })
  expect((await office.call('POST', `/api/v1/inspections/${id}/reopen`)).json()).toMatchObject({
    type: '/problems/wrong-state',
  })
})

test('reports of one technician are not another’s', async () => {
  const { id } = await buildCompletedInspection(ctx, technician)
  const { id: reportId } = await issued(technician, id)
  for (const url of [
    `/reports/${reportId}`,
    `/reports/${reportId}/pdf`,
    `/inspections/${id}/reports`,
    `/inspections/${id}/report-preview`,
  ]) {
    expect((await other.call('GET', `/api/v1${url}`)).statusCode, url).toBe(403)
    expect((await technician.call('GET', `/api/v1${url}`)).statusCode, url).toBe(200)
  }
  expect((await office.call('GET', `/api/v1/reports/${newId()}`)).statusCode).toBe(404)
})
