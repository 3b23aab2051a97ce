import { useId, useState } from 'react'
import type { Line } from '../../../trade/inspection/lines.ts'
import { newId } from '../../shared/ids.ts'
import { keeping } from '../offline/keeping.ts'
import { keepPhoto } from '../offline/outbox.ts'
import type { Sheet } from '../offline/sheet.ts'
import { store } from '../offline/use-field.ts'
import { begin } from '../sheet/acts.ts'
import { downscale } from './downscale.ts'
import css from './photos.module.css'

/** Takes pictures with the camera, or picks some that are there; kept here before anything is sent. */
export function Take({ sheet, line, words }: { sheet: Sheet; line: Line; words: string }) {
  const [fault, setFault] = useState<string | null>(null)
  const take = async (files: FileList | null) => {
    setFault(null)
    for (const file of files ?? []) {
      try {
        await keeping(async () =>
          keepPhoto(store, {
            id: newId(),
            bytes: await downscale(file),
            inspectionId: sheet.inspection?.id ?? (await begin(sheet.id)),
            visitId: sheet.id,
            itemId: line.item.id,
            subjectId: line.subjectId,
            findingId: null,
            caption: '',
            takenAt: new Date(file.lastModified || Date.now()).toISOString(),
          }),
        )
      } catch (error) {
        setFault(error instanceof Error ? error.message : 'This picture could not be read.')
      }
    }
  }
  return (
    <>
      {fault && (
        <p className="fault" role="alert">
          {fault}
        </p>
      )}
      <div className={css.take}>
        <FileButton words={words} camera onFiles={take} />
        <FileButton words="Pick" onFiles={take} />
      </div>
    </>
  )
}

function FileButton({
  words,
  camera,
  onFiles,
}: {
  words: string
  camera?: boolean
  onFiles: (files: FileList | null) => Promise<void>
}) {
  const id = useId()
  return (
    <>
      <input
        id={id}
        className="visually-hidden"
        type="file"
        accept="image/*"
        multiple
        {...(camera && { capture: 'environment' as const })}
        onChange={(event) => {
          const { currentTarget } = event
          // The same picture may be picked again after it was removed.
          void onFiles(currentTarget.files).then(() => void (currentTarget.value = ''))
        }}
      />
      <label className="press" htmlFor={id}>
        {words}
        {!camera && <span className="visually-hidden"> pictures that are on this device</span>}
      </label>
    </>
  )
}
