/** What may stand in a box without an equipment ground. NFPA 70 406.4(D)(2). */
export const UNGROUNDED_OPTIONS = [
  { letter: 'a', what: 'a two-slot receptacle again' },
  { letter: 'b', what: 'a ground-fault receptacle marked "No Equipment Ground"' },
  {
    letter: 'c',
    what: 'a three-slot receptacle behind a ground-fault device, marked "GFCI Protected" and "No Equipment Ground"',
  },
] as const

/** From a ground-fault receptacle put in under (b) or (c) no grounding conductor runs onward. 406.4(D)(2). */
export const NO_GROUND_ONWARD = 'no grounding conductor onward from it'

export function optionsPhrase(): string {
  const options = UNGROUNDED_OPTIONS.map(({ letter, what }) => `(${letter}) ${what}`).join(', ')
  return `options: ${options}`
}
