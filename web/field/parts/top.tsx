import { type ReactNode, useEffect, useRef } from 'react'
import { hasMoved, type Place } from '../places.ts'
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
  const heading = useRef<HTMLHeadingElement>(null)
  useEffect(() => {
    if (hasMoved()) heading.current?.focus({ preventScroll: true })
  }, [])
  return (
    <header className="top">
      {back && (
        <GoTo place={back.place} className="press" label={`Back to ${back.words}`}>
          <span aria-hidden="true">‹</span>
        </GoTo>
      )}
      <h1 ref={heading} tabIndex={-1}>
        {title}
      </h1>
      {children}
      <SyncMark />
    </header>
  )
}
