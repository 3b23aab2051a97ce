import { useEffect, useId, useRef, useState } from 'react'
import type { Signature } from '../../../server/field/operation-schema.ts'
import { signaturePath } from '../../../trade/inspection/signature.ts'
import css from './sign-box.module.css'
import { DrawPad, type Drawn } from './draw-pad.tsx'

/** SHA-256 of a text in UTF-8, hexadecimal: the signature is bound to what was shown. */
async function hashOf(text: string): Promise<string> {
  const bytes = await crypto.subtle.digest('SHA-256', new TextEncoder().encode(text))
  return Array.from(new Uint8Array(bytes), (byte) => byte.toString(16).padStart(2, '0')).join('')
}

const WAYS = { draw: 'Sign by hand', type: 'Type the name only' } as const

/** The words, read before they are signed; then a name, drawn by hand or typed. */
export function SignBox({
  statement,
  who,
  onSign,
  onLeave,
}: {
  statement: string
  /** Who signs: `the owner`. */
  who: string
  onSign: (signature: Signature) => void
  onLeave: () => void
}) {
  const id = useId()
  const box = useRef<HTMLElement>(null)
  const [way, setWay] = useState<keyof typeof WAYS>('draw')
  const [name, setName] = useState('')
  const [drawn, setDrawn] = useState<Drawn | null>(null)
  useEffect(() => box.current?.focus(), [])
  const isReady = name.trim() !== '' && (way === 'type' || drawn !== null)
  const sign = async () => {
    const signature = {
      name: name.trim(),
      at: new Date().toISOString(),
      statement,
      statementHash: await hashOf(statement),
    }
    onSign(
      way === 'draw' && drawn
        ? { ...signature, drawing: signaturePath(drawn.strokes, drawn.surface) }
        : signature,
    )
  }
  return (
    <section ref={box} tabIndex={-1} className={css.sign} aria-label="Read and sign">
      <blockquote>{statement}</blockquote>
      <label htmlFor={id}>Name of {who}</label>
      <input
        id={id}
        value={name}
        maxLength={120}
        autoComplete="off"
        autoCapitalize="words"
        onChange={(event) => setName(event.target.value)}
      />
      <div className="row" role="group" aria-label="How it is signed">
        {(Object.keys(WAYS) as (keyof typeof WAYS)[]).map((each) => (
          <button
            key={each}
            type="button"
            className="press"
            aria-pressed={way === each}
            onClick={() => {
              setWay(each)
              setDrawn(null)
            }}
          >
            {WAYS[each]}
          </button>
        ))}
      </div>
      {way === 'draw' && <DrawPad onDrawn={setDrawn} />}
      <p className="soft">
        The signature is bound to exactly these words. It is kept with the name and the time, and shown in the
        report.
      </p>
      <div className="row">
        <button type="button" className="press" data-look="quiet" onClick={onLeave}>
          Not now
        </button>
        <button
          type="button"
          className="press"
          data-look="danger"
          disabled={!isReady}
          onClick={() => void sign()}
        >
          Sign as {name.trim() || '…'}
        </button>
      </div>
    </section>
  )
}
