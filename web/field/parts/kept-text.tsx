import { useState } from 'react'
import { TextArea } from '../../shared/ui/fields.tsx'
import { useKept } from './use-kept.ts'

/** Longer words: typed, or spoken into the keyboard's own dictation. Kept as they come. */
export function KeptText({
  label,
  stored,
  onKeep,
  rows = 2,
  maxLength,
  required,
  help,
}: {
  label: string
  stored: string
  /** Not called when nothing changed; rejects when it could not be kept. */
  onKeep: (text: string) => void | Promise<void>
  rows?: number
  maxLength: number
  required?: boolean
  help?: string
}) {
  const [draft, setDraft] = useState<string | null>(null)
  const keepNow = useKept(draft?.trim() === stored.trim() ? null : draft, onKeep)
  const value = draft ?? stored
  return (
    <div onBlur={() => void keepNow()}>
      <TextArea
        {...{ label, value, rows, maxLength, help }}
        onChange={setDraft}
        required={required ?? false}
      />
    </div>
  )
}
