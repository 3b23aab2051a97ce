import { day } from '../../trade/dates.ts'
import { FOLLOW_UP_KINDS } from '../../trade/follow-ups/kinds.ts'
import { dayInWords, type Language } from '../../trade/follow-ups/words.ts'
import type { VisitKind } from '../../trade/visits.ts'
import { staffLink } from '../accounts/staff-link.ts'
import type { Ctx } from '../ctx.ts'
import { groupBy } from '../follow-ups/group.ts'
import { linkUrl } from '../links/service.ts'
import { unsubscribeUrl } from '../links/unsubscribe.ts'
import { getCompany } from '../settings/store.ts'
import { dayInZone, toDay } from '../time.ts'
import { isCommercial } from './categories.ts'
import * as store from './facts-store.ts'
import type { CommonFacts, DangerHome, DueHome, LetterFacts, VisitFacts } from './render/facts.ts'
import { weekdayInWords, windowInWords } from './render/words.ts'
import type { StoredMessage } from './sending-store.ts'

/** Why a message that was planned has nothing to say any more. */
export class NothingToSay extends Error {}

/** Everything that a message's template may tell, as it is at this moment. @throws NothingToSay */
export async function gatherFacts(ctx: Ctx, message: StoredMessage): Promise<LetterFacts> {
  const common = commonFacts(ctx, message, await getCompany(ctx.db))
  switch (message.kind) {
    case 'visit-booked':
    case 'visit-moved':
    case 'visit-cancelled':
    case 'visit-no-access':
    case 'visit-reminder':
      return { ...common, visit: await visitFacts(ctx, message) }
    case 'due-reminder':
    case 'safety-tips':
      return { ...common, ...(await dueFacts(ctx, message)) }
    case 'unsafe-finding':
      return { ...common, homes: await dangerFacts(ctx, message) }
    case 'report-issued':
      return { ...common, report: await reportFacts(ctx, message) }
    case 'request-received':
      return { ...common, request: await requestFacts(ctx, message) }
    case 'invitation':
    case 'password-reset': {
      const { tokenId, hours } = message.context as { tokenId: string; hours?: number }
      return { ...common, account: { url: staffLink(ctx.env, tokenId), hours: hours ?? 24 } }
    }
  }
}

export function commonFacts(
  ctx: Pick<Ctx, 'env'>,
  message: Pick<StoredMessage, 'id' | 'category' | 'customerId' | 'toName'>,
  company: { name: string; phone: string; email: string; addressLines: string[] },
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
  }
}

const VISIT_WORDS: Record<Language, Record<VisitKind, string>> = {
  en: { inspection: 'inspection', repair: 'repair', 'correction-check': 'check of the repair' },
  es: { inspection: 'inspección', repair: 'reparación', 'correction-check': 'comprobación de la reparación' },
}

/** What was promised when the message was written; a reminder, which promises nothing new, tells what stands now. */
async function visitFacts(ctx: Ctx, message: StoredMessage): Promise<VisitFacts> {
  const visit = message.visitId ? await store.findVisit(ctx.db, message.visitId) : null
  if (!visit) throw new NothingToSay('The visit is not there any more.')
  const said = message.context as Partial<Record<string, unknown>>
  if (message.kind === 'visit-reminder' && visit.state !== 'booked') {
    throw new NothingToSay('The visit was called off or has begun.')
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
    reason: text(said['reason'], ''),
  }
}

const addressOf = (property: { line1: string; line2: string; city: string }) =>
  [property.line1, property.line2, property.city].filter((part) => part !== '').join(', ')

/** A letter stays a letter, also to someone with two hundred homes: the page shows the rest. */
const MOST_ITEMS = 40

async function dueFacts(ctx: Ctx, message: StoredMessage) {
  const told = await listOpen(ctx, message)
  const homes = groupBy(told.slice(0, MOST_ITEMS), (each) => each.propertyId)
  return {
    count: told.length,
    isOne: told.length === 1,
    more: Math.max(0, told.length - MOST_ITEMS),
    homes: [...homes.values()].map((items): DueHome => ({
      address: addressOf(items[0]!),
      items: items.map((each) => ({
        sentence: sentenceOf(each, message.language),
        isOverdue: each.dueOn < dayInZone(ctx.now(), each.timeZone) && each.kind !== 'self-test-tips',
      })),
    })),
  }
}

async function listOpen(ctx: Ctx, message: StoredMessage) {
  const told = await store.listTold(ctx.db, message.id)
  if (told.length > 0) return told
  throw new NothingToSay('Everything that it was to tell of has been settled.')
}

/** The reason of a follow-up as one sentence to the person who lives there. */
export function sentenceOf(each: store.TellableFollowUp, language: Language): string {
  const estimate = { en: `estimate ${each.estimateNumber}`, es: `el presupuesto ${each.estimateNumber}` }[
    language
  ]
  const home = { en: 'the home', es: 'la vivienda' }[language]
  const label = each.estimateNumber === null ? (each.label ?? home) : estimate
  const { dueOn, assumed, severity } = each
  return FOLLOW_UP_KINDS[each.kind].reason({ label, dueOn: day(dueOn), assumed, severity })[language]
}

async function dangerFacts(ctx: Ctx, message: StoredMessage): Promise<DangerHome[]> {
  const homes = groupBy(await listOpen(ctx, message), (each) => each.propertyId)
  return [...homes.values()].map((items) => ({
    address: addressOf(items[0]!),
    items: items.map(({ label, makeSafe }) => ({ text: label ?? '', makeSafe: makeSafe ?? '' })),
  }))
}

async function reportFacts(ctx: Ctx, message: StoredMessage) {
  const { reportId } = message.context as { reportId?: string }
  const report = reportId ? await store.findReport(ctx.db, reportId) : null
  if (!report) throw new NothingToSay('The report is not there.')
  return {
    address: addressOf(report.property),
    inspectedOn: report.completedOn ? dayInWords(toDay(report.completedOn), message.language) : '',
    version: report.version,
    findings: report.findings.length,
    unsafe: report.findings.filter(({ severity }) => severity === 'unsafe').length,
  }
}

async function requestFacts(ctx: Ctx, message: StoredMessage) {
  const { requestId } = message.context as { requestId?: string }
  const request = requestId ? await store.findRequest(ctx.db, requestId) : null
  if (!request) throw new NothingToSay('The request is not there.')
  return {
    address: addressOf(request.property),
    reason: request.reason,
    days: request.preferredDays.map((each) => weekdayInWords(toDay(each), message.language)).join('; '),
    time: request.preferredTime,
  }
}
