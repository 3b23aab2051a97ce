import type { PhotoMark } from '../../../trade/inspection/photo-marks.ts'
import { keeping } from '../offline/keeping.ts'
import { keepOperation } from '../offline/outbox.ts'
import type { Sheet } from '../offline/sheet.ts'
import { store } from '../offline/use-field.ts'

export interface Said {
  caption?: string
  annotations?: PhotoMark[]
}

/** Keeps words and marks beside a photo, here and as an operation; the photo itself may be sent before or after. */
export async function describePhoto({ id, inspection }: Sheet, photoId: string, said: Said): Promise<void> {
  if (!inspection) return
  await keeping(() =>
    store.transaction('rw', store.operations, store.photos, async () => {
      await keepOperation(store, id, inspection.id, 'describe-photo', { photoId, ...said })
      await store.photos
        .where('id')
        .equals(photoId)
        .modify((photo) => void Object.assign(photo, said))
    }),
  )
}

export async function removePhoto({ id, inspection }: Sheet, photoId: string): Promise<void> {
  if (!inspection) return
  await keeping(() =>
    store.transaction('rw', store.operations, store.photos, async () => {
      await keepOperation(store, id, inspection.id, 'remove-photo', { photoId })
      await store.photos.delete(photoId)
    }),
  )
}
