import { infiniteQueryOptions, queryOptions } from '@tanstack/react-query'
import type { TechnicianView } from '../../../server/people/schema.ts'
import type { DayView, VisitRow, VisitView } from '../../../server/visits/schema.ts'
import type { RequestView } from '../../../server/requests/schema.ts'
import { http } from './http.ts'

export interface Paged<Item> {
  items: Item[]
  next: string | null
}

export const visitQueries = {
  all: () => ['visits'] as const,
  day: (day: string) =>
    queryOptions({
      queryKey: [...visitQueries.all(), 'day', day],
      queryFn: () => http.get<DayView>('/visits/day', { day }),
    }),
  list: (filters: Readonly<Record<string, string>>) =>
    infiniteQueryOptions({
      queryKey: [...visitQueries.all(), 'list', filters],
      queryFn: ({ pageParam }) => http.get<Paged<VisitRow>>('/visits', { ...filters, cursor: pageParam }),
      initialPageParam: undefined as string | undefined,
      getNextPageParam: (page: Paged<VisitRow>) => page.next ?? undefined,
    }),
  one: (id: string) =>
    queryOptions({
      queryKey: [...visitQueries.all(), 'one', id],
      queryFn: () => http.get<VisitView>(`/visits/${id}`),
    }),
}

export const requestQueries = {
  all: () => ['requests'] as const,
  waiting: () =>
    queryOptions({
      queryKey: [...requestQueries.all(), 'waiting'],
      queryFn: () => http.get<Paged<RequestView>>('/requests', { state: 'waiting', limit: 100 }),
    }),
}

export const techniciansQuery = queryOptions({
  queryKey: ['technicians'] as const,
  queryFn: () => http.get<TechnicianView[]>('/technicians'),
  staleTime: 60_000,
})
