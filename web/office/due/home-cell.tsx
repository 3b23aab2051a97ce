import { Link } from '@tanstack/react-router'
import css from './due.module.css'

/** A home in a table: its page, and the town under it. */
export function HomeCell({ propertyId, line1, city }: { propertyId: string; line1: string; city: string }) {
  return (
    <>
      <Link to="/homes/$id" params={{ id: propertyId }}>
        {line1}
      </Link>
      <small className={css.small}>{city}</small>
    </>
  )
}
