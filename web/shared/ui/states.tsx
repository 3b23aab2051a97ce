import type { ReactNode } from 'react'
import { ApiProblem } from '../api/http.ts'
import { Button } from './button.tsx'
import css from './states.module.css'

/** The four states of a screen, less the one where everything is there. */
export function Waiting({ what = 'Loading' }: { what?: string }) {
  return (
    <p className={css.waiting} role="status">
      {what}…
    </p>
  )
}

export function Failed({ error, retry }: { error: unknown; retry?: () => void }) {
  const requestId = error instanceof ApiProblem ? error.requestId : null
  return (
    <div className={css.failed} role="alert">
      <h2>This could not be loaded</h2>
      <p>{error instanceof Error ? error.message : 'Something went wrong.'}</p>
      {requestId && <p className={css.id}>Request {requestId}</p>}
      {retry && <Button onPress={retry}>Try again</Button>}
    </div>
  )
}

export function Empty({ title, children }: { title: string; children?: ReactNode }) {
  return (
    <div className={css.empty}>
      <p className={css.emptyTitle}>{title}</p>
      {children}
    </div>
  )
}

/** What went wrong with an act, beside the button that did it. */
export function Fault({ error }: { error: unknown }) {
  if (!error) return null
  const faults = error instanceof ApiProblem ? [...error.faults.values()] : []
  return (
    <div className={css.fault} role="alert">
      <p>{error instanceof Error ? error.message : 'Something went wrong.'}</p>
      {faults.length > 1 && (
        <ul>
          {faults.map((each) => (
            <li key={each}>{each}</li>
          ))}
        </ul>
      )}
    </div>
  )
}
