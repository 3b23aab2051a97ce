import { addDays, addMonths, type Day, daysBetween } from '../dates.ts'
import type { Cadence, Channel, FollowUpKindId } from './kind.ts'
import { repeatsUntil } from './repeats.ts'

/** A notice on a calendar day. */
export interface Notice {
  /** Names the step among those of its follow-up: `-30`, `0`, `+14`, `+12m`, `+3d`. Stored as the last step sent. */
  step: string
  on: Day
  by: readonly Channel[]
}

/**
 * The notice to give today: the latest whose day has come, unless it or a later one has been given. One that was missed,
 * because the worker was down or the follow-up began late, is never made up for.
 */
export function noticeDue(dueOn: Day, cadence: Cadence, today: Day, lastStep: string | null): Notice | null {
  const latest = latestNotice(dueOn, cadence, today)
  if (!latest) return null
  const given = lastStep === null ? null : dayOfStep(dueOn, lastStep)
  return given !== null && given >= latest.on ? null : latest
}

/** First notice after what was given, and after `after`: the day on which the engine has to look again. */
export function nextNotice(dueOn: Day, cadence: Cadence, after: Day, lastStep: string | null): Notice | null {
  const given = lastStep === null ? null : dayOfStep(dueOn, lastStep)
  const from = given !== null && given > after ? given : after
  const step = ordered(cadence).find((each) => addDays(dueOn, each.days) > from)
  if (step) return atStep(dueOn, step)
  if (!cadence.then) return null
  return repeatNotice(dueOn, cadence.then, repeatsBy(dueOn, cadence.then, from) + 1)
}

/** The day on which a follow-up begins to speak: no record is needed before. */
export function opensOn(dueOn: Day, cadence: Cadence): Day {
  const first = ordered(cadence)[0]
  return first ? addDays(dueOn, first.days) : dueOn
}

/** One message per follow-up and step, whatever crashes: unique in the outbox. */
export function noticeKey(kind: FollowUpKindId, subjectId: string, dueOn: Day, step: string): string {
  return `${kind}/${subjectId}/${dueOn}/${step}`
}

/** The calendar day that a step names, also where the policy no longer has it; null when it names none. */
export function dayOfStep(dueOn: Day, step: string): Day | null {
  const match = /^([+-]?\d+)([dm]?)$/.exec(step)
  if (!match) return null
  const count = Number(match[1])
  return match[2] === 'm' ? addMonths(dueOn, count) : addDays(dueOn, count)
}

/** Sorted once: every follow-up of a kind asks. */
const sorted = new WeakMap<Cadence, readonly Cadence['steps'][number][]>()

function ordered(cadence: Cadence): readonly Cadence['steps'][number][] {
  let steps = sorted.get(cadence)
  if (!steps) sorted.set(cadence, (steps = [...cadence.steps].sort((a, b) => a.days - b.days)))
  return steps
}

function latestNotice(dueOn: Day, cadence: Cadence, today: Day): Notice | null {
  const come = ordered(cadence).filter((each) => addDays(dueOn, each.days) <= today)
  const step = come.at(-1)
  const fixed = step ? atStep(dueOn, step) : null
  const isPastFixed = come.length === cadence.steps.length
  if (!cadence.then || !isPastFixed) return fixed
  const repeated = repeatNotice(dueOn, cadence.then, repeatsBy(dueOn, cadence.then, today))
  const isLater = repeated.on > later(dueOn, fixed?.on ?? dueOn)
  return isLater ? repeated : fixed
}

function atStep(dueOn: Day, step: Cadence['steps'][number]): Notice {
  const sign = step.days > 0 ? '+' : ''
  return { step: `${sign}${step.days}`, on: addDays(dueOn, step.days), by: step.by }
}

type Repeat = NonNullable<Cadence['then']>

function repeatsBy(dueOn: Day, { every, unit }: Repeat, today: Day): number {
  if (today < dueOn) return 0
  return unit === 'months' ? repeatsUntil(dueOn, every, today) : Math.floor(daysBetween(dueOn, today) / every)
}

function repeatNotice(dueOn: Day, { every, unit, by }: Repeat, times: number): Notice {
  const count = every * times
  const on = unit === 'months' ? addMonths(dueOn, count) : addDays(dueOn, count)
  return { step: `+${count}${unit === 'months' ? 'm' : 'd'}`, on, by }
}

function later(a: Day, b: Day): Day {
  return a > b ? a : b
}
