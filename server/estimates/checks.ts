import type { Day } from '../../trade/dates.ts'
import { dayInWords } from '../../trade/day-in-words.ts'
import { isBelowZero } from '../../trade/estimates/options.ts'
import {
  ESTIMATE_STATES,
  ESTIMATE_STEPS,
  type EstimateStep,
  hasRunOut,
  mayTakeStep,
  OFFERABLE_FINDINGS,
} from '../../trade/estimates/states.ts'
import { FINDING_STATES } from '../../trade/inspection/finding-states.ts'
import type { Db } from '../db.ts'
import { invalid, Problem } from '../errors.ts'
import { shortened } from '../shortened.ts'
import { changedMeanwhile } from '../versions.ts'
import { knownFindings } from './findings-store.ts'
import type { EstimateView, LineBody } from './schema.ts'
import * as store from './store.ts'

/** An estimate as somebody saw it, in a state in which that can be done. @throws Problem says which it is in */
export async function seenEstimate(
  tx: Db,
  id: string,
  seen: number,
  step: EstimateStep,
): Promise<EstimateView> {
  const estimate = await store.getEstimate(tx, id)
  if (!mayTakeStep(step, estimate.state)) throw wrongState(step, estimate)
  if (estimate.version !== seen) throw changedMeanwhile(seen, estimate)
  return estimate
}

export function wrongState(step: EstimateStep, { state }: EstimateView): Problem {
  const allowed = ESTIMATE_STEPS[step].from.map((each) => ESTIMATE_STATES[each].toLowerCase()).join(' or ')
  return new Problem(
    'wrong-state',
    `An estimate can be ${ESTIMATE_STEPS[step].words} only while it is ${allowed}; this one is ${ESTIMATE_STATES[state].toLowerCase()}. Copy it to offer it anew.`,
    { state },
  )
}

export async function checkCustomer(tx: Db, propertyId: string, customerId: string): Promise<void> {
  if (await store.isParty(tx, propertyId, customerId)) return
  throw invalid({ pointer: '#/customerId', detail: 'that person has nothing to do with the home today' })
}

/** Lines that name what there is, each by an id of its own. */
export async function checkLines(
  tx: Db,
  { id, propertyId }: EstimateView,
  lines: readonly LineBody[],
): Promise<void> {
  const given = (of: (line: LineBody) => string | null) => lines.flatMap((line) => of(line) ?? [])
  const [known, prices, elsewhere] = [
    await knownFindings(
      tx,
      propertyId,
      given(({ findingId }) => findingId),
    ),
    await store.knownPrices(
      tx,
      given(({ priceItemId }) => priceItemId),
    ),
    await store.linesElsewhere(
      tx,
      id,
      given((line) => line.id),
    ),
  ]
  const faults = lines.flatMap((line, at) => [
    ...(line.findingId && !known.has(line.findingId)
      ? [{ pointer: `#/lines/${at}/findingId`, detail: 'there is no such finding at this home' }]
      : []),
    ...(line.priceItemId && !prices.has(line.priceItemId)
      ? [{ pointer: `#/lines/${at}/priceItemId`, detail: 'there is no such price' }]
      : []),
    ...(lines.findIndex((each) => each.id === line.id) < at
      ? [{ pointer: `#/lines/${at}/id`, detail: 'two lines have the same id; make a new one' }]
      : []),
  ])
  if (elsewhere > 0) faults.push({ pointer: '#/lines', detail: 'a line of another estimate is among them' })
  if (faults.length > 0) throw invalid(...faults)
}

/**
 * What stands in the way of offering it as it is.
 * @param known findings that it offers already, whatever became of them meanwhile
 */
export function checkOffer(estimate: EstimateView, today: Day, known: readonly string[] = []): void {
  const { lines, expiresOn } = estimate
  if (lines.length === 0) throw new Problem('wrong-state', 'It has no lines yet; add what is offered.')
  if (isBelowZero(lines)) {
    throw new Problem(
      'wrong-state',
      'What is always part of it, or an option, comes to less than nothing; a reduction belongs beside what it reduces.',
    )
  }
  if (hasRunOut({ expiresOn: expiresOn as Day | null }, today)) {
    throw new Problem(
      'wrong-state',
      `It could be accepted until ${dayInWords(expiresOn as Day, 'en')} only; choose a later day.`,
    )
  }
  const settled = lines.find(
    ({ finding }) =>
      finding &&
      !known.includes(finding.id) &&
      !(OFFERABLE_FINDINGS as readonly string[]).includes(finding.state),
  )?.finding
  if (settled) {
    throw new Problem(
      'wrong-state',
      `“${shortened(settled.text, 80)}” cannot be offered any more: ${FINDING_STATES[settled.state].toLowerCase()}. Take its line out.`,
    )
  }
}
