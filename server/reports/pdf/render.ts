import type { ReportContent } from '../content.ts'
import { addressWords, TITLE } from '../words.ts'
import { findings } from './findings.ts'
import { firstPage } from './first-page.ts'
import { cautions, devices, good, leftOut, notInspected, settled } from './lists.ts'
import type { Pictures } from './photos.ts'
import { finish, openSheet } from './sheet.ts'
import { declined } from './signature.ts'

/**
 * The report as a tagged PDF on letter paper. The same content and pictures give the same document; its only date is the
 * day of issue.
 */
export function renderReport(content: ReportContent, pictures: Pictures): Promise<Buffer> {
  const sheet = openSheet({
    title: `${TITLE}: ${addressWords(content)}`,
    author: content.company.name,
    subject: `Version ${content.version}`,
    at: new Date(`${content.issuedOn}T00:00:00Z`),
  })
  firstPage(sheet, content)
  findings(sheet, content, pictures)
  declined(sheet, content)
  devices(sheet, content)
  good(sheet, content)
  settled(sheet, content)
  notInspected(sheet, content)
  leftOut(sheet, content)
  cautions(sheet, content)
  return finish(sheet, {
    head: `${TITLE} · ${addressWords(content)}`,
    foot: `${content.company.name} · ${content.company.phone} · Version ${content.version}`,
  })
}
