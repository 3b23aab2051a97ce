import { day } from '../../trade/dates.ts'
import { FOLLOW_UP_KINDS } from '../../trade/follow-ups/kinds.ts'
import type { FollowUpKindId } from '../../trade/follow-ups/kind.ts'
import type { Language } from '../../trade/follow-ups/words.ts'
import type { MessageKind } from './categories.ts'
import type { CommonFacts, LetterFacts } from './render/facts.ts'
import { windowInWords } from './render/words.ts'

/** Made-up facts of a made-up home: what any kind of letter looks like, in either language. */
export function sampleFacts(common: CommonFacts, kind: MessageKind, language: Language): LetterFacts {
  const address = '14 Quay Lane, Port Ansel'
  const window = windowInWords(
    new Date('2026-06-04T13:00:00Z'),
    new Date('2026-06-04T15:00:00Z'),
    'America/New_York',
    language,
  )
  const sentence = (of: FollowUpKindId, label: string, dueOn: string, assumed = false) =>
    FOLLOW_UP_KINDS[of].reason({ label, dueOn: day(dueOn), assumed, severity: 'repair' })[language]
  const hall = { en: 'Hall', es: 'Pasillo' }[language]
  const bedroom = { en: 'Bedroom', es: 'Dormitorio' }[language]
  const item = (text: string, isOverdue = false) => ({ sentence: text, isOverdue })
  const due =
    kind === 'safety-tips'
      ? [item(sentence('self-test-tips', '', '2026-06-01'))]
      : [
          item(sentence('alarm-end-of-life', hall, '2026-05-20'), true),
          item(sentence('alarm-end-of-life', bedroom, '2026-06-20')),
          item(sentence('surge-check', { en: 'Panel', es: 'Cuadro' }[language], '2026-06-12')),
          item(sentence('re-inspection', '', '2026-06-28')),
        ]
  return {
    ...common,
    visit: {
      ...window,
      kind: { en: 'inspection', es: 'inspección' }[language],
      address,
      technician: 'Jo Marsh',
      minutes: 105,
      reason: { en: 'Our technician is ill.', es: 'Nuestro técnico está enfermo.' }[language],
    },
    homes:
      kind === 'unsafe-finding'
        ? [
            {
              address,
              items: [
                {
                  text: {
                    en: 'Bare live conductor behind the dryer outlet',
                    es: 'Conductor desnudo con corriente detrás de la toma de la secadora',
                  }[language],
                  makeSafe: {
                    en: 'Breaker 14 switched off and tagged.',
                    es: 'Interruptor 14 desconectado y señalado.',
                  }[language],
                },
              ],
            },
          ]
        : [{ address, items: due }],
    count: due.length,
    isOne: due.length === 1,
    more: 0,
    report: {
      address,
      inspectedOn: { en: 'June 4, 2026', es: '4 de junio de 2026' }[language],
      version: 1,
      findings: 5,
      unsafe: 1,
    },
    request: {
      address,
      reason: { en: 'Lights flicker in the kitchen', es: 'Las luces de la cocina parpadean' }[language],
      days: window.day,
      time: { en: 'Mornings', es: 'Por la mañana' }[language],
    },
    account: { url: `${common.pageUrl}?token=sample`, hours: 48 },
  }
}
