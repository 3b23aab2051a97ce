import { getDocument } from 'pdfjs-dist/legacy/build/pdf.mjs'
import { expect, test } from 'vitest'
import { canonicalJson } from '../../server/reports/content.ts'
import { reportPage } from '../../server/reports/page.ts'
import { renderReport } from '../../server/reports/pdf/render.ts'
import { buildJpeg } from '../build/picture.ts'
import { buildReportContent, buildReportFinding } from '../build/report.ts'

async function read(bytes: Buffer) {
  const pdf = await getDocument({ data: new Uint8Array(bytes), verbosity: 0 }).promise
  const pages: string[] = []
  for (let number = 1; number <= pdf.numPages; number++) {
    const { items } = await (await pdf.getPage(number)).getTextContent()
    pages.push(items.map((item) => ('str' in item ? item.str + (item.hasEOL ? ' ' : '') : '')).join(''))
  }
  return {
    pages,
    text: pages.join(' ').replace(/\s+/g, ' '),
    info: (await pdf.getMetadata()).info as Record<string, unknown>,
  }
}

test('RFC 8785 §3.2.2: numbers, strings and literals have one way to be written', () => {
  const given = JSON.parse(
    String.raw`{"numbers":[333333333.33333329,1E30,4.50,2e-3,0.000000000000000000000000001],"string":"\u20ac$\u000F\u000aA'\u0042\u0022\u005c\\\"\/","literals":[null,true,false]}`,
  )
  expect(canonicalJson(given)).toBe(
    String.raw`{"literals":[null,true,false],"numbers":[333333333.3333333,1e+30,4.5,0.002,1e-27],"string":"€$\u000f\nA'B\"\\\\\"/"}`,
  )
})

test('RFC 8785 §3.2.3: names are sorted by UTF-16 code units', () => {
  const given = {
    '€': 'Euro Sign',
    '\r': 'Carriage Return',
    '\ufb33': 'Hebrew Letter Dalet With Dagesh',
    '1': 'One',
    '😀': 'Emoji: Grinning Face',
    '\u0080': 'Control',
    ö: 'Latin Small Letter O With Diaeresis',
  }
  expect(Object.values(JSON.parse(canonicalJson(given)) as object)).toHaveLength(7)
  expect(canonicalJson(given).match(/:"[^"]+"/g)).toEqual(
    [
      'Carriage Return',
      'One',
      'Control',
      'Latin Small Letter O With Diaeresis',
      'Euro Sign',
      'Emoji: Grinning Face',
      'Hebrew Letter Dalet With Dagesh',
    ].map((words) => `:"${words}"`),
  )
})

test('the same content gives the same document, to the byte', async () => {
  const [one, two] = [
    await renderReport(buildReportContent(), new Map()),
    await renderReport(buildReportContent(), new Map()),
  ]
  expect(one.equals(two)).toBe(true)
})

test('every severity is said in words beside its sign', async () => {
  const { text } = await read(await renderReport(buildReportContent(), new Map()))
  for (const words of ['1 Unsafe', '2 Repair', '1 Investigate', '1 Improve', '1 Watch']) {
    expect(text.replace(/\s+/g, ' ')).toContain(words)
  }
  expect(text).toContain('This was allowed when it was built. It is not a violation')
  expect(text).toContain('“I was told what this means and want it left as it is for now.”')
  expect(text).toContain('NFPA 70-2023 240.4(D)(3)')
})

test('an address with signs of XML does not break the document', async () => {
  const content = buildReportContent()
  content.company.name = 'Kestrel & Row <Electric>'
  content.property.line1 = '14 "Quay" & Lane <rear>'
  const { text, info } = await read(await renderReport(content, new Map()))
  expect(text).toContain('Kestrel & Row <Electric>')
  expect(info['Title']).toBe('Electrical safety inspection: 14 "Quay" and Lane rear, Port Ansel NY 12990')
})

test('the longest that can be typed is printed whole, and no page is left empty', async () => {
  const long = `${'Word after word, '.repeat(230)}end.`.slice(0, 4000)
  const unbroken = 'x'.repeat(600)
  const findings = [1, 2, 3].map((number) =>
    buildReportFinding(number, {
      text: number === 2 ? unbroken : long,
      correction: long,
      makeSafe: long.slice(0, 2000),
    }),
  )
  const content = buildReportContent({
    findings: [{ severity: 'repair', title: 'Repair', meaning: 'Defective.', findings }],
    settled: Array.from({ length: 40 }, (_, i) => ({
      text: `${i} ${long}`,
      foundOn: '2022-05-11',
      outcome: 'Corrected by us',
      note: '',
    })),
  })
  content.inspection.note = long.repeat(2)
  const { pages, text } = await read(await renderReport(content, new Map()))
  expect(text.split('Word after word').length).toBeGreaterThan(230 * 6)
  expect(text.replaceAll(' ', '')).toContain(unbroken)
  for (const page of pages) expect(page.length).toBeGreaterThan(120)
  expect(pages.length).toBeLessThan(60)
})

test('wherever a page ends, a table stands under its title', async () => {
  const devices = ['Hall', 'Kitchen', 'Bedroom', 'Landing', 'Garage', 'Office'].map((place) => ({
    ...buildReportContent().devices[0]!,
    name: `Alarm, ${place}`,
    place,
  }))
  for (let words = 0; words < 120; words += 8) {
    const finding = buildReportFinding(1, { text: 'A breaker that does not fit its wire. '.repeat(words) })
    const findings = [
      { severity: 'repair' as const, title: 'Repair', meaning: 'Defective.', findings: [finding] },
    ]
    const { pages } = await read(await renderReport(buildReportContent({ findings, devices }), new Map()))
    const titled = pages.find((page) => page.includes('Alarms and protective devices'))
    expect(titled, `${words} sentences`).toContain('Alarm, Hall')
  }
})

test('sixty photos are printed once each, and the file stays small', async () => {
  const pictures = new Map<string, Buffer>()
  for (let i = 0; i < 6; i++) pictures.set(`hash-${i}`, await buildJpeg(600, 450, i))
  const findings = Array.from({ length: 30 }, (_, i) =>
    buildReportFinding(i + 1, {
      photos: [0, 1].map((n) => ({
        id: `${i}-${n}`,
        sha256: `hash-${(i + n) % 6}`,
        width: 600,
        height: 450,
        caption: `Photo ${i}-${n}`,
        annotations: [{ shape: 'circle', centre: { x: 0.5, y: 0.5 }, radius: 0.2 }],
      })),
    }),
  )
  const content = buildReportContent({
    findings: [{ severity: 'repair', title: 'Repair', meaning: 'Defective.', findings }],
  })
  const bytes = await renderReport(content, pictures)
  const { text } = await read(bytes)
  for (let i = 0; i < 30; i++) expect(text).toContain(`Photo ${i}-1`)
  const once = [...pictures.values()].reduce((sum, each) => sum + each.length, 0)
  expect(bytes.length).toBeLessThan(once + 600_000)
})

test('a picture that the store has lost leaves a frame and no fault', async () => {
  const content = buildReportContent()
  content.findings[0]!.findings[0]!.photos = [
    { id: 'x', sha256: 'gone', width: 400, height: 300, caption: 'Gone', annotations: [] },
  ]
  expect((await read(await renderReport(content, new Map()))).text).toContain('Gone')
})

test('on the page, whatever people typed is text', () => {
  const content = buildReportContent()
  const finding = content.findings[0]!.findings[0]!
  finding.text = '<script>alert(1)</script>'
  finding.photos = [
    {
      id: '1',
      sha256: 'a',
      width: 4,
      height: 3,
      caption: '"><img onerror=x>',
      annotations: [{ shape: 'text', at: { x: 0, y: 0 }, text: '</svg><script>' }],
    },
  ]
  const html = reportPage(content, { photoUrl: ({ id }) => `/photo/${id}?a="b"` })
  expect(html).not.toContain('<script')
  expect(html).not.toContain('<img onerror')
  expect(html).toContain('&lt;script&gt;alert(1)&lt;/script&gt;')
  expect(html).toContain('/photo/1?a&#x3D;&quot;b&quot;')
  expect(html.match(/<h1/g)).toHaveLength(1)
})
