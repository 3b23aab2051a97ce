import type { PhotoMark } from '../../../trade/inspection/photo-marks.ts'
import type { Line } from '../../../trade/inspection/lines.ts'
import { urlOf } from '../../shared/api/http.ts'
import type { Sheet } from '../offline/sheet.ts'
import { usePicturesHere } from './pictures-here.ts'

const STATES = { waiting: 'On this device', sent: 'At the office', refused: 'Needs you' } as const

/** A picture of a line, wherever it lies. */
export interface LinePhoto {
  id: string
  /** Whole, and small enough for a list. */
  url: string
  small: string
  alt: string
  caption: string
  marks: readonly PhotoMark[]
  where: string
}

/** Pictures of a line: those on this device, and those that only the office has. Newest last. */
export function useLinePhotos(sheet: Sheet, line: Line): LinePhoto[] {
  const subject = { itemId: line.item.id, subjectId: line.subjectId }
  const local = usePicturesHere(sheet.inspection?.id, subject)
  const remote = (sheet.inspection?.photos ?? []).filter(
    (each) => each.itemId === subject.itemId && each.subjectId === subject.subjectId,
  )
  const alt = (caption: string, index: number) => caption || `${line.item.title}, picture ${index + 1}`
  const here = local.map((photo, index): LinePhoto => {
    // The office's copy has what another device wrote beside it.
    const known = remote.find((each) => each.id === photo.id)
    const caption = known?.caption ?? photo.caption
    return {
      id: photo.id,
      url: photo.url,
      small: photo.url,
      alt: alt(caption, index),
      caption,
      marks: (known?.annotations as unknown as PhotoMark[] | undefined) ?? photo.annotations ?? [],
      where: STATES[photo.state],
    }
  })
  const there = remote
    .filter((each) => !local.some((photo) => photo.id === each.id))
    .map((photo, index): LinePhoto => ({
      id: photo.id,
      url: urlOf(`/photos/${photo.id}/picture`),
      small: urlOf(`/photos/${photo.id}/thumbnail`),
      alt: alt(photo.caption, local.length + index),
      caption: photo.caption,
      marks: photo.annotations as unknown as PhotoMark[],
      where: STATES.sent,
    }))
  return [...here, ...there]
}
