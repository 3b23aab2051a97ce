import type { Cadence, Channel, Step } from './kind.ts'

const CHANNELS: readonly Channel[] = ['mail', 'call', 'letter']

/** Notices as one line that a person can read and write: `-30 mail, 0 mail, 14 call+letter`. */
export function cadenceText({ steps }: Pick<Cadence, 'steps'>): string {
  return steps.map(({ days, by }) => `${days} ${by.join('+')}`).join(', ')
}

/** Reads such a line back; a word of what is wrong where it is none. Days alone are mail. */
export function readCadence(text: string): { steps: Step[] } | { fault: string } {
  const steps: Step[] = []
  for (const part of text.split(',')) {
    const match = /^\s*([+\-−]?\d{1,3})\s*([a-z+]*)\s*$/i.exec(part)
    if (!match) return { fault: `“${part.trim()}” is no notice; write it like “-30 mail” or “14 call”.` }
    const by = (match[2] || 'mail').toLowerCase().split('+') as Channel[]
    const unknown = by.find((each) => !CHANNELS.includes(each))
    if (unknown !== undefined) return { fault: `“${unknown}” is not one of mail, call, letter.` }
    steps.push({ days: Number(match[1]!.replace('−', '-')), by })
  }
  return { steps: steps.sort((a, b) => a.days - b.days) }
}
