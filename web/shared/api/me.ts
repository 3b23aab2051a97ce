import { queryOptions } from '@tanstack/react-query'
import type { MeView } from '../../../server/accounts/schema.ts'
import { http } from './http.ts'

/** Who is logged in; the query fails with 401 when nobody is. */
export const meQuery = queryOptions({
  queryKey: ['me'] as const,
  queryFn: () => http.get<MeView>('/me'),
  staleTime: 5 * 60_000,
})
