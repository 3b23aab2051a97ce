import type { Cadence, Channel, Step } from './kind.ts'

const CHANNELS: readonly Channel[] = ['mail', 'call', 'letter']

/** Notices as one line that a person can read and write: `-30 mail, 14 call+letter, then every 12 months mail`. */
export function cadenceText({ steps, then }: Cadence): string {
  const parts = steps.map(({ days, by }) => `${days} ${by.join('+')}`)
  if (then) {
    const unit = then.every === 1 ? then.unit.slice(0, -1) : then.unit
    parts.push(`then every ${then.every} ${unit} ${then.by.join('+')}`)
  }
  return parts.join(', ')
}

/** Reads such a line back; a word of what is wrong where it is none. Days alone are mail. */
export function readCadence(text: string): Cadence | { fault: string } {
  const steps: Step[] = []
  const parts = text.split(',')
  const repeat = /^\s*then\b/i.test(parts.at(-1)!) && parts.length > 1 ? readRepeat(parts.pop()!) : null
  if (repeat && 'fault' in repeat) return repeat
  for (const part of parts) {
    const match = /^\s*([+\-−]?\d{1,3})\s*([a-z+]*)\s*$/i.exec(part)
    if (!match) return { fault: `“${part.trim()}” is no notice; write it like “-30 mail” or “14 call”.` }
    const by = readChannels(match[2]!)
    if ('fault' in by) return by
    steps.push({ days: Number(match[1]!.replace('−', '-')), by })
  }
  const inOrder = steps.sort((a, b) => a.days - b.days)
  const twice = inOrder.find(({ days }, n) => days === inOrder[n - 1]?.days)
  if (twice) return { fault: `Two notices on day ${twice.days}; keep one, like “${twice.days} mail+call”.` }
  return repeat ? { steps: inOrder, then: repeat } : { steps: inOrder }
}

function readRepeat(part: string): NonNullable<Cadence['then']> | { fault: string } {
  const match = /^\s*then\s+every\s+(\d{1,3})\s+(day|month)s?\s*([a-z+]*)\s*$/i.exec(part)
  if (!match || Number(match[1]) < 1) {
    return { fault: `“${part.trim()}” is no repeat; write it like “then every 12 months mail”.` }
  }
  const by = readChannels(match[3]!)
  if ('fault' in by) return by
  const unit = match[2]!.toLowerCase() === 'day' ? 'days' : 'months'
  return { every: Number(match[1]), unit, by }
}

function readChannels(text: string): Channel[] | { fault: string } {
  const by = (text || 'mail').toLowerCase().split('+') as Channel[]
  const unknown = by.find((each) => !CHANNELS.includes(each))
  return unknown === undefined ? by : { fault: `“${unknown}” is not one of mail, call, letter.` }
}
