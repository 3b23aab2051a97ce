import type { Home } from '../home.ts'
import { byLine, impliedAnswers } from './covers.ts'
import type { Line } from './lines.ts'
import type { Answer } from './records.ts'

/** How far one area of the checklist is. */
export interface AreaProgress {
  areaId: string
  title: string
  lines: number
  answered: number
  findings: number
  notReached: number
}

/** Progress of each area that this home has lines in, in the order of the checklist. */
export function progressByArea(
  lines: readonly Line[],
  answers: readonly Answer[],
  home: Home,
): AreaProgress[] {
  const given = byLine([...impliedAnswers(lines, answers, home), ...answers])
  const areas = new Map<string, AreaProgress>()
  for (const { area, key } of lines) {
    const progress = areas.get(area.id) ?? {
      areaId: area.id,
      title: area.title,
      lines: 0,
      answered: 0,
      findings: 0,
      notReached: 0,
    }
    const result = given.get(key)?.result
    progress.lines += 1
    if (result) progress.answered += 1
    if (result === 'finding') progress.findings += 1
    if (result === 'not-reached') progress.notReached += 1
    areas.set(area.id, progress)
  }
  return [...areas.values()]
}
