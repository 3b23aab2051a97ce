import { isDeepStrictEqual } from 'node:util'
import type { FieldOperationInput } from '../../../server/field/operation-schema.ts'
import type { PackVisit } from '../../../server/field/pack-schema.ts'
import { CHECKLIST } from '../../../trade/checklist/checklist.ts'
import type { Home } from '../../../trade/home.ts'
import { whatIsOpen } from '../../../trade/inspection/completeness.ts'
import { impliedAnswers } from '../../../trade/inspection/covers.ts'
import { linesOf } from '../../../trade/inspection/lines.ts'
import { recordedAgain, type TwiceKind } from '../../../trade/inspection/recorded-twice.ts'
import { mayTake, VISIT_STEPS, type VisitState, type VisitStep } from '../../../trade/visits.ts'

type Values = Record<string, unknown>
type Versioned = Values & { version: number }
/** A device, or the desk. */
export type Who = object

interface LastWrite {
  /** The operation. */
  id: string
  who: Who
  version: number | null
}
export interface Other {
  kind: TwiceKind
  subject: string
  record: Values
  choice: 'keep' | 'use' | null
}

class Refusal extends Error {}
const refuse = (why: string): never => {
  throw new Refusal(why)
}

/**
 * What the office must hold after everything that reached it, in the order in which it did: plain maps, no database, no
 * retries. Each operation counts once, however often it comes. Written from what the field sheet promises, not from the
 * server's code; what is complete is asked of trade/.
 */
export class Model {
  readonly home: PackVisit
  inspectionId: string | null = null
  readonly #aliases = new Map<string, string>()
  state: 'open' | 'completed' = 'open'
  note = ''
  visit: { state: VisitState; version: number }
  readonly answers = new Map<string, Versioned>()
  readonly findings = new Map<string, Versioned>()
  readonly spaces = new Map<string, Versioned>()
  readonly equipment = new Map<string, Versioned>()
  readonly others = new Map<string, Other>()
  /** Operation → applied, or the type of its problem. */
  readonly outcomes = new Map<string, string>()
  readonly #stepKeys = new Set<string>()
  readonly #last = new Map<string, LastWrite>()
  readonly #fields = new Map<string, Who>()

  constructor(home: PackVisit) {
    this.home = home
    this.visit = { state: home.state as VisitState, version: home.version }
    for (const each of home.spaces) this.spaces.set(each.id, { ...each })
    for (const each of home.equipment) this.equipment.set(each.id, { ...each })
  }

  /** @returns whether it was new, and what comes of it */
  take(operation: FieldOperationInput, who: Who): { isNew: boolean; outcome: string } {
    const known = this.outcomes.get(operation.id)
    if (known) return { isNew: false, outcome: known }
    let outcome = 'applied'
    try {
      this.#apply(operation, who)
    } catch (error) {
      if (!(error instanceof Refusal)) throw error
      outcome = error.message
    }
    this.outcomes.set(operation.id, outcome)
    return { isNew: true, outcome }
  }

  takeStep(step: VisitStep, key: string): void {
    const { to } = VISIT_STEPS[step]
    if (this.#stepKeys.has(key)) return
    if (this.visit.state !== to) {
      if (!mayTake(step, this.visit.state)) return
      this.visit = { state: to, version: this.visit.version + 1 }
    }
    this.#stepKeys.add(key)
  }

  reopen(): void {
    if (this.state === 'completed') this.state = 'open'
  }

  /** An answer given at a desk by the office. @returns whether one was replaced unseen */
  deskAnswers(key: string, given: Values, base: number | null): boolean {
    const before = this.answers.get(key)
    const version = (before?.version ?? 0) + 1
    this.answers.set(key, { ...given, version, by: 'office' })
    if (!before || before['by'] === 'office') return false
    this.#last.set(`answer:${key}`, { id: `desk ${key} ${version}`, who: this, version })
    return before.version !== (base ?? 0) && !isSame(ANSWER, before, given)
  }

  /** Under which id the office keeps what the desk replaced unseen. */
  deskReplaced(id: string, key: string, before: Versioned): void {
    const subject = `answer:${key}`
    this.#keep(id, 'answer', subject, before)
    this.#last.set(subject, { ...this.#last.get(subject)!, id })
  }

  #apply(operation: FieldOperationInput, who: Who): void {
    const { command, payload } = operation
    if (command === 'start-inspection') {
      if (!this.inspectionId) this.inspectionId = operation.inspectionId
      else this.#aliases.set(operation.inspectionId, this.inspectionId)
      return
    }
    const id = this.#aliases.get(operation.inspectionId) ?? operation.inspectionId
    if (id !== this.inspectionId) refuse('not-found')
    const keeps = command === 'choose-recorded' && payload.choice === 'keep'
    if (this.state !== 'open' && !keeps) refuse('wrong-state')
    this.#write(operation, who)
  }

  #write(operation: FieldOperationInput, who: Who): void {
    const base = operation.base ?? null
    switch (operation.command) {
      case 'answer-item': {
        const { payload } = operation
        const key = `${payload.itemId}@${payload.subjectId ?? 'home'}`
        if (payload.subjectKind === 'equipment' && !this.#inUse(payload.subjectId)) refuse('invalid-request')
        const before = this.answers.get(key)
        const answer = { ...payload, version: (before?.version ?? 0) + 1, by: 'technician' }
        if (before) {
          if (!isSame(ANSWER, before, answer))
            this.#offer(operation, `answer:${key}`, before, base, who, 'answer')
        } else
          this.#offerRemoval(operation, `answer:${key}`, { ...payload, result: null }, base, who, 'answer')
        this.answers.set(key, answer)
        return this.#wrote(operation.id, `answer:${key}`, who, answer.version)
      }
      case 'clear-answer': {
        const key = `${operation.payload.itemId}@${operation.payload.subjectId ?? 'home'}`
        const before = this.answers.get(key)
        if (before) this.#offer(operation, `answer:${key}`, before, base, who, 'answer')
        this.answers.delete(key)
        return this.#wrote(operation.id, `answer:${key}`, who, null)
      }
      case 'save-finding': {
        const { findingId, ...said } = operation.payload
        const before = this.findings.get(findingId)
        const subject = `finding:${findingId}`
        if (before) {
          if (!isSame(FINDING, before, said)) this.#offer(operation, subject, before, base, who, 'finding')
        } else this.#offerRemoval(operation, subject, { id: findingId, removed: true }, base, who, 'finding')
        const version = (before?.version ?? 0) + 1
        this.findings.set(findingId, { ...NOTHING_MORE, id: findingId, ...said, version })
        return this.#wrote(operation.id, subject, who, version)
      }
      case 'remove-finding': {
        const { findingId } = operation.payload
        const subject = `finding:${findingId}`
        const before = this.findings.get(findingId)
        if (before) this.#offer(operation, subject, before, base, who, 'finding')
        this.findings.delete(findingId)
        return this.#wrote(operation.id, subject, who, null)
      }
      case 'add-space': {
        const { space } = operation.payload
        this.spaces.set(space.id, { ...space, version: 1 })
        return this.#wrote(operation.id, `space:${space.id}`, who, 1)
      }
      case 'change-space': {
        const { spaceId, changes } = operation.payload
        return this.#change(operation, 'space', this.spaces, spaceId, { ...changes }, who)
      }
      case 'add-equipment': {
        const { equipment } = operation.payload
        this.equipment.set(equipment.id, { details: {}, ...equipment, version: 1 })
        return this.#wrote(operation.id, `equipment:${equipment.id}`, who, 1)
      }
      case 'change-equipment': {
        const { equipmentId, changes } = operation.payload
        if (!this.#inUse(equipmentId)) refuse('wrong-state')
        return this.#change(operation, 'equipment', this.equipment, equipmentId, { ...changes }, who)
      }
      case 'retire-equipment': {
        const { equipmentId } = operation.payload
        if (!this.#inUse(equipmentId)) refuse('wrong-state')
        const thing = this.equipment.get(equipmentId)!
        this.equipment.set(equipmentId, { ...thing, retiredOn: 'then', version: thing.version + 1 })
        return this.#wrote(operation.id, `equipment:${equipmentId}`, who, thing.version + 1)
      }
      case 'note-inspection': {
        const { note } = operation.payload
        const last = this.#last.get('note')
        if (this.note !== '' && this.note !== note && last && last.who !== who) {
          this.#keep(operation.id, 'note', 'note', { note: this.note })
        }
        this.note = note
        return this.#wrote(operation.id, 'note', who, null)
      }
      case 'choose-recorded': {
        const { alternativeId, choice } = operation.payload
        const other = this.others.get(alternativeId) ?? refuse('not-found')
        if (other.choice === 'use' || other.choice === choice) return
        if (choice === 'use') {
          // Both are before whoever chooses, unless somebody wrote after the one that replaced it.
          const hasSeen = this.#last.get(other.subject)?.id === alternativeId
          this.#write(
            { ...operation, ...recordedAgain(other.kind, other.record) } as FieldOperationInput,
            who,
          )
          if (hasSeen) this.others.delete(operation.id)
        }
        other.choice = choice
        return
      }
      case 'complete-inspection':
        return this.#complete()
      default:
        throw new Error(`the model knows nothing of ${operation.command}`)
    }
  }

  /** Fields that only one of two named merge; of the same field the earlier value is offered. */
  #change(
    { id, base = null }: FieldOperationInput,
    kind: 'space' | 'equipment',
    things: Map<string, Versioned>,
    thingId: string,
    { details, ...plain }: Values,
    who: Who,
  ): void {
    const before = things.get(thingId)!
    const subject = `${kind}:${thingId}`
    const replacedOf = (named: Values, stood: Values) =>
      Object.fromEntries(
        Object.entries(named).flatMap(([field, value]) => {
          const writer = this.#fields.get(`${subject}.${field}`)
          this.#fields.set(`${subject}.${field}`, who)
          const stands = stood[field] ?? null
          const isReplaced = before.version !== base && writer && writer !== who
          return isReplaced && !isDeepStrictEqual(stands, value ?? null) ? [[field, stands]] : []
        }),
      )
    const changes = replacedOf(plain, before)
    const changedDetails = replacedOf((details ?? {}) as Values, (before['details'] ?? {}) as Values)
    if (Object.keys(changedDetails).length > 0) changes['details'] = changedDetails
    if (Object.keys(changes).length > 0) this.#keep(id, kind, subject, { id: thingId, changes })
    const merged = { ...(before['details'] as Values), ...(details as Values | undefined) }
    things.set(thingId, {
      ...before,
      ...plain,
      ...(kind === 'equipment' && { details: withoutNull(merged) }),
      version: before.version + 1,
    })
    this.#wrote(id, subject, who, before.version + 1)
  }

  #complete(): void {
    const home = this.tradeHome()
    const lines = linesOf(home, CHECKLIST)
    const answers = [...this.answers.values()] as never[]
    const findings = [...this.findings.values()].map((each) => ({ ...each, state: 'open' })) as never[]
    const open = whatIsOpen({ home, lines, answers, findings, carried: [], reviews: [] })
    if (open.length > 0) refuse('inspection-incomplete')
    const lookedAt = new Set(
      (answers as Values[]).flatMap((each) =>
        ['ok', 'finding'].includes(String(each['result'])) ? [each['subjectId']] : [],
      ),
    )
    for (const each of impliedAnswers(lines, answers, home)) {
      this.answers.set(`${each.itemId}@${each.subjectId ?? 'home'}`, {
        ...each,
        version: 1,
        by: 'technician',
      })
    }
    for (const [id, thing] of this.equipment) {
      if (this.#inUse(id) && lookedAt.has(id))
        this.equipment.set(id, { ...thing, version: thing.version + 1 })
    }
    if (this.visit.state !== 'finished') this.visit = { state: 'finished', version: this.visit.version + 1 }
    this.state = 'completed'
  }

  tradeHome(): Home {
    const inUse = [...this.equipment.values()].filter((each) => !each['retiredOn'])
    return {
      property: this.home.property,
      spaces: [...this.spaces.values()],
      equipment: inUse,
    } as unknown as Home
  }

  #inUse(id: string | null | undefined): boolean {
    const thing = this.equipment.get(id ?? '')
    return thing !== undefined && !thing['retiredOn']
  }

  /** The record that stood was written by somebody else, and the person had not seen it. */
  #offer(
    { id }: FieldOperationInput,
    subject: string,
    before: Versioned,
    base: number | null,
    who: Who,
    kind: TwiceKind,
  ): void {
    if (before.version === base) return
    const last = this.#last.get(subject)
    const isUnseen = last
      ? last.who !== who || (last.version !== null && last.version !== before.version)
      : base !== null || kind === 'answer'
    if (isUnseen) this.#keep(id, kind, subject, before)
  }

  /** The person had seen something that somebody else took away since. */
  #offerRemoval(
    { id }: FieldOperationInput,
    subject: string,
    record: Values,
    base: number | null,
    who: Who,
    kind: TwiceKind,
  ): void {
    const last = this.#last.get(subject)
    if (base !== null && last && last.who !== who) this.#keep(id, kind, subject, record)
  }

  #keep(id: string, kind: TwiceKind, subject: string, record: Values): void {
    this.others.set(id, { kind, subject, record, choice: null })
  }

  #wrote(id: string, subject: string, who: Who, version: number | null): void {
    this.#last.set(subject, { id, who, version })
  }
}

/** A finding of which only the severity and a text were said. */
const NOTHING_MORE = {
  spaceId: null,
  equipmentId: null,
  proposedSeverity: null,
  loweredReason: null,
  makeSafe: null,
  refusal: null,
  watchUntil: null,
}

export const ANSWER = ['result', 'notReachedReason', 'note', 'readings']
export const FINDING = ['itemId', 'severity', 'text', 'correction']

/** The fields that count, what is not said and null alike. */
export function said(fields: readonly string[], record: Values): Values {
  return Object.fromEntries(
    fields.flatMap((name) => {
      const value = record[name] ?? null
      const isEmpty = value === null || value === '' || isDeepStrictEqual(value, {})
      return isEmpty ? [] : [[name, value]]
    }),
  )
}

const isSame = (fields: readonly string[], a: Values, b: Values) =>
  isDeepStrictEqual(said(fields, a), said(fields, b))

const withoutNull = (values: Values) =>
  Object.fromEntries(Object.entries(values).filter(([, value]) => value !== null))
