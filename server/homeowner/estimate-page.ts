import type { Day } from '../../trade/dates.ts'
import { dayInWords } from '../../trade/day-in-words.ts'
import { lineNetCents, moneyInWords, type Sums, typedQuantity } from '../../trade/estimates/money.ts'
import { staysUnsafe } from '../../trade/estimates/decision.ts'
import { faultOfChoice, offerOf, optionNames, sumsWith } from '../../trade/estimates/options.ts'
import { hasRunOut } from '../../trade/estimates/states.ts'
import { Problem } from '../errors.ts'
import { type Decision, statementOf } from '../estimates/deciding.ts'
import type { EstimateView, LineView } from '../estimates/schema.ts'
import { findEstimate, isParty } from '../estimates/store.ts'
import { findingAsLine, quoted } from '../messages/render/quoting.ts'
import { dayInZone } from '../time.ts'
import { textOf } from './ask.ts'
import type { Wrong } from './due.ts'
import { addressOf } from '../properties/address.ts'
import { formId, type Visitor } from './entry.ts'
import { fill } from './words.ts'

/** An estimate of this link's person, in whatever state it is by now. @throws not-found for anybody else's */
export async function estimateOf({ ctx, link }: Visitor, id: string | null): Promise<EstimateView> {
  const estimate = id ? await findEstimate(ctx.db, id) : null
  const isHere =
    estimate?.customerId === link.customerId &&
    estimate.state !== 'draft' &&
    (link.propertyId === null || link.propertyId === estimate.propertyId)
  if (!isHere) throw new Problem('not-found', 'There is no such estimate here.')
  return estimate
}

/** Whether it can be answered now: sent, not run out, and by somebody who still has to do with the home. */
export async function mayAnswer({ ctx, link }: Visitor, estimate: EstimateView): Promise<boolean> {
  return (
    standing(estimate, ctx.today(estimate.timeZone)) === 'sent' &&
    (await isParty(ctx.db, estimate.propertyId, link.customerId))
  )
}

/** Run out, it counts as such before the night in which that is written down. */
function standing({ state, expiresOn }: EstimateView, today: Day): Exclude<EstimateView['state'], 'draft'> {
  const isOver = state === 'sent' && hasRunOut({ expiresOn: expiresOn as Day | null }, today)
  return isOver ? 'expired' : (state as Exclude<EstimateView['state'], 'draft'>)
}

/** What was ticked: in the address, or in a form that comes back with a fault. */
export const chosenIn = (given: unknown): string[] =>
  [given].flat().filter((each): each is string => typeof each === 'string')

export async function estimateFacts(
  visitor: Visitor,
  id: string | null,
  ticked: readonly string[],
  wrong: Wrong | null = null,
) {
  const { ctx, words, link, base, form } = visitor
  const estimate = await estimateOf(visitor, id)
  const { lines, number } = estimate
  const state = standing(estimate, ctx.today(estimate.timeZone))
  const wished = wrong ? chosenIn(wrong.typed['option']) : ticked
  const chosen = optionNames(lines).filter((name) => wished.includes(name))
  const { always, options } = offerOf(lines)
  const inWords = (day: string | null) => day && dayInWords(day as Day, link.language)
  const decidedOn = estimate.decidedAt && dayInZone(new Date(estimate.decidedAt), estimate.timeZone)
  const isAccepted = state === 'accepted'
  const may = await mayAnswer(visitor, estimate)
  const taken = isAccepted ? takenOptions(lines) : chosen
  return {
    title: fill(words.estimateTitle, { number }),
    fault: wrong?.fault ?? null,
    stateWords: fill(words.estimateStates[state], {
      date: inWords(decidedOn ?? estimate.expiresOn) ?? '',
      until: inWords(estimate.expiresOn) ?? '',
    }),
    isOpen: may,
    until: may && estimate.expiresOn && fill(words.estimateUntil, { date: inWords(estimate.expiresOn)! }),
    address: addressOf(estimate),
    note: link.language === 'en' ? estimate.note : quoted(estimate.note, 'office', link.language),
    always: partOf(visitor, lines, ''),
    alwaysTotal: moneyInWords(always.totalCents),
    options: options.map(({ name, totalCents }) => ({
      name,
      total: moneyInWords(totalCents),
      lines: partOf(visitor, lines, name),
      isChosen: taken.includes(name),
      isLeft: isAccepted && !taken.includes(name),
    })),
    hasOptions: options.length > 0,
    sums: sumsInWords(sumsWith(lines, taken)),
    there: `${base}/estimates/${estimate.id}`,
    accepting: may ? { ...signing(visitor, estimate, { state: 'accepted', chosen }), shown: chosen } : null,
    declining: may ? signing(visitor, estimate, { state: 'declined', chosen: [] }) : null,
    asking: { form, newId: formId(), version: estimate.version },
    typed: {
      name: textOf(wrong?.typed['name']),
      reason: textOf(wrong?.typed['reason']),
      question: textOf(wrong?.typed['question']),
    },
    isDeclining: wrong?.typed['act'] === 'decline',
    isAsking: wrong?.typed['act'] === 'question',
    signed: estimate.signature,
  }
}

const takenOptions = (lines: readonly LineView[]) => [
  ...new Set(lines.filter(({ decision }) => decision === 'accepted').map(({ option }) => option)),
]

const sumsInWords = ({ netCents, taxCents, totalCents }: Sums) => ({
  net: moneyInWords(netCents),
  tax: moneyInWords(taxCents),
  total: moneyInWords(totalCents),
})

/** The lines of one option, or those that are always part of it. */
function partOf({ link }: Visitor, lines: readonly LineView[], option: string) {
  return lines
    .filter((line) => line.option === option)
    .map((line) => ({
      what: quoted(line.description, 'office', link.language),
      corrects: line.finding && findingAsLine(line.finding, link.language),
      isUnsafe: line.finding?.severity === 'unsafe',
      count: `${typedQuantity(line.quantityThousandths)} × ${moneyInWords(line.priceCents)}`,
      net: moneyInWords(lineNetCents(line)),
    }))
}

/** A form to sign; without words where nothing is taken that could be accepted. */
function signing(visitor: Visitor, estimate: EstimateView, decision: Pick<Decision, 'state' | 'chosen'>) {
  const isNothing = decision.state === 'accepted' && faultOfChoice(estimate.lines, decision.chosen) !== null
  return {
    form: visitor.form,
    newId: formId(),
    version: estimate.version,
    statement: isNothing
      ? null
      : statementOf(estimate, decision, visitor.company.name, visitor.link.language),
    isUnsafe: staysUnsafe(estimate.lines, decision).length > 0,
  }
}
