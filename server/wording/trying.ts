import type { Language } from '../../trade/day-in-words.ts'
import type { MessageKind } from '../messages/categories.ts'
import type { CommonFacts, LetterFacts } from '../messages/render/facts.ts'
import { compile, type Rendered, render, type Template } from '../messages/render/render.ts'
import { samples } from '../messages/sample.ts'
import { faultsOf, type WordingFault } from './check.ts'
import { sourceOf, type WordingParts } from './parts.ts'

/** Larger letters are cut off by mail programs. */
export const LARGEST_BYTES = 100_000

/**
 * Everything that is wrong with a wording: what is known from its words alone and, if that is nothing, what shows when
 * it is written as HTML and as text with usual, few and many facts.
 */
export function allFaultsOf(
  kind: MessageKind,
  language: Language,
  parts: WordingParts,
  common: CommonFacts,
): WordingFault[] {
  const faults = faultsOf(kind, parts)
  if (faults.length > 0) return faults
  const template = compile(sourceOf(parts))
  return samples(common, kind, language).flatMap(({ when, facts }) =>
    tryWith(kind, language, template, facts, when),
  )
}

function tryWith(
  kind: MessageKind,
  language: Language,
  template: Template,
  facts: LetterFacts,
  when: string,
): WordingFault[] {
  const fault = (pointer: WordingFault['pointer'], detail: string) => ({ pointer, line: 1, detail })
  let letter: Rendered
  try {
    letter = render(kind, language, facts, { template })
  } catch (error) {
    return [fault('#/body', `It cannot be written ${when}: ${(error as Error).message}`)]
  }
  const unfit = unfitness(letter)
  if (unfit) return [fault(letter.subject === '' ? '#/subject' : '#/body', `${unfit} ${when}.`)]
  const told = flat(letter.text)
  return mustTell(kind, facts)
    .filter(([, value]) => !tells(told, flat(value)))
    .slice(0, 1)
    .map(([field]) => fault('#/body', `{{${field}}} is missing ${when}; this letter has to tell it.`))
}

/** The address of a page is not told by the longer one of its page of preferences, which stands in every foot. */
function tells(told: string, value: string): boolean {
  return told
    .split(value)
    .slice(1)
    .some((after) => !after.startsWith('/'))
}
const flat = (text: string) => text.replace(/\s+/g, ' ').trim()

/** What stands in the way of sending a letter, or null. */
export function unfitness({ subject, html, text }: Rendered): string | null {
  if (subject === '') return 'The subject is empty'
  const bytes = Buffer.byteLength(html) + Buffer.byteLength(text)
  if (bytes <= LARGEST_BYTES) return null
  return `The letter comes to ${Math.ceil(bytes / 1000)} kB; ${LARGEST_BYTES / 1000} kB is the most. Shorten it: it is that large`
}

/** What a letter is there for; its words may change, this stays. */
function mustTell(kind: MessageKind, facts: LetterFacts): [field: string, value: string][] {
  const { visit, report, estimate, request, account, pageUrl } = facts
  switch (kind) {
    case 'visit-booked':
    case 'visit-moved':
    case 'visit-reminder':
      return [
        ['visit.day', visit!.day],
        ['visit.from', visit!.from],
        ['visit.to', visit!.to],
        ['visit.address', visit!.address],
        ['pageUrl', pageUrl],
      ]
    case 'visit-cancelled':
    case 'visit-no-access':
      return [
        ['visit.day', visit!.day],
        ['visit.address', visit!.address],
        ['pageUrl', pageUrl],
      ]
    case 'request-received':
      return [['request.address', request!.address]]
    case 'report-issued':
      return [
        ['report.address', report!.address],
        ['pageUrl', pageUrl],
      ]
    case 'estimate-sent':
      return [
        ['estimate.address', estimate!.address],
        ['estimate.total', estimate!.total],
        ['pageUrl', pageUrl],
      ]
    case 'unsafe-finding':
    case 'due-reminder':
    case 'safety-tips':
      return [...homesToTell(facts), ['pageUrl', pageUrl]]
    case 'invitation':
    case 'password-reset':
      return [['account.url', account!.url]]
  }
}

function homesToTell({ homes = [] }: LetterFacts): [string, string][] {
  return homes.flatMap(({ address, items }): [string, string][] => [
    ['address', address],
    ...items.flatMap((item): [string, string][] =>
      'what' in item
        ? [
            ['what', item.what],
            ['makeSafe', item.makeSafe],
          ]
        : [['sentence', item.sentence]],
    ),
  ])
}
