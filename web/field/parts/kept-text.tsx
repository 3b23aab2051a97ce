import { TextArea } from '../../shared/ui/fields.tsx'
import { useKeptText } from './use-kept-text.ts'

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
  onKeep: (text: string) => void
  rows?: number
  maxLength: number
  required?: boolean
  help?: string
}) {
  const { value, onChange, onBlur } = useKeptText(stored, onKeep)
  return (
    <div onBlur={onBlur}>
      <TextArea {...{ label, value, onChange, rows, maxLength }} required={required ?? false} help={help} />
    </div>
  )
}
