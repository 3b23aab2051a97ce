import { day } from '../../trade/dates.ts'
import { FOLLOW_UP_KINDS } from '../../trade/follow-ups/kinds.ts'
import { TITLES } from '../../trade/follow-ups/titles.ts'
import type { FollowUpKindId } from '../../trade/follow-ups/kind.ts'
import type { Language } from '../../trade/day-in-words.ts'
import type { MessageKind } from './categories.ts'
import type { CommonFacts, DangerHome, DueHome, LetterFacts } from './render/facts.ts'
import { findingAsLine, findingInWords, quoted } from './render/quoting.ts'
import { windowInWords } from '../times-in-words.ts'

const ADDRESS = '14 Quay Lane, Port Ansel'
const OTHER_ADDRESS = '2208 Breakwater Street, Apartment 4, Port Ansel'

/** Made-up facts of a made-up home: what any kind of letter looks like, in either language. */
export function sampleFacts(common: CommonFacts, kind: MessageKind, language: Language): LetterFacts {
  const window = windowInWords(
    new Date('2026-06-04T13:00:00Z'),
    new Date('2026-06-04T15:00:00Z'),
    'America/New_York',
    language,
  )
  const items = dueItems(kind, language)
  return {
    ...common,
    visit: {
      ...window,
      kind: { en: 'inspection', es: 'inspección' }[language],
      address: ADDRESS,
      technician: 'Jo Marsh',
      minutes: 105,
      reason: quoted('Our technician is ill.', 'office', language),
    },
    homes: kind === 'unsafe-finding' ? [dangerHome(language)] : [{ address: ADDRESS, items }],
    count: items.length,
    isOne: items.length === 1,
    isManyHomes: false,
    first: TITLES['alarm-end-of-life'][language],
    firstLine: '14 Quay Lane',
    more: 0,
    report: {
      address: ADDRESS,
      inspectedOn: { en: 'June 4, 2026', es: '4 de junio de 2026' }[language],
      version: 1,
      findings: 5,
      unsafe: 1,
    },
    estimate: {
      number: 41,
      address: ADDRESS,
      total: '$725.55',
      until: { en: 'July 4, 2026', es: '4 de julio de 2026' }[language],
      hasOptions: true,
    },
    request: {
      address: ADDRESS,
      reason: { en: 'Lights flicker in the kitchen', es: 'Las luces de la cocina parpadean' }[language],
      days: window.day,
      time: { en: 'Mornings', es: 'Por la mañana' }[language],
      isCancelling: false,
      isMoving: false,
    },
    account: { url: `${common.pageUrl}?token=sample`, hours: 48 },
  }
}

function dueItems(kind: MessageKind, language: Language): DueHome['items'] {
  const item = (of: FollowUpKindId, label: string, dueOn: string, isOverdue = false) => ({
    sentence: FOLLOW_UP_KINDS[of].reason({ label, dueOn: day(dueOn), assumed: false, severity: 'repair' })[
      language
    ],
    isOverdue,
  })
  if (kind === 'safety-tips') return [item('self-test-tips', '', '2026-06-01')]
  const finding = { itemId: 'receptacles.device', text: 'Outlet loose in its box beside the sink.' }
  return [
    item('alarm-end-of-life', { en: 'Hall', es: 'Pasillo' }[language], '2026-05-20', true),
    item('alarm-end-of-life', { en: 'Bedroom', es: 'Dormitorio' }[language], '2026-06-20'),
    item('open-finding', findingInWords(finding, language), '2026-06-12'),
    item('re-inspection', '', '2026-06-28'),
  ]
}

function dangerHome(language: Language): DangerHome {
  const finding = { itemId: 'receptacles.device', text: 'Bare live conductor behind the dryer outlet.' }
  const makeSafe = quoted('Breaker 14 switched off and tagged.', 'technician', language)
  return { address: ADDRESS, items: [{ what: findingAsLine(finding, language), makeSafe }] }
}

/** Facts to try a wording with: as usual, as few and as many as there can be. `when` ends a sentence. */
export function samples(common: CommonFacts, kind: MessageKind, language: Language) {
  const usual = sampleFacts(common, kind, language)
  return [
    { when: 'with the made-up home', facts: usual },
    { when: 'when little is known and only one thing is to be told', facts: sparse(usual) },
    { when: 'when as much as possible is to be told, of two homes', facts: full(usual) },
  ]
}

function sparse(usual: LetterFacts): LetterFacts {
  const { visit, homes, report, estimate, request } = usual
  const [home] = homes as [DueHome | DangerHome]
  const [item] = home.items
  const only =
    'makeSafe' in item!
      ? { ...item, makeSafe: '' }
      : { ...(item as DueHome['items'][number]), isOverdue: false }
  return {
    ...usual,
    visit: { ...visit!, reason: '' },
    homes: [{ ...home, items: [only] } as DueHome],
    count: 1,
    isOne: true,
    report: { ...report!, findings: 0, unsafe: 0 },
    estimate: { ...estimate!, until: '', hasOptions: false },
    request: { ...request!, reason: '', days: '', time: '' },
  }
}

/** A letter tells of no more than so many things (facts.ts); long names beside. */
const MANY = 40

function full(usual: LetterFacts): LetterFacts {
  const [home] = usual.homes as [DueHome | DangerHome]
  const some = home.items as DueHome['items']
  const items = Array.from({ length: MANY / 2 }, (_, n) => some[n % some.length]!)
  return {
    ...usual,
    to: { name: 'Maximiliana Featherstonehaugh-Villaseñor & Sons, Trustees' },
    homes: [ADDRESS, OTHER_ADDRESS].map((address) => ({ address, items })) as DueHome[],
    count: MANY + 160,
    isOne: false,
    isManyHomes: true,
    more: 160,
  }
}
