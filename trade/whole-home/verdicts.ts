import type { Line } from '../inspection/lines.ts'
import type { SubjectKind } from '../inspection/records.ts'
import type { UndeterminedVerdict, Verdict } from '../verdict.ts'
import type { HomeVerdicts, Slots } from './evaluate.ts'

/** A verdict with the thing it is about. */
export interface SubjectVerdict {
  subjectKind: SubjectKind
  subjectId: string | null
  verdict: Verdict
}

function about(subjectKind: SubjectKind, subjectId: string | null, slots: Slots): SubjectVerdict[] {
  return slots.flatMap((verdict) => (verdict ? [{ subjectKind, subjectId, verdict }] : []))
}

/** Every verdict: equipment by kind, then spaces, then the home. */
export function allVerdicts({ equipment, spaces, homes }: HomeVerdicts): SubjectVerdict[] {
  return [
    ...[...equipment].flatMap(([id, slots]) => about('equipment', id, slots)),
    ...[...spaces].flatMap(([id, slots]) => about('space', id, slots)),
    ...homes.flatMap((slots) => about('home', null, slots)),
  ]
}

/** What could not be judged, and what would have to be known for it. */
export function undeterminedOf(
  verdicts: HomeVerdicts,
): (SubjectVerdict & { verdict: UndeterminedVerdict })[] {
  return allVerdicts(verdicts).flatMap((each) =>
    each.verdict.outcome === 'undetermined' ? [{ ...each, verdict: each.verdict }] : [],
  )
}

export function verdictsAbout(
  verdicts: HomeVerdicts,
  subjectKind: SubjectKind,
  subjectId: string | null,
): Verdict[] {
  const slots =
    subjectKind === 'home'
      ? verdicts.homes.flat()
      : ((subjectKind === 'equipment' ? verdicts.equipment : verdicts.spaces).get(subjectId ?? '') ?? [])
  return slots.filter((verdict) => verdict !== null)
}

/** Verdicts to be read on a line of the field sheet: those about its subject, and those about the home. */
export function verdictsFor(line: Line, verdicts: HomeVerdicts): Verdict[] {
  const { spokenAt } = verdicts.rules
  const own = verdictsAbout(verdicts, line.subjectKind, line.subjectId)
  const ofHome = line.subjectKind === 'home' ? [] : verdicts.homes.flat()
  return [...own, ...ofHome].filter(({ rule }) => spokenAt[rule]?.includes(line.item.id))
}
