import { useInfiniteQuery, useMutation, useQuery, useQueryClient } from '@tanstack/react-query'
import { useState } from 'react'
import type { PriceView } from '../../../server/prices/schema.ts'
import { findItem } from '../../../trade/checklist/checklist.ts'
import { moneyInWords, PRICE_UNITS, typedPercent } from '../../../trade/estimates/money.ts'
import { mayChangePrices } from '../../../trade/permissions.ts'
import { http, urlOf } from '../../shared/api/http.ts'
import { meQuery } from '../../shared/api/me.ts'
import { priceQueries } from '../../shared/api/prices.ts'
import { Button, buttonLink } from '../../shared/ui/button.tsx'
import { Dialog } from '../../shared/ui/dialog.tsx'
import { SelectField, TextField } from '../../shared/ui/fields.tsx'
import { Page } from '../../shared/ui/page.tsx'
import { Fault } from '../../shared/ui/states.tsx'
import type { Column } from '../../shared/ui/table.tsx'
import { tell } from '../../shared/ui/toasts.tsx'
import { useFilters } from '../shell/filters.ts'
import { Filters, PagedTable } from '../shell/list.tsx'
import { PriceForm } from './price-form.tsx'
import css from './prices.module.css'

const FILTERS = ['q', 'retired'] as const

/** What the company charges: estimates take their prices from here and keep them as they were. */
export function Prices() {
  const { filters, set, clear } = useFilters(FILTERS)
  const list = useInfiniteQuery(priceQueries.list(filters))
  const me = useQuery(meQuery)
  const [open, setOpen] = useState<PriceView | 'new' | null>(null)
  const mayChange = me.data ? mayChangePrices(me.data) : false
  return (
    <Page
      title="Prices"
      under="Without tax. An estimate that was written before keeps its prices."
      actions={
        <>
          <a className={buttonLink} href={urlOf('/prices/export.csv', filters)} download>
            Save as CSV
          </a>
          {mayChange && (
            <Button look="main" onPress={() => setOpen('new')}>
              Add a price
            </Button>
          )}
        </>
      }
    >
      <Filters of="prices">
        <TextField label="Code or name" type="search" value={filters.q ?? ''} onChange={set('q')} />
        <SelectField
          label="Offered"
          value={filters.retired ?? ''}
          onChange={set('retired')}
          options={{ yes: 'No longer offered' }}
          empty="Offered today"
        />
      </Filters>
      <PagedTable
        of="prices"
        list={list}
        empty="No price fits."
        onClear={clear}
        columns={[...COLUMNS, ...(mayChange ? [changeColumn(setOpen)] : [])]}
      />
      <Dialog
        title={open === 'new' ? 'Add a price' : `Change ${open?.code ?? ''}`}
        isOpen={open !== null}
        onClose={() => setOpen(null)}
        wide
      >
        {open && <PriceForm given={open === 'new' ? null : open} onDone={() => setOpen(null)} />}
      </Dialog>
    </Page>
  )
}

const COLUMNS: Column<PriceView>[] = [
  { name: 'Code', cell: (each) => <span className={css.code}>{each.code}</span> },
  {
    name: 'Name',
    long: true,
    cell: (each) => (
      <>
        {each.name}
        {each.description && <small className={css.soft}>{each.description}</small>}
      </>
    ),
  },
  { name: 'Price', right: true, cell: (each) => moneyInWords(each.priceCents) },
  { name: 'For', cell: (each) => PRICE_UNITS[each.unit] },
  { name: 'Tax', right: true, cell: (each) => `${typedPercent(each.taxBasisPoints)} %` },
  {
    name: 'Corrects',
    long: true,
    cell: (each) => each.correctsItems.map((id) => findItem(id)?.title ?? id).join(', ') || null,
  },
]

const changeColumn = (open: (price: PriceView) => void): Column<PriceView> => ({
  name: 'Change',
  right: true,
  cell: (each) =>
    each.retiredAt ? (
      <Restore price={each} />
    ) : (
      <Button small onPress={() => open(each)} aria-label={`Change ${each.code}`}>
        Change
      </Button>
    ),
})

function Restore({ price }: { price: PriceView }) {
  const queryClient = useQueryClient()
  const restore = useMutation({
    mutationFn: () => http.post(`/prices/${price.id}/restore`, {}, { version: price.version }),
    onSuccess: () => {
      void queryClient.invalidateQueries({ queryKey: priceQueries.all() })
      tell(`${price.code} is offered again.`)
    },
  })
  return (
    <>
      <Button
        small
        onPress={() => restore.mutate()}
        isPending={restore.isPending}
        aria-label={`Offer ${price.code} again`}
      >
        Offer again
      </Button>
      <Fault error={restore.error} />
    </>
  )
}
