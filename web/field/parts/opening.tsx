import { Top } from './top.tsx'

/** While a part of the app is read from the device: shorter than a blink, or the first time longer. */
export function Opening() {
  return (
    <main className="content">
      <p role="status">Opening…</p>
    </main>
  )
}

/** A part of the app that was never fetched, and there is no signal: only where the browser keeps no app. */
export function NotHereYet() {
  return (
    <>
      <Top title="Not on this device yet" back={{ place: { at: 'my-day' }, words: 'my day' }} />
      <main className="content">
        <div className="box">
          <h2>This part of the app has not been fetched</h2>
          <p>There is no signal to fetch it now. What you typed is safe.</p>
          <button type="button" className="press" data-look="main" onClick={() => location.reload()}>
            Try again
          </button>
        </div>
      </main>
    </>
  )
}
