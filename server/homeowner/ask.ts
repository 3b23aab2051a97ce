import { z } from 'zod'
import { addDays, type Day, parseDay } from '../../trade/dates.ts'
import { dayInWords, type Language } from '../../trade/day-in-words.ts'
import type { VisitKind } from '../../trade/visits.ts'
import { refusedBy } from '../db.ts'
import { groupBy } from '../follow-ups/group.ts'
import { setAsked } from '../follow-ups/store.ts'
import { planFollowUps } from '../follow-ups/service.ts'
import { idSchema } from '../ids.ts'
import { findingAsLine } from '../messages/render/quoting.ts'
import { planMessage } from '../messages/service.ts'
import { weekdayInWords, windowInWords } from '../times-in-words.ts'
import { createRequest } from '../requests/service.ts'
import { dayInZone, instantAt } from '../time.ts'
import type { FreeWindowsView } from '../visits/schema.ts'
import { findFreeWindows } from '../visits/service.ts'
import { acted, atHome, FormFault, formId, type Visitor } from './entry.ts'
import { askedAt as findAskedAt, isRequestKnown, listOpen, type ShownFollowUp } from './store.ts'
import { TITLES } from '../../trade/follow-ups/titles.ts'
import { fill } from './words.ts'
import { shortened } from '../shortened.ts'

const DAYS_OFFERED = 14
const WINDOWS_OFFERED = 12

/** What may be asked to be seen to. */
export interface AskAbout {
  id: string
  title: string
  subject: string
  checked: boolean
}

/** What was filled in before a fault, to be shown again. */
export type Typed = Readonly<Record<string, unknown>>

/** The form that asks for a visit at one home: real free windows, or words. */
export async function askForm(
  visitor: Visitor,
  propertyId: string,
  about: readonly AskAbout[],
  typed: Typed | null = null,
) {
  const { ctx, home, link, words, base, form } = atHome(visitor, propertyId)
  const from = addDays(ctx.today(home.timeZone), 1)
  const [{ windows }, askedAt] = await Promise.all([
    findFreeWindows(ctx, { propertyId, from, days: DAYS_OFFERED }),
    findAskedAt(ctx.db, propertyId, link.customerId),
  ])
  const before = typed?.['property'] === propertyId ? typed : null
  const askedOn = askedAt && dayInWords(dayInZone(askedAt, home.timeZone), link.language)
  return {
    w: words,
    base,
    form,
    newId: formId(),
    propertyId,
    about,
    asked: askedOn && fill(words.askedOn, { date: askedOn }),
    typedDays: textOf(before?.['days']),
    typedNote: textOf(before?.['note']),
    days: [...groupBy(someOf(windows), (each) => each.day)].map(([on, offered]) => ({
      words: weekdayInWords(on as Day, link.language),
      windows: offered.map(({ windowStart, windowEnd }) => ({
        value: `${on} ${windowStart} ${windowEnd}`,
        isChosen: before?.['window'] === `${on} ${windowStart} ${windowEnd}`,
        words: hoursInWords(on as Day, windowStart, windowEnd, home.timeZone, link.language),
      })),
    })),
  }
}

type Offered = FreeWindowsView['windows'][number]

/** Of each day the first of the morning and of the afternoon: whoever works these days finds others. */
function someOf(windows: readonly Offered[]): Offered[] {
  const halves = groupBy(windows, ({ day, windowStart }) => `${day} ${windowStart < '12:00'}`)
  return [...halves.values()].map(([first]) => first!).slice(0, WINDOWS_OFFERED)
}

export const textOf = (value: unknown) => (typeof value === 'string' ? value.slice(0, 1000) : '')

function hoursInWords(on: Day, start: string, end: string, zone: string, language: Language): string {
  const { from, to } = windowInWords(instantAt(on, start, zone), instantAt(on, end, zone), zone, language)
  return `${from} – ${to}`
}

export const askBody = z.object({
  form: z.string().max(100).optional(),
  id: idSchema,
  property: idSchema,
  about: z
    .union([idSchema, z.array(idSchema).max(200)])
    .default([])
    .transform((value) => [value].flat()),
  other: z.string().max(10).optional(),
  window: z.string().max(40).default(''),
  days: z.string().trim().max(60).default(''),
  note: z.string().trim().max(1000).default(''),
})
export type AskBody = z.output<typeof askBody>

const WINDOW = /^(\d{4}-\d{2}-\d{2}) (\d{2}:\d{2}) (\d{2}:\d{2})$/

/** Asked on the page of a visit: to move or cancel it, or, when nobody could let us in, to come again. */
export interface Wish {
  act: 'move' | 'cancel' | 'again'
  visitOn: Day
  kind: VisitKind
  /** For the office. */
  reason: string
}

/** Somebody wants us to come. The form's own id makes the same form, sent twice, one request. */
export async function askForVisit(visitor: Visitor, body: AskBody, wish: Wish | null = null): Promise<void> {
  const { ctx, home, link, words } = atHome(visitor, body.property)
  const window = WINDOW.exec(body.window)
  const on = window && parseDay(window[1]!)
  if (!on && body.days === '' && wish?.act !== 'cancel') throw new FormFault(words.errors.noTime)
  if (on && on <= ctx.today(home.timeZone)) throw new FormFault(words.errors.noTime)
  if (await isRequestKnown(ctx.db, body.id, link.customerId)) return
  if (on && !(await isFree(visitor, home.id, on, window))) throw new FormFault(words.errors.taken)
  const open = await listOpen(ctx.db, [home.id])
  const about = open.filter(({ id }) => body.about.includes(id))
  const isRepair = about.some(({ kind }) => kind === 'open-finding' || kind === 'estimate-unanswered')
  const reason = wish?.reason ?? reasonOf(about.map((each) => each.label ?? ''))
  const messageId = await ctx.db
    .$transaction(async (tx) => {
      const request = await createRequest(ctx, tx, {
        id: body.id,
        customerId: link.customerId,
        propertyId: home.id,
        kind: wish?.kind ?? (isRepair ? 'repair' : 'inspection'),
        reason,
        preferredDays: on ? [on] : [],
        preferredTime: on ? `${window[2]} – ${window[3]}` : body.days,
        note: body.note,
        source: 'private-link',
      })
      await setAsked(
        tx,
        about.map(({ id }) => id),
        request.id,
        ctx.now(),
      )
      await planFollowUps(ctx, tx, home.id)
      return planMessage(ctx, tx, {
        kind: 'request-received',
        category: 'booking',
        customerId: link.customerId,
        propertyId: home.id,
        dedupeKey: `request-received-${request.id}`,
        context: {
          requestId: request.id,
          ...(wish
            ? { wish: wish.act, visitOn: wish.visitOn }
            : { about: about.map((each) => lineOf(each, link.language)) }),
        },
        reason: wish?.reason ?? 'They asked for a visit on their page.',
      })
    })
    .catch((error: unknown) => {
      // The same form once more: it was taken the first time.
      if (refusedBy(error, 'visit_request_pkey')) return null
      throw error
    })
  if (messageId) await ctx.enqueue('send-message', { messageId })
  await acted(visitor)
}

/** Still as it was offered: another home may have been booked since the page was opened. */
async function isFree(
  { ctx }: Visitor,
  propertyId: string,
  on: Day,
  [, , from, to]: RegExpExecArray,
): Promise<boolean> {
  const { windows } = await findFreeWindows(ctx, { propertyId, from: on, days: 1 })
  return windows.some(({ windowStart, windowEnd }) => windowStart === from && windowEnd === to)
}

/** `Replace an alarm: Hall`, in the language of the person. */
const lineOf = (each: ShownFollowUp, language: Language) =>
  [TITLES[each.kind][language], subjectOf(each, language)].filter(Boolean).join(': ')

/** What it is about, as far as it has a name; a finding in the words that a letter gives it. */
export function subjectOf({ itemId, label }: ShownFollowUp, language: Language): string {
  return itemId === null ? (label ?? '') : findingAsLine({ itemId, text: label ?? '' }, language)
}

/** For the office, in the office's language. */
function reasonOf(labels: readonly string[]): string {
  const named = labels.filter((label) => label !== '').map((label) => shortened(label, 60))
  if (named.length === 0) return 'Asked for a visit on their page'
  const more = named.length > 6 ? ` and ${named.length - 6} more` : ''
  return `Asked on their page: ${named.slice(0, 6).join('; ')}${more}`
}
