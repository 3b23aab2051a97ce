import type { RuleContext } from '../editions.ts'
import { type DetailsOf, EQUIPMENT_FIELDS } from '../equipment.ts'
import { childrenOf } from '../home.ts'
import { type Basis, onClocks, shortfall, sound, undetermined } from '../judging.ts'
import { clocksOf, type Requirement } from '../requirement.ts'
import type { EquipmentRule } from '../rule.ts'
import type { Verdict } from '../verdict.ts'
import {
  type DirectoryLine,
  isSpare,
  LINE_QUALITIES,
  type LineQuality,
  lineQuality,
  wordsOf,
} from './directory-line.ts'

/** A circuit directory was asked for long before; the specific purpose and the ban on names came in 2008. */
export const DIRECTORY: Requirement = {
  keys: ['panels.directory'],
  rows: [
    { since: '1978', required: true, article: '384-13', source: 'from memory' },
    { since: '2002', required: true, article: '408.4', source: 'from memory' },
    {
      since: '2008',
      required: true,
      article: '408.4(A)',
      source: 'NFPA 70 408.4(A); first edition from memory',
    },
  ],
  before: 'unknown',
}

export interface DirectoryInputs {
  /** One per recorded circuit of the panel. */
  lines: readonly (DirectoryLine & { position?: number })[]
}

export interface DirectoryJudged {
  total: number
  complete: number
  /** 0–100, whole. */
  percent: number
  poor: readonly { position?: number; quality: Exclude<LineQuality, 'clear'> }[]
}

const WHOLE = 100

/** Counts the lines that say clearly what their circuit serves. The order of lines does not matter. */
export function directoryOf(lines: DirectoryInputs['lines']): DirectoryJudged {
  const read = lines.map((line) => {
    const words = wordsOf(line.text ?? '')
    return { line, words, name: words.join(' ') }
  })
  const seen = new Map<string, number>()
  for (const { name } of read) seen.set(name, (seen.get(name) ?? 0) + 1)
  const poor = read
    .flatMap(({ line, words, name }) => {
      const quality = lineQuality(line, words)
      const twin = quality === 'clear' && seen.get(name)! > 1 && !isSpare(words)
      if (twin) return { position: line.position, quality: 'repeated' as const }
      return quality === 'clear' ? [] : { position: line.position, quality }
    })
    .toSorted((a, b) => (a.position ?? 0) - (b.position ?? 0))
  const complete = lines.length - poor.length
  return {
    total: lines.length,
    complete,
    percent: lines.length === 0 ? 0 : Math.floor((complete / lines.length) * WHOLE),
    poor,
  }
}

/** Undetermined until somebody has looked at the directory: nothing written down is not the same as a blank line. */
export function judgeDirectory(inputs: DirectoryInputs, context: RuleContext): Verdict {
  const judged = directoryOf(inputs.lines)
  const looked = inputs.lines.some((line) => line.legible != null || line.text)
  const basis: Basis = onClocks(
    {
      rule: 'panels.directory',
      inputs: { circuits: judged.total, described: looked ? judged.complete : null },
      figures: looked
        ? [
            { label: 'Directory complete', value: judged.percent, unit: 'percent' },
            { label: 'Lines described', value: judged.complete, unit: 'count' },
            { label: 'Circuits', value: judged.total, unit: 'count' },
          ]
        : [],
    },
    clocksOf(DIRECTORY, context),
  )
  if (judged.total === 0) return undetermined(basis, ['Circuits of this panel'])
  if (!looked) return undetermined(basis, [EQUIPMENT_FIELDS.circuit.directory.label])
  const score = `Directory ${judged.percent} % complete, ${judged.complete} of ${judged.total} lines`
  if (judged.poor.length === 0) {
    return sound(basis, {
      technician: `${score}.`,
      homeowner: 'The list in your panel says clearly which breaker serves what.',
    })
  }
  const faults = judged.poor
    .map(({ position, quality }) => `${position ?? 'position not known'}: ${LINE_QUALITIES[quality]}`)
    .join(', ')
  return shortfall(basis, context, {
    technician: `${score} (${faults})`,
    homeowner:
      'The list in your panel leaves some breakers unclear. In a hurry, the right one should be found at once.',
  })
}

function lineOf(details: DetailsOf<'circuit'>): DirectoryInputs['lines'][number] {
  return { position: details.position, text: details.directory, legible: details.directoryLegible }
}

export const directory: EquipmentRule<'panel', DirectoryInputs> = {
  id: 'panels.directory',
  title: 'Directory of the panel',
  kind: 'panel',
  watches: ['circuit'],
  inputs: (panel, home) => ({
    lines: childrenOf(home, panel.id).flatMap((each) =>
      each.kind === 'circuit' ? lineOf(each.details) : [],
    ),
  }),
  judge: judgeDirectory,
}
