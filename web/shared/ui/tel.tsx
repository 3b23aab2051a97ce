/** A number that is called with one tap; nothing where there is none. */
export function Tel({ number, call }: { number: string | null; call?: string }) {
  if (!number) return null
  return (
    <a href={`tel:${number}`} aria-label={call && `${number}, call ${call}`}>
      {number}
    </a>
  )
}
