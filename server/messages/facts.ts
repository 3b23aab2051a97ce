import { day } from '../../trade/dates.ts'
import { moneyInWords } from '../../trade/estimates/money.ts'
import { offerOf, optionNames } from '../../trade/estimates/options.ts'
import { isPastItsDate } from '../../trade/follow-ups/date-to-pass.ts'
import { FOLLOW_UP_KINDS } from '../../trade/follow-ups/kinds.ts'
import { TITLES } from '../../trade/follow-ups/titles.ts'
import { dayInWords, type Language } from '../../trade/day-in-words.ts'
import type { VisitKind, VisitState } from '../../trade/visits.ts'
import { staffLink } from '../accounts/staff-link.ts'
import type { Ctx } from '../ctx.ts'
import { groupBy } from '../follow-ups/group.ts'
import { addressOf } from '../properties/address.ts'
import { remembered } from '../remembered.ts'
import { linkUrl } from '../links/service.ts'
import { unsubscribeUrl } from '../links/unsubscribe.ts'
import { dayInZone, toDay } from '../time.ts'
import { isCommercial, type MessageKind } from './categories.ts'
import * as store from './facts-store.ts'
import { requestFacts } from './request-facts.ts'
import { findingAsLine, findingInWords, quoted } from './render/quoting.ts'
import type { CommonFacts, DangerHome, DueHome, LetterFacts, VisitFacts } from './render/facts.ts'
import { windowInWords } from '../times-in-words.ts'
import type { StoredMessage } from './sending-store.ts'

/** Why a message that was planned has nothing to say any more. */
export class NothingToSay extends Error {}

type Asked = Pick<
  StoredMessage,
  'id' | 'kind' | 'category' | 'customerId' | 'visitId' | 'toName' | 'language' | 'context'
>
/** What the records say, for all letters of one round. */
interface Records {
  visits: Map<string, store.VisitOfLetter>
  told: Map<string, store.TellableFollowUp[]>
  reports: Map<string, store.ReportOfLetter>
  requests: Map<string, store.RequestOfLetter>
  estimates: Map<string, store.EstimateOfLetter>
}

/** Everything that the templates of messages may tell, as it is at this moment; an Error where one cannot be written:
 *  NothingToSay for what is settled. */
export async function gatherFacts(
  ctx: Ctx,
  messages: readonly Asked[],
  company: CompanyOfLetter,
): Promise<Map<string, LetterFacts | Error>> {
  const records = await readRecords(ctx, messages)
  return new Map(
    messages.map((message): [string, LetterFacts | Error] => {
      try {
        return [message.id, { ...commonFacts(ctx, message, company), ...own(ctx, message, records) }]
      } catch (error) {
        return [message.id, error as Error]
      }
    }),
  )
}

async function readRecords(ctx: Ctx, messages: readonly Asked[]): Promise<Records> {
  const ids = (of: (message: Asked) => unknown) => [
    ...new Set(messages.map(of).filter((id): id is string => typeof id === 'string')),
  ]
  const byId = <Row extends { id: string }>(rows: Row[]) => new Map(rows.map((row) => [row.id, row]))
  const tells = new Set<MessageKind>(['due-reminder', 'safety-tips', 'unsafe-finding'])
  const [visits, told, reports, requests, estimates] = await Promise.all([
    store.listVisits(
      ctx.db,
      ids(({ visitId }) => visitId),
    ),
    store.listTold(
      ctx.db,
      ids(({ id, kind }) => tells.has(kind) && id),
    ),
    store.listReports(
      ctx.db,
      ids(({ context }) => context['reportId']),
    ),
    store.listRequests(
      ctx.db,
      ids(({ context }) => context['requestId']),
    ),
    store.listEstimates(
      ctx.db,
      ids(({ context }) => context['estimateId']),
    ),
  ])
  return {
    visits: byId(visits),
    told: groupBy(told, ({ messageId }) => messageId),
    reports: byId(reports),
    requests: byId(requests),
    estimates: byId(estimates),
  }
}

function own(ctx: Ctx, message: Asked, records: Records): Partial<LetterFacts> {
  switch (message.kind) {
    case 'visit-booked':
    case 'visit-moved':
    case 'visit-cancelled':
    case 'visit-no-access':
    case 'visit-reminder':
      return { visit: visitFacts(ctx, message, records) }
    case 'due-reminder':
    case 'safety-tips':
      return dueFacts(ctx, message, records)
    case 'unsafe-finding':
      return { homes: dangerFacts(message, records) }
    case 'report-issued':
      return { report: reportFacts(message, records) }
    case 'estimate-sent':
      return { estimate: estimateFacts(message, records) }
    case 'request-received':
      return { request: requestFacts(message, requestOf(message, records)) }
    case 'invitation':
    case 'password-reset': {
      const { tokenId, hours } = message.context as { tokenId: string; hours?: number }
      return { account: { url: staffLink(ctx.env, tokenId), hours: hours ?? 24 } }
    }
  }
}

export interface CompanyOfLetter {
  name: string
  phone: string
  email: string
  addressLines: string[]
}

export function commonFacts(
  ctx: Pick<Ctx, 'env'>,
  message: Pick<StoredMessage, 'id' | 'category' | 'customerId' | 'toName'>,
  company: CompanyOfLetter,
): CommonFacts {
  const pageUrl = linkUrl(ctx.env, message.id)
  const { name, phone, email, addressLines } = company
  return {
    company: { name, phone, phoneUrl: `tel:${phone.replace(/[^\d+]/g, '')}`, email, addressLines },
    to: { name: message.toName },
    pageUrl,
    preferencesUrl: `${pageUrl}/preferences`,
    unsubscribeUrl:
      message.customerId && isCommercial(message.category)
        ? unsubscribeUrl(ctx.env, message.customerId, message.category)
        : null,
    isStaff: message.category === 'account',
    isTips: message.category === 'tips',
  }
}

const VISIT_WORDS: Record<Language, Record<VisitKind, string>> = {
  en: { inspection: 'inspection', repair: 'repair', 'correction-check': 'check of the repair' },
  es: { inspection: 'inspección', repair: 'reparación', 'correction-check': 'comprobación de la reparación' },
}

/** They tell of a visit that lies ahead. */
export const OF_VISITS_TO_COME: readonly string[] = ['visit-booked', 'visit-moved', 'visit-reminder']
const ENDED: readonly string[] = ['finished', 'cancelled', 'no-access'] satisfies VisitState[]

/** What was promised when the message was written; a reminder, which promises nothing new, tells what stands now. */
function visitFacts(ctx: Ctx, message: Asked, { visits }: Records): VisitFacts {
  const visit = visits.get(message.visitId ?? '')
  if (!visit) throw new NothingToSay('The visit is not there any more.')
  const said = message.context as Partial<Record<string, unknown>>
  if (message.kind === 'visit-reminder' && visit.state !== 'booked') {
    throw new NothingToSay('The visit was called off or has begun.')
  }
  // Held up for long, it would send somebody to a door.
  const isOver = ENDED.includes(visit.state) || visit.windowEndsAt <= ctx.now()
  if (OF_VISITS_TO_COME.includes(message.kind) && isOver) {
    throw new NothingToSay('The visit is over or was called off.')
  }
  if (typeof said['sequence'] === 'number' && said['sequence'] < visit.sequence) {
    throw new NothingToSay('The visit was changed since; a newer message tells of it.')
  }
  const instant = (value: unknown, otherwise: Date) =>
    typeof value === 'string' ? new Date(value) : otherwise
  const text = (value: unknown, otherwise: string) => (typeof value === 'string' ? value : otherwise)
  const from = instant(said['windowStartsAt'], visit.windowStartsAt)
  const to = instant(said['windowEndsAt'], visit.windowEndsAt)
  return {
    kind: VISIT_WORDS[message.language][visit.kind as VisitKind],
    ...windowInWords(from, to, visit.property.timeZone, message.language),
    address: text(said['address'], addressOf(visit.property)),
    technician: text(said['technicianName'], visit.technician.name),
    minutes: visit.lengthMinutes,
    reason: quoted(text(said['reason'], ''), 'office', message.language),
  }
}

/** A letter stays a letter, also to someone with two hundred homes: the page shows the rest. */
const MOST_ITEMS = 40

function dueFacts(ctx: Ctx, message: Asked, records: Records) {
  const told = listOpen(message, records)
  const today = remembered((zone: string) => dayInZone(ctx.now(), zone))
  const homes = groupBy(told.slice(0, MOST_ITEMS), (each) => each.propertyId)
  return {
    count: told.length,
    isOne: told.length === 1,
    first: TITLES[told[0]!.kind][message.language],
    firstLine: told[0]!.line1,
    more: Math.max(0, told.length - MOST_ITEMS),
    isManyHomes: new Set(told.map((each) => each.propertyId)).size > 1,
    homes: [...homes.values()].map((items): DueHome => ({
      address: addressOf(items[0]!),
      items: items.map((each) => ({
        sentence: sentenceOf(each, message.language),
        isOverdue: isPastItsDate({ kind: each.kind, dueOn: day(each.dueOn) }, today(each.timeZone)),
      })),
    })),
  }
}

function listOpen(message: Asked, { told }: Records) {
  const open = told.get(message.id)
  if (open) return open
  throw new NothingToSay('Everything that it was to tell of has been settled, or they want no mail about it.')
}

/** The reason of a follow-up as one sentence to the person who lives there. */
export function sentenceOf(each: store.TellableFollowUp, language: Language): string {
  const estimate = { en: `estimate ${each.estimateNumber}`, es: `el presupuesto ${each.estimateNumber}` }[
    language
  ]
  const home = { en: 'the home', es: 'la vivienda' }[language]
  const { itemId, dueOn, assumed, severity } = each
  const subject = itemId === null ? each.label : findingInWords({ itemId, text: each.label ?? '' }, language)
  const label = each.estimateNumber === null ? (subject ?? home) : estimate
  return FOLLOW_UP_KINDS[each.kind].reason({ label, dueOn: day(dueOn), assumed, severity })[language]
}

function dangerFacts(message: Asked, records: Records): DangerHome[] {
  const homes = groupBy(listOpen(message, records), (each) => each.propertyId)
  return [...homes.values()].map((items) => ({
    address: addressOf(items[0]!),
    items: items.map(({ itemId, label, makeSafe }) => ({
      what: findingAsLine({ itemId: itemId ?? '', text: label ?? '' }, message.language),
      makeSafe: quoted(makeSafe ?? '', 'technician', message.language),
    })),
  }))
}

function reportFacts(message: Asked, { reports }: Records) {
  const report = reports.get(String(message.context['reportId']))
  if (!report) throw new NothingToSay('The report is not there.')
  return {
    address: addressOf(report.property),
    inspectedOn: report.completedOn ? dayInWords(toDay(report.completedOn), message.language) : '',
    version: report.version,
    findings: report.findings.length,
    unsafe: report.findings.filter(({ severity }) => severity === 'unsafe').length,
  }
}

function estimateFacts(message: Asked, { estimates }: Records) {
  const estimate = estimates.get(String(message.context['estimateId']))
  if (estimate?.state !== 'sent') throw new NothingToSay('The estimate is no longer waiting for an answer.')
  const { number, property, expiresOn, lines } = estimate
  return {
    number,
    address: addressOf(property),
    total: moneyInWords(offerOf(lines).all.totalCents),
    until: expiresOn ? dayInWords(toDay(expiresOn), message.language) : '',
    hasOptions: optionNames(lines).length > 0,
  }
}

function requestOf({ context }: Asked, { requests }: Records): store.RequestOfLetter {
  const request = requests.get(String(context['requestId']))
  if (!request) throw new NothingToSay('The request is not there.')
  return request
}
