import type { MouseEvent } from 'react'

/** Two touches closer than this are one shaky thumb, not two answers. Own choice, as long as systems take for a double tap. */
const DOUBLE_TAP_MS = 300

let lastTouchAt = -Infinity

/**
 * Whether a press is the second of a double tap or double click. An answer brings the next line under the thumb, so the
 * second press would answer what nobody has looked at.
 */
export function isDoubled({ detail, timeStamp, nativeEvent }: MouseEvent): boolean {
  if (detail > 1) return true
  // Only a key presses without a count. A screen that may not be zoomed by taps counts each touch as a first one, and
  // some browsers do not say what pressed.
  if (detail === 0 || (nativeEvent as Partial<PointerEvent>).pointerType === 'mouse') return false
  const passed = timeStamp - lastTouchAt
  lastTouchAt = timeStamp
  return passed < DOUBLE_TAP_MS
}
