import type { Day } from '../../trade/dates.ts'
import { windowInWords } from '../times-in-words.ts'
import type { Ctx } from '../ctx.ts'
import { type FieldFault, invalid, Problem } from '../errors.ts'
import { instantAt } from '../time.ts'
import { type Appointment, findConflict } from './store.ts'

interface Wished {
  day: Day
  windowStart: string
  windowEnd: string
  startsAt?: string | undefined
}

/** The instants of what was said in wall times of the home. @throws Problem invalid-request when they make no sense */
export function instantsOf(wished: Wished, zone: string, now: Date) {
  const at = (time: string) => instantAt(wished.day, time, zone)
  const windowStartsAt = at(wished.windowStart)
  const windowEndsAt = at(wished.windowEnd)
  const startsAt = wished.startsAt === undefined ? windowStartsAt : at(wished.startsAt)
  const faults: FieldFault[] = []
  if (windowEndsAt <= windowStartsAt) {
    faults.push({
      pointer: '#/windowEnd',
      detail: `the window must end after it begins at ${wished.windowStart}`,
    })
  } else if (startsAt < windowStartsAt || startsAt > windowEndsAt) {
    const window = `${wished.windowStart} to ${wished.windowEnd}`
    faults.push({ pointer: '#/startsAt', detail: `the start must lie in the arrival window, ${window}` })
  }
  if (windowEndsAt <= now) faults.push({ pointer: '#/day', detail: 'that time is over already' })
  if (wished.day > LAST_DAY) faults.push({ pointer: '#/day', detail: `expected a day up to ${LAST_DAY}` })
  if (faults.length > 0) throw invalid(...faults)
  return { windowStartsAt, windowEndsAt, startsAt }
}

/** Nobody books further ahead; a year of five digits or a slip of the finger is caught here. */
const LAST_DAY = '2199-12-31'

/** Why the database refused: where the technician is then. Asked after the refusal, so it cannot be out of date. */
export async function technicianBusy(ctx: Ctx, wished: Appointment, exceptId: string): Promise<Problem> {
  const conflict = await findConflict(ctx.db, wished, exceptId)
  if (!conflict) {
    return new Problem(
      'technician-busy',
      'The technician was booked at that moment by someone else; look again.',
    )
  }
  const { line1, timeZone } = conflict.property
  const { day, from, to } = windowInWords(conflict.startsAt, conflict.endsAt, timeZone, 'en')
  return new Problem(
    'technician-busy',
    `${conflict.technician.name} is at ${line1} from ${from} to ${to} on ${day}. ` +
      'Choose another time or another technician.',
    {
      conflict: {
        visitId: conflict.id,
        technicianName: conflict.technician.name,
        line1,
        startsAt: conflict.startsAt.toISOString(),
        endsAt: conflict.endsAt.toISOString(),
      },
    },
  )
}
