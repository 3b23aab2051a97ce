import { useQuery } from '@tanstack/react-query'
import { Link } from '@tanstack/react-router'
import type { Danger } from '../../../server/follow-ups/schema.ts'
import { withoutFullStop } from '../../../trade/follow-ups/words.ts'
import { http } from '../../shared/api/http.ts'
import { formatDay } from '../../shared/format.ts'
import { SeverityMark } from '../../shared/severity.tsx'
import { Card, Tag } from '../../shared/ui/page.tsx'
import { Tel } from '../../shared/ui/tel.tsx'
import css from './today.module.css'

const dangersQuery = {
  queryKey: ['dangers'] as const,
  queryFn: () => http.get<Danger[]>('/follow-ups/dangers'),
}

/** What is unsafe somewhere right now: it appears while the technician is still on site, and stays until put right. */
export function Dangers() {
  const { data: dangers } = useQuery(dangersQuery)
  return (
    // Always there, so that a screen reader hears of one that comes.
    <div aria-live="assertive">
      {!!dangers?.length && (
        <Card title={dangers.length === 1 ? 'Unsafe right now' : `${dangers.length} things unsafe right now`}>
          <ul className={css.dangers}>
            {dangers.map((each) => (
              <li key={each.id}>
                <SeverityMark severity="unsafe" />{' '}
                <Link to="/inspections/$id" params={{ id: each.inspectionId }}>
                  {each.line1}, {each.city}
                </Link>
                {': '}
                {each.text} {each.isOnSite && <Tag tone="lamp">{each.technicianName} is there</Tag>}{' '}
                {each.isRefused && <Tag>Refused in writing</Tag>}
                <small>
                  {each.makeSafe
                    ? `Done on site: ${withoutFullStop(each.makeSafe)}. `
                    : 'Nothing noted that makes it safe. '}
                  Found {formatDay(each.foundOn)}. {each.customerName}
                  {each.customerPhone && (
                    <>
                      {', '}
                      <Tel number={each.customerPhone} />
                    </>
                  )}
                  {each.isTold && ', told on the phone'}
                </small>
              </li>
            ))}
          </ul>
        </Card>
      )}
    </div>
  )
}
