import { useState } from 'react'
import { declinedStatement } from '../../../trade/inspection/signature.ts'
import type { Severity } from '../../../trade/verdict.ts'
import { SeverityMark } from '../../shared/severity.tsx'
import { SignBox } from '../findings/sign-box.tsx'
import { Signed } from '../findings/signed.tsx'
import type { Sheet } from '../offline/sheet.ts'
import { act } from '../sheet/acts.ts'
import css from './work-declined.module.css'

/** The customer does not want offered work now: which, in words, and signed. */
export function WorkDeclined({ sheet, isOpen }: { sheet: Sheet; isOpen: boolean }) {
  const [chosen, setChosen] = useState<ReadonlySet<string> | null>(null)
  const { findings, workDeclined } = sheet.inspection!
  const offered = findings.filter((each) => each.severity !== 'watch' && each.text.trim() !== '')
  if (!workDeclined && (offered.length === 0 || !isOpen)) return null
  const toggle = (id: string) => {
    const next = new Set(chosen)
    if (!next.delete(id)) next.add(id)
    setChosen(next)
  }
  const taken = offered.filter((each) => chosen?.has(each.id))
  return (
    <section className="box">
      <h2>Work the customer does not want now</h2>
      {workDeclined && (
        <Signed signature={workDeclined} timeZone={sheet.property.timeZone} what="Work declined" />
      )}
      {isOpen && chosen === null && (
        <button type="button" className="press" onClick={() => setChosen(new Set())}>
          {workDeclined ? 'Sign it anew' : 'Have it signed that work is declined'}
        </button>
      )}
      {isOpen && chosen !== null && (
        <>
          <ul className="plain-list" aria-label="Which work is declined">
            {offered.map((each) => (
              <li key={each.id}>
                <label className={css.choice}>
                  <input type="checkbox" checked={chosen.has(each.id)} onChange={() => toggle(each.id)} />
                  <span>
                    <SeverityMark severity={each.severity as Severity} /> {each.text}
                  </span>
                </label>
              </li>
            ))}
          </ul>
          {taken.length > 0 ? (
            <SignBox
              key={taken.map((each) => each.id).join()}
              statement={declinedStatement(taken, sheet.property)}
              who="the customer"
              onLeave={() => setChosen(null)}
              onSign={(signature) =>
                void act(sheet, 'decline-work', {
                  findingIds: taken.map((each) => each.id),
                  signature,
                }).then(() => setChosen(null))
              }
            />
          ) : (
            <p className="soft">Choose the work; then the words to be signed stand here.</p>
          )}
        </>
      )}
    </section>
  )
}
