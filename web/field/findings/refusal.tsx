import { useState } from 'react'
import type { Finding } from '../../../trade/inspection/records.ts'
import { refusalStatement } from '../../../trade/inspection/signature.ts'
import { act } from '../sheet/acts.ts'
import type { Inspection } from '../sheet/inspection-of.ts'
import { SignBox } from './sign-box.tsx'
import { Signed } from './signed.tsx'

/** The owner will not have it made safe: what was said to them, signed by their name, with time. */
export function Refusal({ inspection: { sheet }, finding }: { inspection: Inspection; finding: Finding }) {
  const [open, setOpen] = useState(false)
  if (finding.refusal)
    return <Signed signature={{ ...finding.refusal }} timeZone={sheet.property.timeZone} what="Declined" />
  if (!open) {
    return (
      <button type="button" className="press" onClick={() => setOpen(true)}>
        The owner refuses to have it made safe
      </button>
    )
  }
  return (
    <SignBox
      statement={refusalStatement(finding, sheet.property)}
      who="the owner"
      onLeave={() => setOpen(false)}
      onSign={(signature) =>
        void act(sheet, 'refuse-make-safe', { findingId: finding.id, signature }).then(() => setOpen(false))
      }
    />
  )
}
