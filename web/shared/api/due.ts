import type { Unreachable } from '../../../server/bounces/schema.ts'
import { infiniteQueryOptions, queryOptions } from '@tanstack/react-query'
import type {
  FollowUpSummary,
  FollowUpView,
  WorklistGroup,
  WorklistNumbers,
} from '../../../server/follow-ups/schema.ts'
import type { OfficeAnswer } from '../../../server/homeowner/office-schema.ts'
import type {
  AgainView,
  MessageNumbers,
  MessageSummary,
  MessageView,
} from '../../../server/messages/schema.ts'
import { http } from './http.ts'
import type { Paged } from './visits.ts'

type Filters = Readonly<Record<string, string>>

export const dueQueries = {
  all: () => ['due'] as const,
  list: (filters: Filters) =>
    infiniteQueryOptions({
      queryKey: [...dueQueries.all(), 'list', filters],
      queryFn: ({ pageParam }) =>
        http.get<Paged<FollowUpSummary>>('/follow-ups', { ...filters, cursor: pageParam }),
      initialPageParam: undefined as string | undefined,
      getNextPageParam: (page: Paged<FollowUpSummary>) => page.next ?? undefined,
    }),
  numbers: () =>
    queryOptions({
      queryKey: [...dueQueries.all(), 'numbers'],
      queryFn: () => http.get<WorklistNumbers>('/follow-ups/numbers'),
    }),
  groups: (by: 'week' | 'street', filters: Filters) =>
    queryOptions({
      queryKey: [...dueQueries.all(), 'groups', by, filters],
      queryFn: () => http.get<WorklistGroup[]>('/follow-ups/groups', { ...filters, by }),
    }),
  answers: (checked: boolean) =>
    infiniteQueryOptions({
      queryKey: [...dueQueries.all(), 'answers', checked],
      queryFn: ({ pageParam }) =>
        http.get<Paged<OfficeAnswer>>('/homeowner-answers', {
          checked: checked ? 'yes' : 'no',
          cursor: pageParam,
        }),
      initialPageParam: undefined as string | undefined,
      getNextPageParam: (page: Paged<OfficeAnswer>) => page.next ?? undefined,
    }),
  one: (id: string) =>
    queryOptions({
      queryKey: [...dueQueries.all(), 'one', id],
      queryFn: () => http.get<FollowUpView>(`/follow-ups/${id}`),
    }),
}

export const messageQueries = {
  all: () => ['messages'] as const,
  list: (filters: Filters) =>
    infiniteQueryOptions({
      queryKey: [...messageQueries.all(), 'list', filters],
      queryFn: ({ pageParam }) =>
        http.get<Paged<MessageSummary>>('/messages', { ...filters, cursor: pageParam }),
      initialPageParam: undefined as string | undefined,
      getNextPageParam: (page: Paged<MessageSummary>) => page.next ?? undefined,
    }),
  numbers: () =>
    queryOptions({
      queryKey: [...messageQueries.all(), 'numbers'],
      queryFn: () => http.get<MessageNumbers>('/messages/numbers'),
    }),
  unreachable: () =>
    queryOptions({
      queryKey: [...messageQueries.all(), 'unreachable'],
      queryFn: () => http.get<Unreachable>('/messages/unreachable'),
    }),
  one: (id: string) =>
    queryOptions({
      queryKey: [...messageQueries.all(), 'one', id],
      queryFn: () => http.get<MessageView>(`/messages/${id}`),
    }),
  again: (id: string) =>
    queryOptions({
      queryKey: [...messageQueries.all(), 'again', id],
      queryFn: () => http.get<AgainView>(`/messages/${id}/again`),
    }),
}
