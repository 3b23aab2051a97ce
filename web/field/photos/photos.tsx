import { useState } from 'react'
import type { PhotoWish } from '../../../trade/checklist/item.ts'
import type { Line } from '../../../trade/inspection/lines.ts'
import { MarkedPhoto } from '../../shared/photo/marked-photo.tsx'
import type { Sheet } from '../offline/sheet.ts'
import { useLinePhotos } from './line-photos.ts'
import { PhotoDialog } from './photo-dialog.tsx'
import css from './photos.module.css'
import { Take } from './take.tsx'

/** Pictures of a line: a tap opens one, to be described and drawn on; each says where it is. */
export function Photos({
  sheet,
  line,
  wish,
  isOpen,
}: {
  sheet: Sheet
  line: Line
  wish: PhotoWish
  isOpen: boolean
}) {
  const photos = useLinePhotos(sheet, line)
  const [openId, setOpenId] = useState<string | null>(null)
  const open = photos.find((each) => each.id === openId)
  const isAsked = wish === 'always' && photos.length === 0
  return (
    <div className={css.photos}>
      {photos.length > 0 && (
        <ul>
          {photos.map((photo) => (
            <li key={photo.id}>
              <button type="button" className={css.open} onClick={() => setOpenId(photo.id)}>
                <MarkedPhoto src={photo.small} alt={photo.alt} marks={photo.marks} fill />
                <span className={css.caption}>{photo.caption || 'Describe or draw'}</span>
              </button>
              <span className="soft">{photo.where}</span>
            </li>
          ))}
        </ul>
      )}
      {isOpen && (
        <Take
          sheet={sheet}
          line={line}
          words={isAsked ? 'Take a picture (asked for here)' : 'Take a picture'}
        />
      )}
      {open && <PhotoDialog sheet={sheet} photo={open} isOpen={isOpen} onClose={() => setOpenId(null)} />}
    </div>
  )
}
