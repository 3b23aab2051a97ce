import { type KeyboardEvent, type RefObject, useEffect, useId, useRef, useState } from 'react'
import { markWords, type PhotoMark, type Place, type Size } from '../../../trade/inspection/photo-marks.ts'
import { Marks } from '../../shared/photo/marked-photo.tsx'
import { useKept } from '../parts/use-kept.ts'
import { type Handle, handlesOf, movedTo, newMark, steppedBy } from './mark-handles.ts'
import css from './mark-editor.module.css'

const SHAPES = { arrow: 'Arrow', circle: 'Circle', text: 'Words' } as const
const MOST = 40
/** Kept once a hand rests: a drag or a row of key presses is one change. */
const REST_MS = 500

/** Arrows, circles and words over a picture: put there with a tap or by keys, moved by their handles. */
export function MarkEditor({
  src,
  alt,
  marks: stored,
  onKeep,
}: {
  src: string
  alt: string
  marks: readonly PhotoMark[]
  onKeep: (marks: PhotoMark[]) => void | Promise<void>
}) {
  const id = useId()
  const picture = useRef<HTMLDivElement>(null)
  const [size, setSize] = useState<Size | null>(null)
  const [before] = useState(stored)
  const [marks, setMarks] = useState<readonly PhotoMark[]>(stored)
  const [chosen, setChosen] = useState<number | null>(null)
  // Words that are still empty wait.
  const isWhole = marks.every((each) => each.shape !== 'text' || each.text.trim())
  useKept(marks !== before && isWhole ? marks : null, (now) => onKeep([...now]), REST_MS)
  const mark = chosen === null ? undefined : marks[chosen]
  const change = (next: PhotoMark) => setMarks((all) => all.map((each, i) => (i === chosen ? next : each)))
  const add = (shape: PhotoMark['shape']) => {
    setMarks((all) => [...all, newMark(shape)])
    setChosen(marks.length)
  }
  const remove = () => {
    setMarks((all) => all.filter((_, i) => i !== chosen))
    setChosen(null)
  }
  return (
    <div className={css.editor}>
      <div
        ref={picture}
        className={css.picture}
        style={size ? { width: `min(100%, calc(56dvh * ${size.width / size.height}))` } : undefined}
        onClick={(event) => mark && change(movedTo(mark, placeOf(event, picture.current!)))}
      >
        <img
          src={src}
          alt={alt}
          onLoad={({ currentTarget: { naturalWidth: width, naturalHeight: height } }) =>
            setSize({ width, height })
          }
        />
        {size && <Marks marks={marks} size={size} />}
        {size && mark && (
          <Handles
            key={chosen}
            mark={mark}
            size={size}
            picture={picture}
            onChange={change}
            onRemove={remove}
          />
        )}
      </div>
      <p className="soft" id={id}>
        {mark
          ? 'Tap where it belongs, or move its points with a finger or the arrow keys; with Shift they go farther.'
          : 'Add a mark, then tap where it belongs.'}
      </p>
      <div className={css.tools} role="group" aria-label="Add a mark">
        {(Object.keys(SHAPES) as PhotoMark['shape'][]).map((shape) => (
          <button
            key={shape}
            type="button"
            className="press"
            aria-describedby={id}
            disabled={marks.length >= MOST}
            onClick={() => add(shape)}
          >
            <span aria-hidden="true">{{ arrow: '➚', circle: '○', text: 'A' }[shape]}</span> {SHAPES[shape]}
          </button>
        ))}
      </div>
      {marks.length > 0 && (
        <div className={css.tools} role="group" aria-label="Marks on this picture">
          {marks.map((each, i) => (
            <button
              key={i}
              type="button"
              className="press"
              aria-pressed={i === chosen}
              aria-label={`${SHAPES[each.shape]} ${i + 1}: ${markWords(each)}`}
              onClick={() => setChosen(i === chosen ? null : i)}
            >
              {SHAPES[each.shape]} {i + 1}
            </button>
          ))}
        </div>
      )}
      {mark?.shape === 'text' && (
        <label className={css.words}>
          Words on the picture
          <input
            value={mark.text}
            maxLength={120}
            onChange={(event) => change({ ...mark, text: event.target.value })}
          />
        </label>
      )}
      {mark && (
        <button type="button" className="press" data-look="danger" onClick={remove}>
          Remove this mark
        </button>
      )}
      <p className="visually-hidden" role="status">
        {mark && markWords(mark)}
      </p>
    </div>
  )
}

/** The points of the chosen mark; the first has the focus, so that keys work at once. */
function Handles({
  mark,
  size,
  picture,
  onChange,
  onRemove,
}: {
  mark: PhotoMark
  size: Size
  picture: RefObject<HTMLDivElement | null>
  onChange: (mark: PhotoMark) => void
  onRemove: () => void
}) {
  const first = useRef<HTMLButtonElement>(null)
  useEffect(() => first.current?.focus({ preventScroll: true }), [])
  const onKey = (event: KeyboardEvent, handle: Handle) => {
    if (event.key === 'Delete' || event.key === 'Backspace') return onRemove()
    const place = steppedBy(event.key, event.shiftKey, handle.place)
    if (!place) return
    event.preventDefault()
    onChange(handle.move(place))
  }
  return handlesOf(mark, size).map((handle, i) => (
    <button
      key={handle.name}
      ref={i === 0 ? first : undefined}
      type="button"
      className={css.handle}
      data-shape={mark.shape}
      style={{ left: `${handle.place.x * 100}%`, top: `${handle.place.y * 100}%` }}
      aria-label={`${SHAPES[mark.shape]}, ${handle.name}: ${Math.round(handle.place.x * 100)} % across, ${Math.round(handle.place.y * 100)} % down`}
      onClick={(event) => event.stopPropagation()}
      onKeyDown={(event) => onKey(event, handle)}
      onPointerDown={(event) => event.currentTarget.setPointerCapture(event.pointerId)}
      onPointerMove={(event) => {
        if (event.currentTarget.hasPointerCapture(event.pointerId))
          onChange(handle.move(placeOf(event, picture.current!)))
      }}
    />
  ))
}

function placeOf({ clientX, clientY }: { clientX: number; clientY: number }, picture: HTMLElement): Place {
  const { left, top, width, height } = picture.getBoundingClientRect()
  return { x: (clientX - left) / width, y: (clientY - top) / height }
}
