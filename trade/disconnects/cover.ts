import { type Basis, finding, sound, undetermined } from '../judging.ts'
import type { ReadingRule } from '../rule.ts'
import type { Verdict } from '../verdict.ts'

/** What was seen of the cover of an equipment disconnect. */
export interface DisconnectCoverReadings {
  coverSound?: boolean
  deadFront?: boolean
}

/** Live parts within reach are a danger today. NFPA 70 110.27 (from memory). */
export function judgeDisconnectCover(readings: DisconnectCoverReadings): Verdict {
  const { coverSound, deadFront } = readings
  const basis: Basis = {
    rule: 'disconnects.cover',
    inputs: { ...readings },
    references: [{ code: 'NFPA 70', article: '110.27' }],
  }
  if (deadFront === false) {
    return finding(basis, 'unsafe', {
      technician: 'Dead front of the disconnect missing: live parts within reach.',
      homeowner:
        'A protective plate in the switch outdoors is missing. Please keep it shut until it is replaced.',
    })
  }
  if (coverSound === false) {
    return finding(basis, 'repair', {
      technician: 'Cover of the disconnect not sound.',
      homeowner: 'The cover of the switch outdoors lets rain in and should be mended.',
    })
  }
  const missing = [
    ...(coverSound == null ? ['Cover sound'] : []),
    ...(deadFront == null ? ['Dead front in place'] : []),
  ]
  if (missing.length > 0) return undetermined(basis, missing)
  return sound(basis, {
    technician: 'Cover and dead front of the disconnect sound.',
    homeowner: 'The cover of the switch outdoors is in order.',
  })
}

export const disconnectCover: ReadingRule<DisconnectCoverReadings, DisconnectCoverReadings> = {
  id: 'disconnects.cover',
  title: 'Cover and dead front of the disconnect',
  inputs: ({ coverSound, deadFront }) => ({ coverSound, deadFront }),
  judge: judgeDisconnectCover,
}
