const digitsOf = (phone: string) => phone.replace(/\D/g, '')

/** Two writings of one number, with or without country and area code. Fewer than seven digits prove nothing. */
export function isSamePhone(a: string | null, b: string | null): boolean {
  const [one, other] = [digitsOf(a ?? ''), digitsOf(b ?? '')]
  const length = Math.min(one.length, other.length, 10)
  return length >= 7 && one.slice(-length) === other.slice(-length)
}
