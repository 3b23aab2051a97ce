import { useState } from 'react'

/** Asks once more by its own words before something is gone; the finger is there already. */
export function RemoveButton({
  label,
  sure,
  onRemove,
}: {
  label: string
  sure: string
  onRemove: () => void
}) {
  const [asked, setAsked] = useState(false)
  return (
    <button
      type="button"
      className="press"
      data-look={asked ? 'danger' : 'quiet'}
      onClick={() => (asked ? onRemove() : setAsked(true))}
    >
      {asked ? sure : label}
    </button>
  )
}
