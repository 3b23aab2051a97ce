import { addYears, type Day, earliest } from '../dates.ts'
import { dayInWords } from '../day-in-words.ts'
import type { EquipmentOf } from '../equipment.ts'
import type { Reference } from '../verdict.ts'
import { meaningOf } from './label-words.ts'
import {
  CO_ASSUMED_LIFE,
  CO_LIFE,
  HEAT_LIFE,
  HEAT_LIFE_YEARS,
  type Senses,
  SMOKE_LIFE,
  SMOKE_LIFE_YEARS,
  UNDATED,
} from './life-figures.ts'
import { parseLabel, readingsOf } from './parse-label.ts'

/** What is known of the age of one alarm. */
export interface AlarmAge {
  senses: Senses | null
  manufacturedOn: Day | null
  installedOn: Day | null
  /** As printed on the label, kept word for word. */
  labelText: string | null
  makerLifeYears: number | null
  coLifeYears: number | null
}

export interface Replacement {
  /** Last day of service. Null = nothing tells the age, so it must be replaced now. */
  replaceBy: Day | null
  /** The day rests on something that nobody has read off the alarm. */
  assumed: boolean
  /** How the day was found, one sentence. */
  why: string
  references: Reference[]
}

export function ageOf(
  alarm: Pick<EquipmentOf<'alarm'>, 'details' | 'manufacturedOn' | 'installedOn'>,
): AlarmAge {
  const { details } = alarm
  return {
    senses: details.senses ?? null,
    manufacturedOn: alarm.manufacturedOn,
    installedOn: alarm.installedOn,
    labelText: details.labelText ?? null,
    makerLifeYears: details.makerLifeYears ?? null,
    coLifeYears: details.coLifeYears ?? null,
  }
}

interface Known {
  made: Day | null
  madeAssumed: boolean
  printedEnd: Day | null
  installed: Day | null
  today: Day
}

/**
 * Last day on which an alarm may serve. A label that can be read in several ways counts by the reading that local custom
 * prefers, else by the earliest, until somebody settles it; a combination alarm goes by whichever of its two sensors ends first.
 */
export function alarmReplacement(age: AlarmAge, today: Day, isUs: boolean | null = null): Replacement {
  const known = knownDates(age, today, isUs)
  switch (age.senses) {
    case 'smoke':
      return smoke(age, known)
    case 'co':
      return carbonMonoxide(age, known)
    case 'heat':
      return heat(age, known)
    case 'smoke-and-co':
      return sooner(smoke(age, known), carbonMonoxide(age, known))
    case null: {
      const strictest = sooner(smoke(age, known), carbonMonoxide(age, known))
      return { ...strictest, assumed: true, why: `What it senses is not written down. ${strictest.why}` }
    }
  }
}

function knownDates(age: AlarmAge, today: Day, isUs: boolean | null): Known {
  const context = { today, kindOfAlarm: age.senses, isUs }
  const entered = notAhead(age.manufacturedOn, today)
  // Where the date of manufacture was entered, the label matters only for what else it may say.
  const asksLabel =
    age.labelText !== null && (!entered || age.senses === 'co' || saysMoreThanMade(age.labelText))
  const label = asksLabel ? parseLabel(age.labelText!, context) : null
  const made = label && readingsOf(label, 'manufacture', context)
  const end = label && readingsOf(label, 'replace-by', context)
  const fitted = label && readingsOf(label, 'installed', context)
  return {
    made: entered ?? (made?.chosen ?? made?.earliest)?.day ?? null,
    madeAssumed: !entered && made?.ambiguous === true,
    printedEnd: (end?.chosen ?? end?.earliest)?.day ?? null,
    installed: notAhead(age.installedOn, today) ?? (fitted?.chosen ?? fitted?.earliest)?.day ?? null,
    today,
  }
}

function saysMoreThanMade(labelText: string): boolean {
  const meaning = meaningOf(labelText.toUpperCase())
  return meaning === 'replace-by' || meaning === 'installed'
}

/** A date of manufacture ahead of today is a slip of the pen or of the label: as good as none. */
function notAhead(value: Day | null, today: Day): Day | null {
  return value && value <= today ? value : null
}

function smoke(age: AlarmAge, { made, madeAssumed, printedEnd }: Known): Replacement {
  const years = Math.min(SMOKE_LIFE_YEARS, age.makerLifeYears ?? SMOKE_LIFE_YEARS)
  if (made) {
    const replaceBy = earliest(addYears(made, years), printedEnd)
    const why = `Made ${dayInWords(made, 'en')}; a smoke alarm serves ${years} years from manufacture.`
    return { replaceBy, assumed: madeAssumed, why, references: [SMOKE_LIFE] }
  }
  if (printedEnd) return printed(printedEnd, SMOKE_LIFE)
  return undated('smoke')
}

function carbonMonoxide(age: AlarmAge, { made, madeAssumed, printedEnd, installed }: Known): Replacement {
  if (printedEnd) return printed(printedEnd, CO_LIFE)
  const stated = age.coLifeYears ?? age.makerLifeYears
  const references = [CO_LIFE]
  if (made && stated !== null) {
    const why = `Made ${dayInWords(made, 'en')}; its maker states ${stated} years for the CO sensor.`
    return { replaceBy: addYears(made, stated), assumed: madeAssumed, why, references }
  }
  if (made) {
    const years = CO_ASSUMED_LIFE.find((each) => made >= each.madeSince)!.years
    const why = `Made ${dayInWords(made, 'en')}; no life printed, ${years} years assumed for the CO sensor.`
    return { replaceBy: addYears(made, years), assumed: true, why, references }
  }
  if (installed && stated !== null) {
    const why = `Fitted ${dayInWords(installed, 'en')}, date of manufacture unknown; its maker states ${stated} years for the CO sensor.`
    return { replaceBy: addYears(installed, stated), assumed: false, why, references }
  }
  return undated('CO')
}

function heat(age: AlarmAge, { made, printedEnd }: Known): Replacement {
  if (printedEnd) return printed(printedEnd, HEAT_LIFE)
  if (!made) return undated('heat')
  const years = age.makerLifeYears ?? HEAT_LIFE_YEARS
  const assumed = age.makerLifeYears === null
  const why = `Made ${dayInWords(made, 'en')}; ${years} years ${assumed ? 'assumed for' : 'stated by the maker of'} a heat alarm.`
  return { replaceBy: addYears(made, years), assumed, why, references: [HEAT_LIFE] }
}

function printed(end: Day, reference: Reference): Replacement {
  const why = `The label says to replace it by ${dayInWords(end, 'en')}.`
  return { replaceBy: end, assumed: false, why, references: [reference] }
}

function undated(what: 'smoke' | 'CO' | 'heat'): Replacement {
  const why = `Age of the ${what} alarm unknown: no date of manufacture, so it counts as past its life. Replace it now.`
  return { replaceBy: null, assumed: true, why, references: [UNDATED] }
}

/** Of two lives in one housing the shorter; an unknown one wins, because then its age is unknown. */
function sooner(a: Replacement, b: Replacement): Replacement {
  const references = [...a.references, ...b.references]
  if (!a.replaceBy || !b.replaceBy) return { ...(a.replaceBy ? b : a), references }
  return { ...(b.replaceBy < a.replaceBy ? b : a), references }
}
