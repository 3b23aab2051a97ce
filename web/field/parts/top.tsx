import { type ReactNode, useEffect } from 'react'
import type { Place } from '../places.ts'
import { SyncMark } from '../sync/sync-mark.tsx'
import { GoTo } from './go-to.tsx'

/** Head of every screen: the way back, where one is, and whether all has been sent. */
export function Top({
  title,
  back,
  children,
}: {
  title: string
  back?: { place: Place; words: string }
  children?: ReactNode
}) {
  useEffect(() => {
    document.title = `${title} · Watchlamp`
  }, [title])
  return (
    <header className="top">
      {back && (
        <GoTo place={back.place} className="press" label={`Back to ${back.words}`}>
          <span aria-hidden="true">‹</span>
        </GoTo>
      )}
      <h1>{title}</h1>
      {children}
      <SyncMark />
    </header>
  )
}
