import { FOLLOW_UP_KINDS } from '../../../trade/follow-ups/kinds.ts'
import { Button } from '../../shared/ui/button.tsx'
import { SelectField, TextField } from '../../shared/ui/fields.tsx'
import filterCss from '../shell/filters.module.css'
import { weekInWords } from './due-groups.tsx'
import css from './due.module.css'

type Filters = Readonly<Partial<Record<string, string>>>

const KINDS = Object.values(FOLLOW_UP_KINDS)
  .filter(({ id }) => id !== 'visit-confirmation' && id !== 'visit-reminder')
  .map(({ id, office }) => [id, office] as const)

/** All of it in the address: a link to what I see is a link to what you will see. */
export function DueFilters({
  filters,
  put,
}: {
  filters: Filters
  put: (change: Record<string, string>) => void
}) {
  const { week, onStreet, city } = filters
  const set = (name: string) => (value: string) => put({ [name]: value })
  return (
    <>
      <form
        className={filterCss.filters}
        role="search"
        aria-label="Filter what is due"
        onSubmit={(event) => event.preventDefault()}
      >
        <TextField
          label="Name, address or device"
          type="search"
          value={filters['search'] ?? ''}
          onChange={set('search')}
        />
        <SelectField
          label="Kind"
          value={filters['kind'] ?? ''}
          onChange={set('kind')}
          options={KINDS}
          empty="All"
        />
        <TextField label="Street" value={filters['street'] ?? ''} onChange={set('street')} />
        <TextField label="Town" value={city ?? ''} onChange={set('city')} />
        <TextField
          label="Week of"
          type="date"
          value={week && week !== 'earlier' ? week : ''}
          onChange={set('week')}
        />
      </form>
      {(onStreet || week === 'earlier') && (
        <div className={css.over}>
          {onStreet && (
            <Button small onPress={() => put({ onStreet: '', city: '', view: 'street' })}>
              {onStreet}, {city}: all streets
            </Button>
          )}
          {week === 'earlier' && (
            <Button small onPress={() => put({ week: '', view: 'week' })}>
              {weekInWords(week)}: all weeks
            </Button>
          )}
        </div>
      )}
    </>
  )
}
