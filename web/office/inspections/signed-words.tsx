import type { SignatureView } from '../../../server/estimates/schema.ts'
import { TOLD_WAYS } from '../../../trade/estimates/statement.ts'
import { formatInstant } from '../../shared/format.ts'
import { SignatureDrawing } from '../../shared/photo/signature.tsx'
import css from './inspection.module.css'

/** What was signed, or said to somebody of the office: by whom, when, the exact words and their hash. */
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
  const { told } = signature as Pick<SignatureView, 'told'>
  return (
    <div className={css.signed}>
      <p>
        {what} by <strong>{name}</strong>
        {at && `, ${formatInstant(at, timeZone)}`},{' '}
        {told
          ? `said ${TOLD_WAYS[told.how].toLowerCase()} to ${told.to}`
          : drawing
            ? 'signed by hand'
            : 'name typed'}
        .
      </p>
      {drawing && <SignatureDrawing drawing={drawing} name={name ?? ''} />}
      <details>
        <summary>The words that were {told ? 'said' : 'signed'}</summary>
        <p className={css.statement}>{statement}</p>
        <p className={css.soft}>
          SHA-256 of these words: <code className={css.hash}>{statementHash}</code>
        </p>
      </details>
    </div>
  )
}
