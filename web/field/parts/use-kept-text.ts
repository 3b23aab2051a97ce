import { useEffect, useRef, useState } from 'react'

/** A pause in typing after which the words are kept: a dead battery takes a sentence at most. */
const PAUSE_MS = 2500

/**
 * Text that is kept while it is typed or dictated: after a pause, when the field or the screen is left, and when the
 * phone is put away. `keep` is not called when nothing changed.
 */
export function useKeptText(stored: string, keep: (text: string) => void) {
  const [draft, setDraft] = useState<string | null>(null)
  const latest = useRef({ stored, draft, keep })
  useEffect(() => {
    latest.current = { stored, draft, keep }
  })
  const flush = () => {
    const { stored: before, draft: now, keep: put } = latest.current
    if (now !== null && now.trim() !== before.trim()) put(now)
  }
  useEffect(() => {
    if (draft === null) return
    const timer = setTimeout(flush, PAUSE_MS)
    return () => clearTimeout(timer)
  }, [draft])
  useEffect(() => {
    const onHidden = () => document.visibilityState === 'hidden' && flush()
    document.addEventListener('visibilitychange', onHidden)
    window.addEventListener('pagehide', flush)
    return () => {
      document.removeEventListener('visibilitychange', onHidden)
      window.removeEventListener('pagehide', flush)
      flush()
    }
  }, [])
  return { value: draft ?? stored, onChange: setDraft, onBlur: flush }
}
