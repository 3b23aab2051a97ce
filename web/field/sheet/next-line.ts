import type { Line } from '../../../trade/inspection/lines.ts'
import type { Inspection } from './inspection-of.ts'

/** The next line without an answer after that one, round to the beginning; null when all are answered. */
export function nextOpenLine({ lines, answerAt }: Inspection, afterKey: string | null): Line | null {
  const from = afterKey ? lines.findIndex((line) => line.key === afterKey) + 1 : 0
  return [...lines.slice(from), ...lines.slice(0, from)].find((line) => !answerAt(line)) ?? null
}
