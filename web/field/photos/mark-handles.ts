import type { PhotoMark, Place, Size } from '../../../trade/inspection/photo-marks.ts'

/** A point of a mark that can be moved by a finger or by keys. */
export interface Handle {
  name: string
  place: Place
  move: (to: Place) => PhotoMark
}

const within = (value: number, from = 0, to = 1) => Math.min(to, Math.max(from, value))
const onPicture = ({ x, y }: Place): Place => ({ x: within(x), y: within(y) })
/** Thousandths are finer than anybody points. */
const tidy = (value: number) => Math.round(value * 1000) / 1000
const tidyPlace = ({ x, y }: Place): Place => ({ x: tidy(x), y: tidy(y) })
const put = (place: Place) => tidyPlace(onPicture(place))

const SMALLEST_RADIUS = 0.02

/** A new mark in the middle of the picture. */
export function newMark(shape: PhotoMark['shape']): PhotoMark {
  switch (shape) {
    case 'arrow':
      return { shape, from: { x: 0.3, y: 0.7 }, to: { x: 0.5, y: 0.5 } }
    case 'circle':
      return { shape, centre: { x: 0.5, y: 0.5 }, radius: 0.12 }
    case 'text':
      return { shape, at: { x: 0.4, y: 0.45 }, text: 'Here' }
  }
}

export function handlesOf(mark: PhotoMark, size: Size): Handle[] {
  switch (mark.shape) {
    case 'arrow':
      return [
        { name: 'tip', place: mark.to, move: (to) => ({ ...mark, to: put(to) }) },
        { name: 'tail', place: mark.from, move: (from) => ({ ...mark, from: put(from) }) },
      ]
    case 'circle': {
      const { centre, radius } = mark
      // At the picture's edge the handle stays in reach; the circle may be larger.
      const edge = { x: within(centre.x + radius), y: centre.y }
      const distance = ({ x, y }: Place) =>
        Math.hypot(x - centre.x, ((y - centre.y) * size.height) / size.width)
      return [
        { name: 'middle', place: centre, move: (to) => ({ ...mark, centre: put(to) }) },
        {
          name: 'size',
          place: edge,
          move: (to) => ({ ...mark, radius: tidy(within(distance(to), SMALLEST_RADIUS)) }),
        },
      ]
    }
    case 'text':
      return [{ name: 'place', place: mark.at, move: (at) => ({ ...mark, at: put(at) }) }]
  }
}

/** The whole mark, so that what it points at is there. An arrow keeps its length and direction as far as it can. */
export function movedTo(mark: PhotoMark, place: Place): PhotoMark {
  switch (mark.shape) {
    case 'arrow': {
      const to = put(place)
      const { from } = mark
      return { ...mark, to, from: put({ x: from.x + to.x - mark.to.x, y: from.y + to.y - mark.to.y }) }
    }
    case 'circle':
      return { ...mark, centre: put(place) }
    case 'text':
      return { ...mark, at: put(place) }
  }
}

const STEP = 0.01
const FAR = 0.05
const DIRECTIONS: Readonly<Record<string, readonly [number, number]>> = {
  ArrowLeft: [-1, 0],
  ArrowRight: [1, 0],
  ArrowUp: [0, -1],
  ArrowDown: [0, 1],
}

/** Where an arrow key takes a point, farther with Shift; null for any other key. */
export function steppedBy(key: string, isFar: boolean, { x, y }: Place): Place | null {
  const direction = DIRECTIONS[key]
  if (!direction) return null
  const step = isFar ? FAR : STEP
  return { x: x + direction[0] * step, y: y + direction[1] * step }
}
