import { useEffect, useRef, useState } from 'react'
import type SignaturePad from 'signature_pad'
import css from './sign-box.module.css'

export interface Drawn {
  strokes: { x: number; y: number }[][]
  surface: { width: number; height: number }
}

/** White paper and dark ink in every theme; the pen is fetched only when somebody signs. */
export function DrawPad({ onDrawn }: { onDrawn: (drawn: Drawn | null) => void }) {
  const canvas = useRef<HTMLCanvasElement>(null)
  const pad = useRef<SignaturePad | null>(null)
  const [isEmpty, setIsEmpty] = useState(true)
  const tell = useRef(onDrawn)
  useEffect(() => {
    tell.current = onDrawn
  })
  useEffect(() => {
    const paper = canvas.current!
    let gone = false
    void import('signature_pad').then(({ default: Pad }) => {
      if (gone) return
      const { width, height } = paper.getBoundingClientRect()
      const ratio = Math.max(1, window.devicePixelRatio)
      paper.width = width * ratio
      paper.height = height * ratio
      paper.getContext('2d')!.scale(ratio, ratio)
      const pen = new Pad(paper, { penColor: '#111', minWidth: 1.2, maxWidth: 3 })
      pen.addEventListener('endStroke', () => {
        const strokes = pen.toData().map(({ points }) => points.map(({ x, y }) => ({ x, y })))
        setIsEmpty(false)
        tell.current({ strokes, surface: { width, height } })
      })
      pad.current = pen
    })
    return () => {
      gone = true
      pad.current?.off()
    }
    // The paper is laid out once: turned round, the phone keeps what was drawn.
  }, [])
  const clear = () => {
    pad.current?.clear()
    setIsEmpty(true)
    onDrawn(null)
  }
  return (
    <div className={css.pad}>
      <canvas
        ref={canvas}
        role="img"
        aria-label={isEmpty ? 'Empty signature field, to be drawn on with a finger' : 'Signature, drawn'}
      />
      <button type="button" className="press" data-look="quiet" disabled={isEmpty} onClick={clear}>
        Wipe it off
      </button>
    </div>
  )
}
