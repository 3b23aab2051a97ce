/** A place on a picture, as fractions of its width and height from the top left: it holds at every size. */
export interface Place {
  x: number
  y: number
}

/** What a person drew on a photo, kept beside the picture and never in it. */
export type PhotoMark =
  | { shape: 'arrow'; from: Place; to: Place }
  /** `radius` is a fraction of the picture's width. */
  | { shape: 'circle'; centre: Place; radius: number }
  | { shape: 'text'; at: Place; text: string }

export interface Size {
  width: number
  height: number
}

/** Line thickness for a picture that is drawn at that size, in the same unit. */
export const thicknessOn = ({ width, height }: Size): number => Math.max(width, height) / 160

const BARB_TURN = 0.45
const BARB_LENGTHS = 6
const round = (value: number) => Math.round(value * 10) / 10

/** SVG path data of an arrow or a circle on a picture of that size; the PDF draws the same. */
export function markPath(mark: Exclude<PhotoMark, { shape: 'text' }>, size: Size): string {
  const at = ({ x, y }: Place): Place => ({ x: x * size.width, y: y * size.height })
  if (mark.shape === 'circle') {
    const { x, y } = at(mark.centre)
    const r = round(mark.radius * size.width)
    return `M${round(x - r)} ${round(y)}a${r} ${r} 0 1 0 ${2 * r} 0a${r} ${r} 0 1 0 ${-2 * r} 0`
  }
  const [from, to] = [at(mark.from), at(mark.to)]
  const angle = Math.atan2(to.y - from.y, to.x - from.x)
  const length = BARB_LENGTHS * thicknessOn(size)
  const barb = (turn: number) =>
    `${round(to.x - length * Math.cos(angle + turn))} ${round(to.y - length * Math.sin(angle + turn))}`
  const tip = `${round(to.x)} ${round(to.y)}`
  return `M${round(from.x)} ${round(from.y)}L${tip}M${barb(BARB_TURN)}L${tip}L${barb(-BARB_TURN)}`
}

/** Words on a picture: their height is six lines thick; `y` is the base line. */
export function markText(
  mark: Extract<PhotoMark, { shape: 'text' }>,
  size: Size,
): Place & { height: number } {
  const height = round(thicknessOn(size) * 6)
  return { x: round(mark.at.x * size.width), y: round(mark.at.y * size.height + height), height }
}

const percent = (fraction: number) => `${Math.round(fraction * 100)} %`
const placeWords = ({ x, y }: Place) => `${percent(x)} across and ${percent(y)} down`

/** What a mark is, for whoever does not see it. */
export function markWords(mark: PhotoMark): string {
  switch (mark.shape) {
    case 'arrow':
      return `Arrow pointing at ${placeWords(mark.to)}`
    case 'circle':
      return `Circle around ${placeWords(mark.centre)}`
    case 'text':
      return `“${mark.text}” at ${placeWords(mark.at)}`
  }
}
