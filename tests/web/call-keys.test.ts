import { describe, expect, test } from 'vitest'
import { CALL_KEY, OUTCOMES, shortcutOf } from '../../web/office/due/call-keys.ts'

const press = (key: string, target: object = { tagName: 'BUTTON' }, more: object = {}) =>
  shortcutOf({
    ...{ key, repeat: false, ctrlKey: false, metaKey: false, altKey: false },
    ...more,
    target: target as EventTarget,
  })

describe('the letters of the worklist', () => {
  test('each outcome has its own, and none opens the call', () => {
    const keys = Object.values(OUTCOMES).map(({ key }) => key)
    expect(new Set([...keys, CALL_KEY]).size).toBe(keys.length + 1)
    expect(keys.every((key) => /^[a-z]$/.test(key))).toBe(true)
  })

  // WCAG 2.2 SC 2.1.4: letters act only where the focus is, and never while somebody types.
  test.each([
    ['on a button', 'B', { tagName: 'BUTTON' }, {}, 'b'],
    ['on a box to tick', 'n', { tagName: 'INPUT', type: 'checkbox' }, {}, 'n'],
    ['in a text field', 'n', { tagName: 'INPUT', type: 'text' }, {}, null],
    ['in a note', 'n', { tagName: 'TEXTAREA' }, {}, null],
    ['in a list of choices, which letters search', 'n', { tagName: 'SELECT' }, {}, null],
    ['in text that is edited in place', 'n', { tagName: 'DIV', isContentEditable: true }, {}, null],
    ['with Ctrl: a command of the browser', 'c', { tagName: 'BUTTON' }, { ctrlKey: true }, null],
    ['with Alt: a command of the system', 'c', { tagName: 'BUTTON' }, { altKey: true }, null],
    ['held down: one press is one call', 'n', { tagName: 'BUTTON' }, { repeat: true }, null],
  ])('%s', (_where, key, target, more, expected) => {
    expect(press(key, target, more)).toBe(expected)
  })
})
