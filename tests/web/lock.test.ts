import 'fake-indexeddb/auto'
import { pbkdf2Sync } from 'node:crypto'
import { describe, expect, test } from 'vitest'
import {
  changeLock,
  isAway,
  MOST_WRONG,
  readLock,
  setLock,
  tryPin,
  waitAfter,
} from '../../web/field/lock/lock.ts'
import { hashPin, isPin, pinFault } from '../../web/field/lock/pin.ts'
import { FieldStore } from '../../web/field/offline/store.ts'

let stores = 0
const freshStore = () => new FieldStore(`lock-${++stores}`)
const NOW = 1_780_000_000_000

describe('the PIN', () => {
  // RFC 8018 §5.2, computed a second time by OpenSSL through Node.
  test('is kept as PBKDF2 with SHA-256 and a salt of its own', async () => {
    const kept = await hashPin('482913', 1000)
    expect(pbkdf2Sync('482913', Buffer.from(kept.salt, 'hex'), 1000, 32, 'sha256').toString('hex')).toBe(
      kept.hash,
    )
    expect((await hashPin('482913', 1000)).salt).not.toBe(kept.salt)
    expect(await isPin('482913', kept)).toBe(true)
    expect(await isPin('482914', kept)).toBe(false)
    expect(JSON.stringify(kept)).not.toContain('482913')
  })

  test('is slow: at least as many rounds as OWASP asks for', async () => {
    expect((await hashPin('4829')).iterations).toBeGreaterThanOrEqual(600_000)
  })

  test.each([
    ['123', /Four to eight/],
    ['123456789', /Four to eight/],
    ['12a4', /Four to eight/],
    ['7777', /same digit/],
    ['4567', /in a row/],
    ['8765', /in a row/],
  ])('%s is refused', (pin, words) => expect(pinFault(pin)).toMatch(words))
  test('4829 is taken', () => expect(pinFault('4829')).toBeNull())
})

describe('the lock', () => {
  test('opens with the PIN, and only with it', async () => {
    const store = freshStore()
    await setLock(store, '4829', 5)
    await changeLock(store, { isLocked: true })
    expect(await tryPin(store, '1111', NOW)).toBe('wrong')
    expect(await readLock(store)).toMatchObject({ isLocked: true, wrong: 1 })
    expect(await tryPin(store, '4829', NOW)).toBe('open')
    expect(await readLock(store)).toMatchObject({ isLocked: false, wrong: 0 })
  })

  test('after three wrong ones each next try has to wait, also the right one', async () => {
    const store = freshStore()
    await setLock(store, '4829', 5)
    for (let i = 0; i < 3; i++) await tryPin(store, '1111', NOW)
    expect(await tryPin(store, '4829', NOW + 4999)).toBe('too-soon')
    expect(await tryPin(store, '4829', NOW + 5000)).toBe('open')
  })

  test('after ten wrong ones no PIN opens it any more', async () => {
    const store = freshStore()
    await setLock(store, '4829', 5)
    let now = NOW
    for (let i = 1; i <= MOST_WRONG; i++) {
      expect(await tryPin(store, '1111', now)).toBe(i === MOST_WRONG ? 'spent' : 'wrong')
      now += 61_000
    }
    expect(await tryPin(store, '4829', now + 86_400_000)).toBe('spent')
  }, 30_000)

  test('waits grow and never shrink', () => {
    const waits = Array.from({ length: 12 }, (_, wrong) => waitAfter(wrong))
    expect(waits.slice(0, 3)).toEqual([0, 0, 0])
    expect(waits.toSorted((a, b) => a - b)).toEqual(waits)
    expect(waits.at(-1)).toBe(60)
  })

  test('one is away after the minutes, when nothing is known, or when the clock was put back', () => {
    const lock = { afterMinutes: 5 }
    expect(isAway(lock, NOW, NOW + 299_000)).toBe(false)
    expect(isAway(lock, NOW, NOW + 300_000)).toBe(true)
    expect(isAway(lock, null, NOW)).toBe(true)
    expect(isAway(lock, NOW, NOW - 3_600_000)).toBe(true)
    // Clocks are set right by seconds all the time.
    expect(isAway(lock, NOW, NOW - 2000)).toBe(false)
  })
})
