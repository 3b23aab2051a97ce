import { useEffect, useRef } from 'react'
import type { Sheet } from '../offline/sheet.ts'
import { MarkedPhoto } from '../../shared/photo/marked-photo.tsx'
import { KeptText } from '../parts/kept-text.tsx'
import type { LinePhoto } from './line-photos.ts'
import { MarkEditor } from './mark-editor.tsx'
import { describePhoto, removePhoto } from './photo-acts.ts'
import { RemoveButton } from '../parts/remove-button.tsx'
import css from './photo-dialog.module.css'

/** One picture, large: what it shows in words, and what is drawn on it. Esc or "Done" leads back; all is kept already. */
export function PhotoDialog({
  sheet,
  photo,
  isOpen,
  onClose,
}: {
  sheet: Sheet
  photo: LinePhoto
  /** Whether the inspection may still be written to. */
  isOpen: boolean
  onClose: () => void
}) {
  const dialog = useRef<HTMLDialogElement>(null)
  useEffect(() => dialog.current?.showModal(), [])
  return (
    <dialog ref={dialog} className={css.dialog} aria-label={`Picture: ${photo.alt}`} onClose={onClose}>
      <div className={css.inside}>
        {isOpen ? (
          <>
            <MarkEditor
              src={photo.url}
              alt={photo.alt}
              marks={photo.marks}
              onKeep={(annotations) => describePhoto(sheet, photo.id, { annotations })}
            />
            <KeptText
              label="What it shows"
              stored={photo.caption}
              onKeep={(caption) => describePhoto(sheet, photo.id, { caption: caption.trim() })}
              maxLength={500}
            />
          </>
        ) : (
          <>
            <MarkedPhoto src={photo.url} alt={photo.alt} marks={photo.marks} />
            {photo.caption && <p>{photo.caption}</p>}
          </>
        )}
        <p className="soft">
          {photo.where}. The picture itself stays as it was taken; where it was taken is not kept in it.
        </p>
        <div className={css.end}>
          {isOpen && (
            <RemoveButton
              label="Remove the picture"
              sure="Yes, remove the picture"
              onRemove={() => void removePhoto(sheet, photo.id).then(() => dialog.current?.close())}
            />
          )}
          <button type="button" className="press" data-look="main" onClick={() => dialog.current?.close()}>
            Done
          </button>
        </div>
      </div>
    </dialog>
  )
}
