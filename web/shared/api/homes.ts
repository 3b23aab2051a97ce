import { infiniteQueryOptions, queryOptions } from '@tanstack/react-query'
import type { CustomerView } from '../../../server/customers/schema.ts'
import type { InspectionView } from '../../../server/inspections/schema.ts'
import type { HomeView } from '../../../server/properties/home-schema.ts'
import type { PropertyRow } from '../../../server/properties/schema.ts'
import type { PreviewView, ReportView } from '../../../server/reports/schema.ts'
import { http } from './http.ts'
import type { Paged } from './visits.ts'

type Filters = Readonly<Record<string, string>>

export const homeQueries = {
  all: () => ['homes'] as const,
  list: (filters: Filters) =>
    infiniteQueryOptions({
      queryKey: [...homeQueries.all(), 'list', filters],
      queryFn: ({ pageParam }) =>
        http.get<Paged<PropertyRow>>('/properties', { ...filters, cursor: pageParam }),
      initialPageParam: undefined as string | undefined,
      getNextPageParam: (page: Paged<PropertyRow>) => page.next ?? undefined,
    }),
  one: (id: string) =>
    queryOptions({
      queryKey: [...homeQueries.all(), 'one', id],
      queryFn: () => http.get<HomeView>(`/properties/${id}`),
    }),
}

export const customerQueries = {
  all: () => ['customers'] as const,
  one: (id: string) =>
    queryOptions({
      queryKey: [...customerQueries.all(), 'one', id],
      queryFn: () => http.get<CustomerView>(`/customers/${id}`),
    }),
}

export const inspectionQueries = {
  all: () => ['inspections'] as const,
  one: (id: string) =>
    queryOptions({
      queryKey: [...inspectionQueries.all(), 'one', id],
      queryFn: () => http.get<InspectionView>(`/inspections/${id}`),
    }),
  preview: (id: string) =>
    queryOptions({
      queryKey: [...inspectionQueries.all(), 'preview', id],
      queryFn: () => http.get<PreviewView>(`/inspections/${id}/report-preview`),
    }),
  report: (id: string) =>
    queryOptions({
      queryKey: [...inspectionQueries.all(), 'report', id],
      queryFn: () => http.get<ReportView>(`/reports/${id}`),
    }),
}
