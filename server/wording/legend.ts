import type { MessageKind } from '../messages/categories.ts'
import type { LetterFacts } from '../messages/render/facts.ts'
import { KINDS_WITH_CAUTION, KNOWN_BLOCKS } from './known-blocks.ts'
import { KNOWN_FIELDS, type KnownFields } from './known-fields.ts'
import type { WordingView } from './schema.ts'

type FieldView = WordingView['fields'][number]

/** What a letter may tell, each with what it is for the made-up home. */
export function fieldsOf(kind: MessageKind, sample: LetterFacts): FieldView[] {
  return listed(KNOWN_FIELDS[kind], sample, null)
}

function listed(fields: KnownFields, facts: unknown, within: string | null): FieldView[] {
  return Object.entries(fields).flatMap(([name, field]): FieldView[] => {
    const value = valueAt(facts, name)
    const { is, about } = field
    const mayBeEmpty = 'mayBeEmpty' in field
    const own = { name, is, about, mayBeEmpty, within, example: exampleOf(value) }
    if (field.is !== 'list') return [own]
    return [own, ...listed(field.of, (value as unknown[])[0], name)]
  })
}

function valueAt(facts: unknown, name: string): unknown {
  return name.split('.').reduce((each, part) => (each as Record<string, unknown> | undefined)?.[part], facts)
}

function exampleOf(value: unknown): string {
  if (Array.isArray(value)) return String(value.length)
  if (typeof value === 'boolean') return value ? 'yes' : 'no'
  return String(value ?? '')
}

/** The blocks that a letter of that kind may be made of. */
export function blocksOf(kind: MessageKind): WordingView['blocks'] {
  const blocks = Object.entries(KNOWN_BLOCKS).map(([name, { about, example }]) => ({ name, about, example }))
  if (!KINDS_WITH_CAUTION.includes(kind)) return blocks
  const about = 'Words of caution that come with the program; they cannot be changed or left out'
  return [...blocks, { name: 'caution', about, example: '{{caution}}' }]
}
