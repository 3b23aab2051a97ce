import { useEffect, useState } from 'react'
import type { Finding } from '../../../trade/inspection/records.ts'
import { formatInstant } from '../../shared/format.ts'
import { act } from '../sheet/acts.ts'
import type { Inspection } from '../sheet/inspection-of.ts'
import css from './finding-form.module.css'

/** SHA-256 of a text in UTF-8, hexadecimal: the signature is bound to what was shown. */
async function hashOf(text: string): Promise<string> {
  const bytes = await crypto.subtle.digest('SHA-256', new TextEncoder().encode(text))
  return Array.from(new Uint8Array(bytes), (byte) => byte.toString(16).padStart(2, '0')).join('')
}

/** The owner will not have it made safe: what was said to them, signed by their name, with time. */
export function Refusal({ inspection: { sheet }, finding }: { inspection: Inspection; finding: Finding }) {
  const [open, setOpen] = useState(false)
  const [name, setName] = useState('')
  const statement =
    `The electrician explained to me that the following is unsafe and can cause shock, burn or fire: “${finding.text}”. ` +
    `I was offered to have it made safe now and decline. I understand that it should not be used until it is corrected. ` +
    `${sheet.property.line1}, ${sheet.property.city}.`
  const [hash, setHash] = useState('')
  useEffect(() => void hashOf(statement).then(setHash), [statement])
  if (finding.refusal) {
    const refusal = finding.refusal as typeof finding.refusal & { at?: string }
    return (
      <p>
        <strong>Declined by {refusal.name}</strong>
        {refusal.at && `, ${formatInstant(refusal.at, sheet.property.timeZone)}`}
      </p>
    )
  }
  if (!open) {
    return (
      <button type="button" className="press" onClick={() => setOpen(true)}>
        The owner refuses to have it made safe
      </button>
    )
  }
  const sign = () =>
    void act(sheet, 'refuse-make-safe', {
      findingId: finding.id,
      signature: { name: name.trim(), at: new Date().toISOString(), statement, statementHash: hash },
    })
  return (
    <div className={css.sign}>
      <blockquote>{statement}</blockquote>
      <label>
        Name, typed by the owner
        <input
          value={name}
          maxLength={120}
          autoComplete="off"
          onChange={(event) => setName(event.target.value)}
        />
      </label>
      <p className={css.hash}>Bound to this text by SHA-256 {hash}</p>
      <button
        type="button"
        className="press"
        data-look="danger"
        disabled={!name.trim() || !hash}
        onClick={sign}
      >
        Sign as {name.trim() || '…'}
      </button>
    </div>
  )
}
