import { keepPreviousData, queryOptions } from '@tanstack/react-query'
import type { MessageSummary } from '../../../server/messages/schema.ts'
import type {
  ShownLetter,
  WordingSummary,
  WordingVersionView,
  WordingView,
} from '../../../server/wording/schema.ts'
import { ApiProblem, http } from '../../shared/api/http.ts'
import type { Paged } from '../../shared/api/visits.ts'

export type Words = WordingView['words']
export interface LetterName {
  kind: WordingView['kind']
  language: WordingView['language']
}

export const pathOf = ({ kind, language }: LetterName) => `/wordings/${kind}/${language}`

export const wordingQueries = {
  all: () => ['wordings'] as const,
  list: () =>
    queryOptions({
      queryKey: [...wordingQueries.all(), 'list'],
      queryFn: () => http.get<WordingSummary[]>('/wordings'),
    }),
  one: (letter: LetterName) =>
    queryOptions({
      queryKey: [...wordingQueries.all(), 'one', letter.kind, letter.language],
      queryFn: () => http.get<WordingView>(pathOf(letter)),
    }),
  version: (letter: LetterName, version: number) =>
    queryOptions({
      queryKey: [...wordingQueries.all(), 'version', letter.kind, letter.language, version],
      queryFn: () => http.get<WordingVersionView>(`${pathOf(letter)}/versions/${version}`),
    }),
  /** How words look that are being written: asked again for each, kept for none. */
  shown: (letter: LetterName, words: Words, like: string) =>
    queryOptions({
      queryKey: [...wordingQueries.all(), 'shown', letter.kind, letter.language, words, like],
      queryFn: ({ signal }) =>
        http.post<ShownLetter>(`${pathOf(letter)}/preview`, { words, like: like || null }, { signal }),
      gcTime: 0,
      // The letter stays in sight until the next one is there.
      placeholderData: keepPreviousData,
      retry: false,
    }),
  /** Letters of that kind whose data may be shown. */
  stored: (kind: string) =>
    queryOptions({
      queryKey: [...wordingQueries.all(), 'stored', kind],
      queryFn: () => http.get<Paged<MessageSummary>>('/messages', { kind, limit: 30 }),
    }),
}

export interface WordingFault {
  pointer: string
  line: number
  detail: string
}

/** What is wrong with words, by part; empty when the answer was about something else. */
export function faultsIn(error: unknown): Partial<Record<keyof Words, string>> {
  if (!(error instanceof ApiProblem) || error.type !== 'wording-refused') return {}
  const faults = error.body['errors'] as WordingFault[]
  const of = (part: keyof Words) =>
    faults
      .filter(({ pointer }) => pointer === `#/${part}`)
      .map(({ detail }) => detail)
      .join(' ')
  return { subject: of('subject'), preview: of('preview'), body: of('body') }
}
