import { type PricedLine, type Sums, sumsOf } from './money.ts'

/** A line that is always part of the offer has no option; lines of one option are taken or left together. */
export interface OptionalLine extends PricedLine {
  option: string
}

export interface Option extends Sums {
  name: string
}

/** What is offered: the part that is always taken, each option by itself, and all of it. */
export interface Offer {
  always: Sums
  options: Option[]
  all: Sums
}

/** Options in the order in which they first stand there. */
export function optionNames(lines: readonly OptionalLine[]): string[] {
  return [...new Set(lines.map(({ option }) => option).filter((option) => option !== ''))]
}

export function offerOf(lines: readonly OptionalLine[]): Offer {
  const of = (name: string) => sumsOf(lines.filter(({ option }) => option === name))
  return {
    always: of(''),
    options: optionNames(lines).map((name) => ({ name, ...of(name) })),
    all: sumsOf(lines),
  }
}

export const isTaken = ({ option }: { option: string }, chosen: readonly string[]) =>
  option === '' || chosen.includes(option)

/** What is taken with those options: the always part and each that was chosen. */
export function sumsWith(lines: readonly OptionalLine[], chosen: readonly string[]): Sums {
  return sumsOf(lines.filter((line) => isTaken(line, chosen)))
}

/** Why nothing can be accepted by this choice, or null. */
export function faultOfChoice(
  lines: readonly OptionalLine[],
  chosen: readonly string[],
): 'unknown-option' | 'nothing-taken' | null {
  const known = optionNames(lines)
  if (chosen.some((name) => !known.includes(name))) return 'unknown-option'
  return lines.some((line) => isTaken(line, chosen)) ? null : 'nothing-taken'
}

/** The offer cannot ask for less than nothing, whatever is chosen: reductions of an option stand beside what they reduce. */
export function isBelowZero(lines: readonly OptionalLine[]): boolean {
  const { always, options } = offerOf(lines)
  return [always, ...options].some(({ netCents, taxCents }) => netCents < 0 || taxCents < 0)
}
