import { addDays, type Day } from '../../trade/dates.ts'
import type { Ctx } from '../../server/ctx.ts'
import { bookMany, planBooking } from '../../server/follow-ups/bulk-booking.ts'
import type { Letter } from '../../server/gateways/mail.ts'
import { answer } from '../../server/homeowner/answers.ts'
import { askBody, askForVisit } from '../../server/homeowner/ask.ts'
import { openLink, type Visitor } from '../../server/homeowner/entry.ts'
import { answerBody } from '../../server/homeowner/word.ts'
import { listOpen } from '../../server/homeowner/store.ts'
import { newId } from '../../server/ids.ts'
import { isWeekend } from './visits.ts'

const TOKEN = /\/h\/([\w-]{43})/
/** What the people who got the letters say, one after the other; most say nothing. */
const SAID = [
  'ask',
  'nothing',
  'replaced',
  'ask',
  'nothing',
  'ask',
  'later',
  'replaced',
  'nothing',
  'ask',
  'ask',
]

/** The first letters of the round; of the others nobody says anything. */
const LETTERS_ANSWERED = 18

/** Some of those who got a letter open its page and answer. */
export async function demoAnswers(ctx: Ctx, letters: readonly Letter[]): Promise<void> {
  let turn = 0
  for (const { text } of letters) {
    const token = TOKEN.exec(text)?.[1]
    if (!token) continue
    const said = SAID[turn++ % SAID.length]
    if (turn > LETTERS_ANSWERED) return
    if (said === 'nothing') continue
    const visitor = await openLink(ctx, token)
    const home = visitor.homes[0]!
    const open = await listOpen(ctx.db, [home.id])
    const alarm = open.find(({ kind }) => kind === 'alarm-end-of-life' || kind === 'alarm-undated')
    if (said === 'replaced' && alarm) await sayReplaced(visitor, alarm.id, ctx.today(home.timeZone))
    else if (said === 'later' && open[0]) await answer(visitor, open[0].id, later())
    else await ask(visitor, home.id, open)
  }
}

const later = () => answerBody.parse({ id: newId(), act: 'snooze', length: 'one-week' })

function sayReplaced(visitor: Visitor, followUpId: string, today: Day) {
  const bought = addDays(today, -1)
  const body = { act: 'replaced', manufacturedOn: addDays(today, -200), replacedOn: bought, same: 'yes' }
  return answer(visitor, followUpId, answerBody.parse({ id: newId(), ...body }))
}

function ask(visitor: Visitor, property: string, open: readonly { id: string }[]) {
  const about = open.map(({ id }) => id)
  return askForVisit(visitor, askBody.parse({ id: newId(), property, about, days: 'weekday mornings' }))
}

/** Of those who asked, the office books the first few, one trip for all of them. */
export async function demoBookings(ctx: Ctx, technicianId: string, today: Day): Promise<void> {
  const asked = await ctx.db.followUp.findMany({
    where: { state: 'asked' },
    select: { id: true },
    orderBy: { updatedAt: 'asc' },
    take: 8,
  })
  if (asked.length === 0) return
  const day = [8, 9, 10].map((ahead) => addDays(today, ahead)).find((each) => !isWeekend(each))!
  const plan = await planBooking(ctx, { ids: asked.map(({ id }) => id), technicianId, day, from: '08:00' })
  const visits = plan.stops.flatMap(({ conflict, windowStart, windowEnd, startsAt, ...stop }) => {
    if (conflict || !windowStart || !windowEnd || !startsAt || !stop.customerId) return []
    const { propertyId, customerId, kind, requestId, lengthMinutes } = stop
    const of = { propertyId, customerId, kind, lengthMinutes, windowStart, windowEnd, startsAt }
    return [{ id: newId(), ...of, ...(requestId && { requestId }), note: '' }]
  })
  if (visits.length > 0) await bookMany(ctx, { technicianId, day, visits })
}
