import { createRequire } from 'node:module'
import PDFDocument from 'pdfkit'

// A thin layer over the PDF writer: blocks that are set one below another, and say in the document's structure what they
// are, so that a screen reader reads the report as a person sees it (PDF/UA, ISO 14289-1).

type Doc = PDFKit.PDFDocument
type Element = ReturnType<Doc['struct']>

export interface Sheet {
  doc: Doc
  /** The structure element that the next block becomes part of. */
  within: Element
  /** Pictures that are in the document already: each goes in once, however often it is printed. */
  images: Map<Buffer, unknown>
}

export const INK = '#1c2630'
export const SOFT = '#55626c'
export const LINE = '#cdd5da'
export const TINT = '#f3f6f7'
export const ACCENT = '#0d4a5a'

export const FONTS = { plain: 'plain', strong: 'strong', heavy: 'heavy' } as const
export const LEFT = 54
export const WIDTH = 504
export const TOP = 64
const BOTTOM = 66

const fontFile = (name: string) =>
  createRequire(import.meta.url).resolve(`@expo-google-fonts/source-sans-3/${name}.ttf`)

/** A letter-size document that is open for blocks. Call `finish` when the last is set. */
export function openSheet(about: { title: string; author: string; subject: string; at: Date }): Sheet {
  const doc = new PDFDocument({
    size: 'LETTER',
    margins: { top: TOP, bottom: BOTTOM, left: LEFT, right: 612 - LEFT - WIDTH },
    pdfVersion: '1.7',
    // Known to the writer, not yet to its types.
    subset: 'PDF/UA' as never,
    tagged: true,
    lang: 'en-US',
    displayTitle: true,
    bufferPages: true,
    info: {
      Title: plainText(about.title),
      Author: plainText(about.author),
      Subject: plainText(about.subject),
      Creator: 'Watchlamp',
      Producer: 'Watchlamp',
      CreationDate: about.at,
    },
  })
  doc.registerFont(FONTS.plain, fontFile('400Regular/SourceSans3_400Regular'))
  doc.registerFont(FONTS.strong, fontFile('600SemiBold/SourceSans3_600SemiBold'))
  doc.registerFont(FONTS.heavy, fontFile('700Bold/SourceSans3_700Bold'))
  doc.font(FONTS.plain).fillColor(INK)
  const root = doc.struct('Document')
  doc.addStructure(root)
  return { doc, within: root, images: new Map() }
}

/** The writer puts titles into its metadata as they are, where a `&` or `<` would break the XML. */
const plainText = (text: string) => text.replace(/&/g, 'and').replace(/[<>]/g, '')

/** Letters that print: control characters would be drawn as empty boxes. */
export const printable = (text: string) =>
  text.replace(/\r\n?/g, '\n').replace(/[^\P{Cc}\n]/gu, ' ').trim()

/** One block of content, tagged. */
export function leaf(sheet: Sheet, type: string, draw: () => void, options: { alt?: string; scope?: string; bbox?: number[] } = {}) {
  const element = sheet.doc.struct(type as 'P', options)
  sheet.within.add(element)
  element.add(draw)
  element.end()
}

/** A group of blocks. */
export function branch(sheet: Sheet, type: string, fill: (inside: Sheet) => void): void {
  const element = sheet.doc.struct(type as 'Sect')
  sheet.within.add(element)
  fill({ ...sheet, within: element })
  element.end()
}

/** What is only there to be looked at: a screen reader passes it by. Never inside a leaf. */
export function ornament({ doc }: Sheet, draw: () => void): void {
  doc.markContent('Artifact', { type: 'Layout' })
  doc.save()
  draw()
  doc.restore()
  doc.endMarkedContent()
}

/** How much is left on this page, in points. */
export function roomLeft({ doc }: Sheet): number {
  return doc.page.height - BOTTOM - doc.y
}

/** Begins a new page when less than that many points are left: what belongs together stays together. */
export function keep(sheet: Sheet, points: number): void {
  if (roomLeft(sheet) < points) sheet.doc.addPage()
}

export function gap({ doc }: Sheet, points: number): void {
  doc.y += points
}

export interface Running {
  head: string
  foot: string
}

/** Draws heads and feet now that the number of pages is known, and gives the whole document. */
export async function finish(sheet: Sheet, running: Running): Promise<Buffer> {
  const { doc } = sheet
  const chunks: Uint8Array[] = []
  doc.on('data', (chunk: Uint8Array) => chunks.push(chunk))
  const ended = new Promise<void>((resolve, reject) => {
    doc.on('end', resolve)
    doc.on('error', reject)
  })
  sheet.within.end()
  const { count } = doc.bufferedPageRange()
  for (let page = 0; page < count; page++) {
    doc.switchToPage(page)
    // Text below the margin would begin a page of its own.
    doc.page.margins.bottom = 0
    doc.markContent('Artifact', { type: 'Pagination' })
    const edge = doc.page.height - 44
    doc.moveTo(LEFT, edge).lineTo(LEFT + WIDTH, edge).lineWidth(0.5).strokeColor(LINE).stroke()
    const small = doc.font(FONTS.plain).fontSize(8.5).fillColor(SOFT)
    small.text(running.foot, LEFT, edge + 8, { width: WIDTH - 90, height: 11, ellipsis: true })
    small.text(`Page ${page + 1} of ${count}`, LEFT + WIDTH - 90, edge + 8, { width: 90, align: 'right' })
    if (page > 0) small.text(running.head, LEFT, 34, { width: WIDTH, height: 11, ellipsis: true })
    doc.endMarkedContent()
  }
  doc.end()
  await ended
  return Buffer.concat(chunks)
}
