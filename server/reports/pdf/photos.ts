import type { ReportFinding, ReportPhoto } from '../content.ts'
import { photoWords } from '../words.ts'
import { FONTS, keep, leaf, LEFT, LINE, type Sheet, SOFT, WIDTH } from './sheet.ts'

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
  const alt = picture ? photoWords(finding, photo.caption) : 'The picture could not be found.'
  leaf(
    sheet,
    'Figure',
    () => {
      if (picture) doc.image(opened(sheet, picture), x, y, { width, height })
      doc.rect(x, y, width, height).lineWidth(0.5).stroke(LINE)
      for (const annotation of photo.annotations) drawAnnotation(sheet, annotation as never, place)
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

interface Point {
  x: number
  y: number
}
type Drawn =
  | { shape: 'arrow'; from: Point; to: Point }
  | { shape: 'circle'; centre: Point; radius: number }
  | { shape: 'text'; at: Point; text: string }

/** Places are fractions of the picture. A light edge keeps the mark readable on any photo. */
function drawAnnotation({ doc }: Sheet, drawn: Drawn, place: Place): void {
  const at = ({ x, y }: Point): Point => ({ x: place.x + x * place.width, y: place.y + y * place.height })
  const stroke = (path: () => typeof doc) => {
    path().lineWidth(4).strokeColor('#ffffff').stroke()
    path().lineWidth(2).strokeColor('#c81e1e').stroke()
  }
  switch (drawn.shape) {
    case 'arrow': {
      const [from, to] = [at(drawn.from), at(drawn.to)]
      const angle = Math.atan2(to.y - from.y, to.x - from.x)
      const barb = (turn: number): Point => ({
        x: to.x - 9 * Math.cos(angle + turn),
        y: to.y - 9 * Math.sin(angle + turn),
      })
      const [left, right] = [barb(0.45), barb(-0.45)]
      stroke(() =>
        doc.moveTo(from.x, from.y).lineTo(to.x, to.y).moveTo(left.x, left.y).lineTo(to.x, to.y).lineTo(right.x, right.y),
      )
      return
    }
    case 'circle': {
      const centre = at(drawn.centre)
      stroke(() => doc.circle(centre.x, centre.y, drawn.radius * place.width))
      return
    }
    case 'text': {
      const { x, y } = at(drawn.at)
      doc.font(FONTS.strong).fontSize(9)
      const width = Math.min(doc.widthOfString(drawn.text) + 6, place.x + place.width - x)
      doc.rect(x, y - 2, width, 14).fill('#ffffff')
      doc.fillColor('#9b1c1f').text(drawn.text, x + 3, y, { width: width - 4, height: 11, ellipsis: true })
    }
  }
}
