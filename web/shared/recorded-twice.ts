import type { EquipmentView, SpaceView } from '../../server/inspections/home-schema.ts'
import type {
  AlternativeView,
  AnswerView,
  FindingView,
  ReviewView,
} from '../../server/inspections/record-schema.ts'
import { findItem } from '../../trade/checklist/checklist.ts'
import { RESULTS } from '../../trade/checklist/item.ts'
import { EQUIPMENT_FIELDS, type EquipmentKind } from '../../trade/equipment.ts'
import type { Field, Fields } from '../../trade/fields.ts'
import { REVIEW_OUTCOMES } from '../../trade/inspection/finding-states.ts'

type Values = Readonly<Record<string, unknown>>

/** What an alternative is held against: the inspection and the home as they are shown. */
export interface Shown {
  note: string
  answers: readonly AnswerView[]
  findings: readonly FindingView[]
  reviews: readonly ReviewView[]
  spaces: readonly SpaceView[]
  equipment: readonly EquipmentView[]
}

export interface OfferedWords {
  /** What both are about. */
  title: string
  /** As it was recorded by the one who came first. */
  other: string
  /** As it stands now. */
  shown: string
  /** Version of what stands now; null where it has none. */
  version: number | null
}

/** What was recorded twice, in the words of the sheet. */
export function offeredWords({ kind, record }: AlternativeView, shown: Shown): OfferedWords {
  switch (kind) {
    case 'answer': {
      const now = shown.answers.find(
        (each) =>
          each.itemId === record['itemId'] && (each.subjectId ?? null) === (record['subjectId'] ?? null),
      )
      const where = nameOf(shown, record['subjectId'])
      const title = findItem(String(record['itemId']))?.title ?? 'Answer'
      return both(
        where ? `${title}: ${where}` : title,
        answerWords(record),
        now && answerWords({ ...now }),
        now,
      )
    }
    case 'finding': {
      const now = shown.findings.find((each) => each.id === record['id'])
      const title = `Finding: ${findItem(String(now?.itemId ?? record['itemId']))?.title ?? ''}`
      return both(title, findingWords(record), now && findingWords({ ...now }), now)
    }
    case 'review': {
      const now = shown.reviews.find((each) => each.findingId === record['findingId'])
      return both('Earlier finding', reviewWords(record), now && reviewWords({ ...now }))
    }
    case 'space': {
      const now = shown.spaces.find((each) => each.id === record['id'])
      return ofThing(record, now && { ...now }, {})
    }
    case 'equipment': {
      const now = shown.equipment.find((each) => each.id === record['id'])
      return ofThing(record, now && { ...now }, now ? EQUIPMENT_FIELDS[now.kind as EquipmentKind] : {})
    }
    case 'photo':
      return both('Words on a picture', String(record['caption'] || 'marks only'), undefined)
    case 'work-declined':
      return both('Work declined', `signed by ${String(record['name'])}`, undefined)
    case 'note':
      return both('Note', String(record['note']), shown.note)
  }
}

function both(
  title: string,
  other: string,
  shown: string | undefined,
  now?: { version: number } | undefined,
): OfferedWords {
  return { title, other, shown: shown || 'nothing', version: now?.version ?? null }
}

function nameOf({ spaces, equipment }: Shown, id: unknown): string {
  const space = spaces.find((each) => each.id === id)
  return space?.name ?? equipment.find((each) => each.id === id)?.label ?? ''
}

function answerWords(answer: Values): string {
  const result = answer['result'] as keyof typeof RESULTS | null | undefined
  if (!result) return 'taken back, no answer'
  const fields: Fields = findItem(String(answer['itemId']))?.readings ?? {}
  const readings = Object.entries((answer['readings'] ?? {}) as Values).map(([name, value]) =>
    fieldWords(name, value, fields[name]),
  )
  return joined([RESULTS[result], ...readings, answer['note']])
}

function findingWords(finding: Values): string {
  if (finding['removed'] === true) return 'removed'
  return joined([finding['severity'], finding['text'], finding['correction'], finding['makeSafe']])
}

function reviewWords(review: Values): string {
  return joined([REVIEW_OUTCOMES[review['outcome'] as keyof typeof REVIEW_OUTCOMES], review['note']])
}

const PLAIN: Readonly<Record<string, string>> = {
  name: 'Name',
  label: 'Name',
  kind: 'Kind',
  level: 'Level',
  areaSqFt: 'Area in ft²',
  hasSink: 'Sink',
  hasTubOrShower: 'Tub or shower',
  hasFuelBurner: 'Burns fuel',
  sleepingArea: 'Sleeping area',
  manufacturedOn: 'Made on',
  installedOn: 'Installed on',
  spaceId: 'Room',
  parentId: 'Fed from',
}

/** Field by field: only those of which both said something. */
function ofThing(record: Values, now: Values | undefined, fields: Fields): OfferedWords {
  const { details = {}, ...plain } = record['changes'] as Values
  const stood = (now?.['details'] ?? {}) as Values
  const words = (values: Values, of: Values) => [
    ...Object.keys(plain).map((name) => fieldWords(PLAIN[name] ?? name, values[name], undefined)),
    ...Object.keys(details as Values).map((name) => fieldWords(name, of[name], fields[name])),
  ]
  return both(
    String(now?.['name'] ?? now?.['label'] ?? 'What is at this home'),
    joined(words(plain, details as Values)),
    now && joined(words(now, stood)),
    now as { version: number } | undefined,
  )
}

function fieldWords(name: string, value: unknown, field: Field | undefined): string {
  const words =
    value === null || value === undefined
      ? 'not known'
      : typeof value === 'boolean'
        ? value
          ? 'yes'
          : 'no'
        : field?.type === 'choice'
          ? (field.options[String(value)] ?? String(value))
          : String(value)
  return `${field?.label ?? name}: ${words}`
}

const joined = (parts: readonly unknown[]) => parts.filter(Boolean).join(' · ')
