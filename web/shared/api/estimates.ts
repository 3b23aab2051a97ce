import { infiniteQueryOptions, queryOptions } from '@tanstack/react-query'
import type { EstimateRow, EstimateView } from '../../../server/estimates/schema.ts'
import { http } from './http.ts'
import type { Paged } from './visits.ts'

export const estimateQueries = {
  all: () => ['estimates'] as const,
  list: (filters: Readonly<Record<string, string>>) =>
    infiniteQueryOptions({
      queryKey: [...estimateQueries.all(), 'list', filters],
      queryFn: ({ pageParam }) =>
        http.get<Paged<EstimateRow>>('/estimates', { ...filters, cursor: pageParam }),
      initialPageParam: undefined as string | undefined,
      getNextPageParam: (page: Paged<EstimateRow>) => page.next ?? undefined,
    }),
  one: (id: string) =>
    queryOptions({
      queryKey: [...estimateQueries.all(), 'one', id],
      queryFn: () => http.get<EstimateView>(`/estimates/${id}`),
    }),
}
