import type { FollowUpKindId, Words } from './kind.ts'

/** What each kind is called to the people who live there. */
export const TITLES: Readonly<Record<FollowUpKindId, Words>> = {
  'alarm-end-of-life': { en: 'Replace an alarm', es: 'Cambiar una alarma' },
  'alarm-battery': { en: 'Change a battery', es: 'Cambiar una pila' },
  'alarm-undated': { en: 'An alarm of unknown age', es: 'Una alarma de edad desconocida' },
  'surge-check': { en: 'Look at the surge protector', es: 'Mirar el protector contra sobretensiones' },
  'surge-after-event': { en: 'Look at the surge protector', es: 'Mirar el protector contra sobretensiones' },
  'surge-failed': { en: 'Replace the surge protector', es: 'Cambiar el protector contra sobretensiones' },
  'self-test-tips': { en: 'Press the test buttons', es: 'Pulsar los botones de prueba' },
  're-inspection': { en: 'The next inspection', es: 'La próxima inspección' },
  'open-finding': { en: 'Something that we found', es: 'Algo que encontramos' },
  'estimate-unanswered': { en: 'Our estimate', es: 'Nuestro presupuesto' },
  'make-safe-check': { en: 'A hazard', es: 'Un peligro' },
  'visit-confirmation': { en: 'Your visit', es: 'Su visita' },
  'visit-reminder': { en: 'Your visit', es: 'Su visita' },
  'no-access-rebooking': { en: 'Choose another time', es: 'Elegir otro momento' },
}
