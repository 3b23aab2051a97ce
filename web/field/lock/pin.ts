/** A PIN as it is kept: never itself, only a slow hash of it. */
export interface PinHash {
  /** Both in hexadecimal. */
  salt: string
  hash: string
  iterations: number
}

/** As OWASP's password storage cheat sheet asks of PBKDF2 with SHA-256 (2023): about half a second on a phone. */
const ITERATIONS = 600_000
export const PIN_PATTERN = /^\d{4,8}$/

/** What is wrong with a PIN that somebody chooses; null when nothing is. */
export function pinFault(pin: string): string | null {
  if (!PIN_PATTERN.test(pin)) return 'Four to eight digits.'
  if (/^(\d)\1+$/.test(pin)) return 'Not the same digit again and again.'
  if ('0123456789'.includes(pin) || '9876543210'.includes(pin)) return 'Not digits in a row.'
  return null
}

export async function hashPin(pin: string, iterations = ITERATIONS): Promise<PinHash> {
  const salt = crypto.getRandomValues(new Uint8Array(16))
  return { salt: hexOf(salt), hash: hexOf(await derive(pin, salt, iterations)), iterations }
}

export async function isPin(pin: string, { salt, hash, iterations }: PinHash): Promise<boolean> {
  return hexOf(await derive(pin, bytesOf(salt), iterations)) === hash
}

async function derive(pin: string, salt: Uint8Array<ArrayBuffer>, iterations: number): Promise<Uint8Array> {
  const key = await crypto.subtle.importKey('raw', new TextEncoder().encode(pin), 'PBKDF2', false, [
    'deriveBits',
  ])
  const bits = await crypto.subtle.deriveBits({ name: 'PBKDF2', hash: 'SHA-256', salt, iterations }, key, 256)
  return new Uint8Array(bits)
}

const hexOf = (bytes: Uint8Array) => Array.from(bytes, (byte) => byte.toString(16).padStart(2, '0')).join('')
const bytesOf = (hex: string) => Uint8Array.from(hex.match(/../g) ?? [], (pair) => parseInt(pair, 16))
