import type { Language } from '../../trade/day-in-words.ts'
import type { FollowUpKindId } from '../../trade/follow-ups/kind.ts'

export interface ScriptWords {
  greeting: (company: string, customer: string) => string
  owner: string
  about: (line1: string, city: string, reason: string) => string
  doNotUse: string
  emergency: string
  written: (times: number, day: string, letter: string | null) => string
  answered: (day: string) => string
  noMail: string
  alsoSeenTo: (named: string) => string
  andMore: (count: number) => string
  when: string
  /** What the office cannot know from here. */
  questions: Partial<Record<FollowUpKindId, string>>
}

/** What is said on the phone, in the language of the customer. */
export const SCRIPT: Readonly<Record<Language, ScriptWords>> = {
  en: {
    greeting: (company, customer) => `Good day, this is ${company}. Am I speaking with ${customer}?`,
    owner: 'the owner of the home',
    about: (line1, city, reason) => `It is about ${line1} in ${city}. ${reason}`,
    doNotUse:
      'Please do not use that part until it is put right. Does what was done to make it safe still hold?',
    emergency: 'If you smell burning, see sparks or feel a shock: everybody out of the house, and call 911.',
    written: (times, day, letter) =>
      `We wrote to you ${times === 1 ? 'once' : `${times} times`}, last on ${day}${letter ? `, “${letter}”` : ''}. Did it reach you?`,
    answered: (day) => `On ${day} you answered on your page. Is that still so?`,
    noMail: 'Our mail does not reach you. Which e-mail address may we note down?',
    alsoSeenTo: (named) => `One visit could see to this as well: ${named}.`,
    andMore: (count) => ` and ${count} more`,
    when: 'When would a visit suit you?',
    questions: {
      'alarm-end-of-life': 'Has it been replaced? If not: does it sound when you press its test button?',
      'alarm-undated': 'Is a date printed on its back? Does it sound when you press its test button?',
      'alarm-battery': 'Has the battery been changed? Does the alarm sound when you press its test button?',
      'surge-check': 'Looking from outside only: is its lamp or window lit, usually green?',
      'surge-after-event': 'Looking from outside only: is its lamp or window lit, usually green?',
      'surge-failed': 'Has it been replaced, and by whom? Please do not open the panel.',
      'open-finding': 'Has it been put right, and by whom?',
      'make-safe-check': 'Have you read our warning, and does everybody who lives there know of it?',
      'estimate-unanswered': 'Is there anything in our estimate that you would like explained?',
      're-inspection': 'Has anything been altered in the electrical installation since we were there?',
      'no-access-rebooking': 'When is somebody at home?',
    },
  },
  es: {
    greeting: (company, customer) => `Buenos días, le llamamos de ${company}. ¿Hablo con ${customer}?`,
    owner: 'la persona propietaria de la vivienda',
    about: (line1, city, reason) => `Se trata de ${line1}, en ${city}. ${reason}`,
    doNotUse:
      'No use esa parte, por favor, hasta que esté arreglada. ¿Sigue en pie lo que se hizo para ponerla en seguro?',
    emergency: 'Si huele a quemado, ve chispas o nota una descarga: salgan todos de la casa y llamen al 911.',
    written: (times, day, letter) =>
      `Le escribimos ${times === 1 ? 'una vez' : `${times} veces`}, la última el ${day}${letter ? `: «${letter}»` : ''}. ¿Le llegó?`,
    answered: (day) => `El ${day} usted respondió en su página. ¿Sigue siendo así?`,
    noMail: 'Nuestro correo no le llega. ¿Qué dirección de correo electrónico podemos anotar?',
    alsoSeenTo: (named) => `En una sola visita podríamos ver también esto: ${named}.`,
    andMore: (count) => ` y ${count} más`,
    when: '¿Cuándo le vendría bien una visita?',
    questions: {
      'alarm-end-of-life': '¿Ya se cambió? Si no: ¿suena al pulsar el botón de prueba?',
      'alarm-undated': '¿Tiene una fecha impresa por detrás? ¿Suena al pulsar el botón de prueba?',
      'alarm-battery': '¿Se cambió la pila? ¿Suena la alarma al pulsar el botón de prueba?',
      'surge-check': 'Mirando solo desde fuera: ¿está encendida su luz o ventanilla, normalmente verde?',
      'surge-after-event':
        'Mirando solo desde fuera: ¿está encendida su luz o ventanilla, normalmente verde?',
      'surge-failed': '¿Se cambió, y quién lo hizo? No abra el panel eléctrico, por favor.',
      'open-finding': '¿Se ha arreglado, y quién lo hizo?',
      'make-safe-check': '¿Leyó nuestro aviso, y lo conocen todos los que viven allí?',
      'estimate-unanswered': '¿Hay algo de nuestro presupuesto que quiera que le expliquemos?',
      're-inspection': '¿Se ha cambiado algo en la instalación eléctrica desde que estuvimos allí?',
      'no-access-rebooking': '¿Cuándo hay alguien en casa?',
    },
  },
}
