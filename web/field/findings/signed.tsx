import { formatInstant } from '../../shared/format.ts'
import { SignatureDrawing } from '../../shared/photo/signature.tsx'

/** What was signed, by whom and when; the words open with a tap. */
export function Signed({
  signature,
  timeZone,
  what,
}: {
  signature: Readonly<Record<string, unknown>>
  timeZone: string
  /** `Declined`, `Work declined`. */
  what: string
}) {
  const { name, at, statement, drawing } = signature as Record<string, string | undefined>
  return (
    <div>
      <p>
        <strong>
          {what} by {name}
        </strong>
        {at && `, ${formatInstant(at, timeZone)}`}
      </p>
      {drawing && <SignatureDrawing drawing={drawing} name={name ?? ''} />}
      <details>
        <summary style={{ minHeight: 44, alignContent: 'center', cursor: 'pointer' }}>
          The words that were signed
        </summary>
        <p style={{ whiteSpace: 'pre-line' }}>{statement}</p>
      </details>
    </div>
  )
}
