import { markPath, markText, type PhotoMark, thicknessOn } from '../../../trade/inspection/photo-marks.ts'
import type { ReportFinding, ReportPhoto } from '../content.ts'
import { drawnWords } from '../page-drawings.ts'
import { photoWords } from '../words.ts'
import { FONTS, keep, leaf, LEFT, LINE, printable, type Sheet, SOFT, WIDTH } from './sheet.ts'

/** The bytes of a picture as they are printed, by its hash; null when the store has lost it. */
export type Pictures = ReadonlyMap<string, Buffer>

const GAP = 12
const MAX_HEIGHT = 190
/** Room for a caption of two lines. */
const CAPTION = 28

/** Photos of a finding, two in a row, each with its caption and what was drawn on it. */
export function photos(sheet: Sheet, finding: ReportFinding, pictures: Pictures, indent: number): void {
  const width = columnWidth(indent)
  for (const row of rowsOf(finding)) {
    const sizes = sizesOf(row, width)
    const height = Math.max(...sizes.map((size) => size.height))
    keep(sheet, height + CAPTION)
    const top = sheet.doc.y
    row.forEach((photo, i) => {
      const x = LEFT + indent + i * (width + GAP)
      one(sheet, finding, photo, pictures.get(photo.sha256), { x, y: top, ...sizes[i]! })
    })
    sheet.doc.y = top + height + 4
    captions(sheet, row, indent, width)
  }
}

export function heightOfPhotos(finding: ReportFinding, indent: number): number {
  const heights = rowsOf(finding).map((row) =>
    Math.max(...sizesOf(row, columnWidth(indent)).map((size) => size.height)),
  )
  return heights.reduce((sum, height) => sum + height + CAPTION, 0)
}

const columnWidth = (indent: number) => (WIDTH - indent - GAP) / 2

function rowsOf({ photos: all }: ReportFinding): ReportPhoto[][] {
  return all.flatMap((_, i) => (i % 2 === 0 ? [all.slice(i, i + 2)] : []))
}

/** One that stands alone may be larger. */
function sizesOf(row: readonly ReportPhoto[], width: number): { width: number; height: number }[] {
  return row.map((photo) => fitted(photo, row.length === 1 ? width * 1.35 : width))
}

interface Place {
  x: number
  y: number
  width: number
  height: number
}

function fitted({ width, height }: ReportPhoto, maxWidth: number): { width: number; height: number } {
  const scale = Math.min(maxWidth / width, MAX_HEIGHT / height)
  return { width: width * scale, height: height * scale }
}

function one(
  sheet: Sheet,
  finding: ReportFinding,
  photo: ReportPhoto,
  picture: Buffer | undefined,
  place: Place,
): void {
  const { doc } = sheet
  const { x, y, width, height } = place
  const alt = picture ? photoWords(finding, photo.caption) + drawnWords(photo) : 'The picture could not be found.'
  leaf(
    sheet,
    'Figure',
    () => {
      if (picture) doc.image(opened(sheet, picture), x, y, { width, height })
      doc.rect(x, y, width, height).lineWidth(0.5).stroke(LINE)
      for (const mark of photo.annotations) drawMark(sheet, mark as never, place)
    },
    { alt, bbox: [x, y, x + width, y + height] },
  )
}

function opened({ doc, images }: Sheet, picture: Buffer): Buffer {
  // The writer can open a picture once and take it wherever bytes are; its types say neither.
  const writer = doc as unknown as { openImage: (bytes: Buffer) => unknown }
  const image = images.get(picture) ?? writer.openImage(picture)
  images.set(picture, image)
  return image as Buffer
}

function captions(
  sheet: Sheet,
  row: readonly ReportPhoto[],
  indent: number,
  width: number,
): void {
  const { doc } = sheet
  const top = doc.y
  let bottom = top
  row.forEach(({ caption }, i) => {
    if (!caption) return
    leaf(sheet, 'P', () =>
      doc
        .font(FONTS.plain)
        .fontSize(9)
        .fillColor(SOFT)
        .text(caption, LEFT + indent + i * (width + GAP), top, { width, height: 24, ellipsis: true }),
    )
    bottom = Math.max(bottom, doc.y)
  })
  doc.y = bottom + 8
}

/** A light edge keeps the mark readable on any photo. */
function drawMark({ doc }: Sheet, mark: PhotoMark, { x, y, width, height }: Place): void {
  const size = { width, height }
  doc.save().translate(x, y).lineCap('round').lineJoin('round')
  if (mark.shape === 'text') {
    const place = markText(mark, size)
    const top = place.y - place.height
    const words = printable(mark.text)
    doc.font(FONTS.strong).fontSize(Math.max(8, place.height))
    const wide = Math.min(doc.widthOfString(words) + 6, Math.max(20, width - place.x))
    doc.rect(place.x, top - 1, wide, doc.currentLineHeight() + 2).fill('#ffffff')
    doc.fillColor('#9b1c1f').text(words, place.x + 3, top, {
      width: wide - 3,
      height: doc.currentLineHeight(),
      ellipsis: true,
      lineBreak: false,
    })
  } else {
    const path = markPath(mark, size)
    const thick = Math.max(1.5, thicknessOn(size))
    doc.path(path).lineWidth(thick * 2).stroke('#ffffff')
    doc.path(path).lineWidth(thick).stroke('#c81e1e')
  }
  doc.restore()
}
