import type { Day } from '../../trade/dates.ts'
import type { Equipment } from '../../trade/equipment.ts'
import { equipmentDates } from '../../trade/follow-ups/equipment-dates.ts'
import { dayInWords } from '../../trade/day-in-words.ts'
import { planFollowUps } from '../follow-ups/service.ts'
import type { EquipmentView } from '../properties/equipment-schema.ts'
import { putInPlaceOf, save } from '../properties/equipment-service.ts'
import { getEquipment } from '../properties/equipment-store.ts'
import { ALREADY, type AnswerBody, type AtHome, dayFrom, type FollowUp, type Word } from './word.ts'
import { FormFault } from './entry.ts'
import { fill } from './words.ts'

const deviceOf = ({ ctx }: AtHome, followUp: FollowUp) =>
  getEquipment(ctx.db, followUp.equipmentId ?? followUp.subjectId)

/** A new device with a new date takes the old one's place; the office sees who said so. */
export async function replaced(at: AtHome, followUp: FollowUp, body: AnswerBody): Promise<Word | 'already'> {
  const { ctx } = at
  const old = await deviceOf(at, followUp)
  if (old.retiredOn) return ALREADY
  const manufacturedOn = dayFrom(at, body.manufacturedOn)
  const replacedOn = dayFrom(at, body.replacedOn)
  checkNewer(at, old, manufacturedOn, replacedOn)
  const details = body.same === 'yes' ? sameKind(old.details) : {}
  const replaceBy = endOfNew(at, old, { details, manufacturedOn, installedOn: replacedOn })
  return {
    thanks: 'replaced',
    said: { label: old.label, kind: old.kind, manufacturedOn, on: replacedOn, replaceBy },
    write: async (tx) => {
      await putInPlaceOf(ctx, tx, old, old.version, {
        id: body.id,
        replacedOn,
        manufacturedOn,
        details,
        reason: 'Replaced by the homeowner, as they say',
      })
      await planFollowUps(ctx, tx, old.propertyId)
    },
  }
}

/** A record that lies in the future is a slip of our own, and holds nobody up. */
function checkNewer(
  { ctx, words, home, link }: AtHome,
  old: EquipmentView,
  made: Day,
  replacedOn: Day,
): void {
  const { errors } = words
  const today = ctx.today(home.timeZone)
  const inWords = (date: string) => ({ date: dayInWords(date as Day, link.language) })
  if (replacedOn < made) throw new FormFault(errors.beforeMade)
  if (old.manufacturedOn && old.manufacturedOn <= today && made <= old.manufacturedOn) {
    throw new FormFault(fill(errors.tooOld, inWords(old.manufacturedOn)))
  }
  const seen = [old.manufacturedOn, old.installedOn, old.lastCheckedOn].filter(
    (each) => each && each <= today,
  )
  const lastSeen = seen.sort().at(-1)
  if (lastSeen && replacedOn < lastSeen) throw new FormFault(fill(errors.tooLongAgo, inWords(lastSeen)))
}

/** Until when the new one serves; one that has come to its end already is a date read wrong. */
function endOfNew(
  { ctx, words, home, link }: AtHome,
  old: EquipmentView,
  fresh: Pick<EquipmentView, 'details' | 'manufacturedOn' | 'installedOn'>,
): Day | null {
  const today = ctx.today(home.timeZone)
  const device = { ...old, ...fresh, lastCheckedOn: null, retiredOn: null } as unknown as Equipment
  const { replaceBy } = equipmentDates(device, today)
  if (replaceBy && replaceBy <= today) {
    throw new FormFault(fill(words.errors.worn, { date: dayInWords(replaceBy, link.language) }))
  }
  return old.kind === 'alarm' ? replaceBy : null
}

/** What a like device has in common with the old one; everything read off it is unknown. */
function sameKind(details: Record<string, unknown>): Record<string, unknown> {
  const kept = ['senses', 'power', 'interconnected', 'type', 'at'] as const
  return Object.fromEntries(kept.flatMap((name) => (name in details ? [[name, details[name]]] : [])))
}

export async function battery(at: AtHome, followUp: FollowUp, body: AnswerBody): Promise<Word | 'already'> {
  const old = await deviceOf(at, followUp)
  if (old.retiredOn) return ALREADY
  const on = dayFrom(at, body.on)
  const last = old.details['batteryChangedOn']
  if (typeof last === 'string' && on <= last) return ALREADY
  if (old.manufacturedOn && on < old.manufacturedOn) throw new FormFault(at.words.errors.beforeMade)
  return {
    thanks: 'battery',
    said: { label: old.label, on },
    write: change(at, old, { details: { ...old.details, batteryChangedOn: on } }),
  }
}

/** They looked at the indicator. Lit counts as a look; dark means that it protects no more. */
export async function checked(at: AtHome, followUp: FollowUp, body: AnswerBody): Promise<Word | 'already'> {
  const { indicator } = body
  if (indicator !== 'good' && indicator !== 'dark') throw new FormFault(at.words.errors.choose)
  const old = await deviceOf(at, followUp)
  if (old.retiredOn || followUp.closedAt) return ALREADY
  const today = at.ctx.today(at.home.timeZone)
  return {
    thanks: indicator === 'good' ? 'checked' : 'failed',
    said: { label: old.label, indicator, on: today },
    write: change(at, old, { details: { ...old.details, indicator }, lastCheckedOn: today }),
  }
}

const change =
  ({ ctx }: AtHome, old: EquipmentView, changes: Partial<EquipmentView>): Word['write'] =>
  async (tx) => {
    await save(ctx, tx, old, old.version, { ...old, ...changes }, 'equipment.change')
    await planFollowUps(ctx, tx, old.propertyId)
  }
