import type { SubjectKind } from '../../trade/follow-ups/kind.ts'

/** What a follow-up is about where its record has no name of its own. */
export const SPOKEN_SUBJECTS: Record<SubjectKind, string> = {
  home: 'The home',
  equipment: 'A device',
  finding: 'A finding',
  visit: 'The visit',
  estimate: 'An estimate',
}
