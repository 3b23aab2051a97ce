import type { DuplicatesView } from '../../../server/customers/schema.ts'
import { Button } from '../../shared/ui/button.tsx'
import css from './duplicates.module.css'

const SHARED = { phone: 'the same phone', email: 'the same e-mail', address: 'the same address' } as const

/** Who and what is on record already with the same phone, e-mail or address: to be taken instead of made twice. */
export function Duplicates({
  found,
  onCustomer,
  onProperty,
}: {
  found: DuplicatesView | undefined
  onCustomer?: ((customer: { id: string; name: string }) => void) | undefined
  onProperty?: ((property: { id: string; line1: string }) => void) | undefined
}) {
  const customers = onCustomer ? (found?.customers ?? []) : []
  const properties = onProperty ? (found?.properties ?? []) : []
  if (customers.length + properties.length === 0) return null
  return (
    <ul className={css.found} role="status" aria-label="On record already">
      {customers.map((each) => (
        <li key={each.id}>
          <span>
            <strong>{each.name}</strong> has {each.shares.map((share) => SHARED[share]).join(' and ')}
          </span>
          <Button small onPress={() => onCustomer?.(each)}>
            It is {each.name}
          </Button>
        </li>
      ))}
      {properties.map((each) => (
        <li key={each.id}>
          <span>
            <strong>{each.line1}</strong>, {each.city} is on record
            {each.contactName && ` with ${each.contactName}`}
          </span>
          <Button small onPress={() => onProperty?.(each)}>
            It is that home
          </Button>
        </li>
      ))}
    </ul>
  )
}
