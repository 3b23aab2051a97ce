import { useCallback, useState } from 'react'

/** What came of a call, in the order of the buttons; each has one key while the call is open. */
export const OUTCOMES = {
  booked: { key: 'b', words: 'Reached: book a visit', logged: 'reached' },
  reached: { key: 'r', words: 'Reached: told them', logged: 'reached' },
  later: { key: 'l', words: 'Call again later', logged: 'call-later' },
  'no-answer': { key: 'n', words: 'No answer', logged: 'no-answer' },
  'will-call-back': { key: 't', words: 'They call us back', logged: 'will-call-back' },
  declined: { key: 's', words: 'Said no', logged: 'declined' },
  'wrong-number': { key: 'w', words: 'Wrong number', logged: 'wrong-number' },
} as const
export type Outcome = keyof typeof OUTCOMES

/** How each outcome is told afterwards. */
export const LOGGED_WORDS: Readonly<Record<string, string>> = {
  reached: 'Reached',
  'call-later': 'To be called again',
  'no-answer': 'No answer',
  'will-call-back': 'They call back',
  declined: 'Said no',
  'wrong-number': 'Wrong number',
}

export const CALL_KEY = 'c'

/**
 * The letter that was pressed, when it is meant as a shortcut: alone, not held down, and not while somebody types. WCAG 2.2
 * SC 2.1.4: the letters count only inside the worklist or the open call, and can be switched off.
 */
export function shortcutOf(event: {
  key: string
  repeat: boolean
  ctrlKey: boolean
  metaKey: boolean
  altKey: boolean
  target: EventTarget
}): string | null {
  if (event.repeat || event.ctrlKey || event.metaKey || event.altKey) return null
  const target = event.target as Partial<Pick<HTMLInputElement, 'tagName' | 'type' | 'isContentEditable'>>
  const isTicked = target.tagName === 'INPUT' && (target.type === 'checkbox' || target.type === 'radio')
  const isTyping =
    target.isContentEditable === true || ['INPUT', 'TEXTAREA', 'SELECT'].includes(target.tagName ?? '')
  return isTyping && !isTicked ? null : event.key.toLowerCase()
}

const STORED = 'call-keys'

/** Whether letters act, on this device. On until somebody switches them off. */
export function useCallKeys(): [boolean, (on: boolean) => void] {
  const [isOn, setOn] = useState(() => localStorage.getItem(STORED) !== 'off')
  const change = useCallback((on: boolean) => {
    setOn(on)
    try {
      localStorage.setItem(STORED, on ? 'on' : 'off')
    } catch {
      // A full disk: it holds until the page is left, and is not remembered.
    }
  }, [])
  return [isOn, change]
}
