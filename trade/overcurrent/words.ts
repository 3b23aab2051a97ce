/** Ratings read with "an": eight, eleven, eighteen and eighty amperes and so on, but not one hundred and ten. */
const READ_WITH_AN = /^(8\d*|11|18)(\.\d+)?$/

/** `a 20 A`, `an 80 A`. */
export function anAmps(amps: number): string {
  return `${READ_WITH_AN.test(String(amps)) ? 'an' : 'a'} ${amps} A`
}
