import { formatInstant } from '../../shared/format.ts'
import { SignatureDrawing } from '../../shared/photo/signature.tsx'
import css from './inspection.module.css'

/** What was signed on site: by whom, when, the exact words and their hash. */
export function SignedWords({
  signature,
  timeZone,
  what,
}: {
  signature: Readonly<Record<string, unknown>>
  timeZone: string
  what: string
}) {
  const { name, at, statement, statementHash, drawing } = signature as Record<string, string | undefined>
  return (
    <div className={css.signed}>
      <p>
        {what} by <strong>{name}</strong>
        {at && `, ${formatInstant(at, timeZone)}`}, {drawing ? 'signed by hand' : 'name typed'}.
      </p>
      {drawing && <SignatureDrawing drawing={drawing} name={name ?? ''} />}
      <details>
        <summary>The words that were signed</summary>
        <p className={css.statement}>{statement}</p>
        <p className={css.soft}>
          SHA-256 of these words: <code className={css.hash}>{statementHash}</code>
        </p>
      </details>
    </div>
  )
}
