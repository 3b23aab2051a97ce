import { useId, useState } from 'react'
import type { PhotoWish } from '../../../trade/checklist/item.ts'
import type { Line } from '../../../trade/inspection/lines.ts'
import { urlOf } from '../../shared/api/http.ts'
import { newId } from '../../shared/ids.ts'
import { keepPhoto } from '../offline/outbox.ts'
import type { Sheet } from '../offline/sheet.ts'
import { store, syncing, usePhotos } from '../offline/use-field.ts'
import { downscale } from './downscale.ts'
import css from './photos.module.css'

const STATES = { waiting: 'On this device', sent: 'At the office', refused: 'Needs you' } as const

/** Pictures of a line: taken or picked, kept here first, then sent; each says where it is. */
export function Photos({ sheet, line, wish }: { sheet: Sheet; line: Line; wish: PhotoWish }) {
  const id = useId()
  const [fault, setFault] = useState<string | null>(null)
  const inspection = sheet.inspection!
  const belongs = (each: { itemId: string | null; subjectId: string | null }) =>
    each.itemId === line.item.id && each.subjectId === line.subjectId
  const local = usePhotos(inspection.id).filter(belongs)
  const remote = inspection.photos.filter(
    (each) => belongs(each) && !local.some((photo) => photo.id === each.id),
  )
  const take = async (files: FileList | null) => {
    setFault(null)
    for (const file of files ?? []) {
      try {
        const bytes = await downscale(file)
        await keepPhoto(store, {
          id: newId(),
          inspectionId: inspection.id,
          visitId: sheet.id,
          itemId: line.item.id,
          subjectId: line.subjectId,
          findingId: null,
          caption: '',
          takenAt: new Date(file.lastModified || Date.now()).toISOString(),
          bytes,
        })
      } catch (error) {
        setFault(error instanceof Error ? error.message : 'This picture could not be read.')
      }
    }
    void syncing.now()
  }
  return (
    <div className={css.photos}>
      {(local.length > 0 || remote.length > 0) && (
        <ul>
          {local.map((photo, index) => (
            <li key={photo.id}>
              <img src={photo.url} alt={photo.caption || `${line.item.title}, picture ${index + 1}`} />
              <span>{STATES[photo.state]}</span>
            </li>
          ))}
          {remote.map((photo, index) => (
            <li key={photo.id}>
              <img
                src={urlOf(`/photos/${photo.id}/thumbnail`)}
                alt={photo.caption || `${line.item.title}, picture ${local.length + index + 1}`}
                loading="lazy"
              />
              <span>At the office</span>
            </li>
          ))}
        </ul>
      )}
      {fault && (
        <p className="fault" role="alert">
          {fault}
        </p>
      )}
      <label className="press" htmlFor={id}>
        {wish === 'always' && local.length + remote.length === 0
          ? 'Take a picture (asked for here)'
          : 'Take a picture'}
      </label>
      <input
        id={id}
        className="visually-hidden"
        type="file"
        accept="image/*"
        capture="environment"
        multiple
        onChange={(event) => void take(event.target.files)}
      />
    </div>
  )
}
