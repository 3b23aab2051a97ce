import { useCallback, useEffect, useRef, useState } from 'react'
import { unkept } from '../offline/unkept.ts'

/** A pause in typing after which the words are kept: a dead battery takes a sentence at most. */
const PAUSE_MS = 2500

/**
 * Keeps a draft on this device: after a pause, when the screen is left, when the phone is put away, and when asked.
 * @param draft null when nothing is to be kept
 * @param keep rejects when it could not be kept: then it stays a draft, and is handed over anew
 * @returns keeps it now; ends as `keep` does
 */
export function useKept<Draft>(
  draft: Draft | null,
  keep: (draft: Draft) => void | Promise<void>,
  pauseMs = PAUSE_MS,
): () => Promise<void> {
  const latest = useRef({ draft, keep })
  useEffect(() => {
    latest.current = { draft, keep }
  })
  const last = useRef<Promise<void>>(Promise.resolve())
  const handedOver = useRef<Draft | null>(null)
  const [handed, showHanded] = useState<Draft | null>(null)

  const flush = useCallback((): Promise<void> => {
    const { draft: now, keep: put } = latest.current
    if (now === null || now === handedOver.current) return last.current
    const hand = (given: Draft | null) => {
      handedOver.current = given
      showHanded(() => given)
    }
    hand(now)
    last.current = Promise.resolve(put(now)).catch((error: unknown) => {
      hand(null)
      throw error
    })
    return last.current
  }, [])
  useEffect(() => {
    if (draft === null) return
    const timer = setTimeout(() => void flush(), pauseMs)
    return () => clearTimeout(timer)
  }, [draft, pauseMs, flush])
  useEffect(() => {
    const leave = () => void flush()
    const onHidden = () => document.visibilityState === 'hidden' && leave()
    document.addEventListener('visibilitychange', onHidden)
    window.addEventListener('pagehide', leave)
    return () => {
      document.removeEventListener('visibilitychange', onHidden)
      window.removeEventListener('pagehide', leave)
      leave()
    }
  }, [flush])
  // After the one above: at the end the draft is handed over before it stops to count.
  const isUnkept = draft !== null && draft !== handed
  useEffect(() => (isUnkept ? unkept.add() : undefined), [isUnkept])
  return flush
}
