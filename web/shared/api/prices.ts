import { infiniteQueryOptions, queryOptions } from '@tanstack/react-query'
import type { PriceView } from '../../../server/prices/schema.ts'
import { http } from './http.ts'
import type { Paged } from './visits.ts'

export const priceQueries = {
  all: () => ['prices'] as const,
  list: (filters: Readonly<Record<string, string>>) =>
    infiniteQueryOptions({
      queryKey: [...priceQueries.all(), 'list', filters],
      queryFn: ({ pageParam }) => http.get<Paged<PriceView>>('/prices', { ...filters, cursor: pageParam }),
      initialPageParam: undefined as string | undefined,
      getNextPageParam: (page: Paged<PriceView>) => page.next ?? undefined,
    }),
  /** What is offered today, to choose from. */
  offered: () =>
    queryOptions({
      queryKey: [...priceQueries.all(), 'offered'],
      queryFn: () => http.get<Paged<PriceView>>('/prices', { limit: 200 }),
    }),
}
