import { useLiveQuery } from 'dexie-react-hooks'
import { useEffect, useRef, useState } from 'react'
import type { StoredPhoto } from '../offline/store.ts'
import { store } from '../offline/use-field.ts'

type Subject = Pick<StoredPhoto, 'itemId' | 'subjectId'>

/** Pictures of a line that lie on this device, with addresses that an <img> can show for as long as the caller does. */
export function usePicturesHere(inspectionId: string | undefined, { itemId, subjectId }: Subject) {
  const photos = useLiveQuery(
    () =>
      inspectionId
        ? store.photos
            .where('inspectionId')
            .equals(inspectionId)
            .filter((each) => each.itemId === itemId && each.subjectId === subjectId)
            .toArray()
        : [],
    [inspectionId, itemId, subjectId],
  )
  const urls = useAddresses(photos)
  return (photos ?? []).flatMap((photo) => {
    const url = urls.get(photo.id)
    return url ? [{ ...photo, url }] : []
  })
}

/** Photo → an address of its bytes. Each holds a copy in memory until it is given back. */
function useAddresses(photos: readonly StoredPhoto[] | undefined): ReadonlyMap<string, string> {
  const held = useRef(new Map<string, string>())
  const [urls, setUrls] = useState<ReadonlyMap<string, string>>(new Map())
  useEffect(() => {
    if (!photos) return
    const ids = new Set(photos.map((each) => each.id))
    for (const [id, url] of held.current) {
      if (ids.has(id)) continue
      URL.revokeObjectURL(url)
      held.current.delete(id)
    }
    for (const { id, bytes } of photos) {
      if (!held.current.has(id))
        held.current.set(id, URL.createObjectURL(new Blob([bytes], { type: 'image/jpeg' })))
    }
    setUrls(new Map(held.current))
  }, [photos])
  useEffect(() => {
    const all = held.current
    return () => {
      for (const url of all.values()) URL.revokeObjectURL(url)
      all.clear()
    }
  }, [])
  return urls
}
