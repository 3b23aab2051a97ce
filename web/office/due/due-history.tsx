import { Link } from '@tanstack/react-router'
import type { FollowUpView } from '../../../server/follow-ups/schema.ts'
import { formatInstant } from '../../shared/format.ts'
import { LOGGED_WORDS } from './call-keys.ts'

/** What was written, called and answered about it. */
export function DueHistory({ it }: { it: FollowUpView }) {
  const isEmpty = it.messages.length + it.calls.length + it.answers.length === 0
  return (
    <>
      <h3>What happened</h3>
      {isEmpty && <p>Nobody has been told yet.</p>}
      <ul>
        {it.answers.map((each) => (
          <li key={each.id}>
            On their page, {formatInstant(each.at)}: {each.words}
          </li>
        ))}
        {it.messages.map((each) => (
          <li key={each.id}>
            <Link to="/messages/$id" params={{ id: each.id }}>
              {each.subject ?? each.kind}
            </Link>
            , {each.sentAt ? `sent ${formatInstant(each.sentAt)}` : each.state}
            {each.openedPageAt && `, page opened ${formatInstant(each.openedPageAt)}`}
            {each.actedAt && `, answered ${formatInstant(each.actedAt)}`}
          </li>
        ))}
        {it.calls.map((each) => (
          <li key={each.id}>
            {each.by} called, {formatInstant(each.at)}: {LOGGED_WORDS[each.outcome] ?? each.outcome}
            {each.note && `, “${each.note}”`}
          </li>
        ))}
      </ul>
    </>
  )
}
