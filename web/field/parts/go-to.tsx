import type { ReactNode } from 'react'
import { go, pathOf, type Place } from '../places.ts'

/** A link within the app: opens without a reload, and still is a link. */
export function GoTo({
  place,
  className,
  children,
  label,
}: {
  place: Place
  className?: string
  children: ReactNode
  label?: string
}) {
  return (
    <a
      href={pathOf(place)}
      className={className}
      aria-label={label}
      onClick={(event) => {
        if (event.metaKey || event.ctrlKey || event.shiftKey) return
        event.preventDefault()
        go(place)
      }}
    >
      {children}
    </a>
  )
}
