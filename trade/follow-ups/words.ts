/** Second half of a sentence whose date was worked out rather than read. */
export const ASSUMED = {
  en: ' We worked this date out, because the device does not print one.',
  es: ' Hemos calculado esta fecha, porque el aparato no la lleva impresa.',
}

/** What a person wrote, to stand inside a sentence of ours that ends by itself. */
export function withoutFullStop(text: string): string {
  return text.trim().replace(/\.+$/, '')
}
