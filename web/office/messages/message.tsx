import { useQuery } from '@tanstack/react-query'
import { Link, useParams } from '@tanstack/react-router'
import { useState } from 'react'
import type { MessageView } from '../../../server/messages/schema.ts'
import { messageQueries } from '../../shared/api/due.ts'
import { formatInstant } from '../../shared/format.ts'
import { LANGUAGES } from '../../shared/languages.ts'
import { Button } from '../../shared/ui/button.tsx'
import { Card, Facts, Page, Tag } from '../../shared/ui/page.tsx'
import { Failed, Fault, Waiting } from '../../shared/ui/states.tsx'
import { LetterActs } from './letter-acts.tsx'
import { MessageStateTag, titleOf } from './words.tsx'
import css from './message.module.css'

export function Message() {
  const { id } = useParams({ strict: false }) as { id: string }
  const message = useQuery(messageQueries.one(id))
  if (message.isPending) return <Waiting />
  if (message.isError) return <Failed error={message.error} retry={() => void message.refetch()} />
  return <MessagePage message={message.data} />
}

/** One letter: its text as it went out, and everything that happened to it. */
function MessagePage({ message }: { message: MessageView }) {
  const [asText, setAsText] = useState(false)
  const [fault, setFault] = useState<unknown>(null)
  return (
    <Page
      title={titleOf(message)}
      under={<MessageStateTag state={message.state} />}
      actions={<LetterActs message={message} onFault={setFault} />}
    >
      <Fault error={fault} />
      <Card title="Its life">
        <Facts
          facts={[
            ['To', `${message.toName} ${message.toAddress}`],
            ['Why it exists', message.reason],
            [
              'Home',
              message.propertyId && (
                <Link to="/homes/$id" params={{ id: message.propertyId }}>
                  {message.propertyLine}
                </Link>
              ),
            ],
            ['Language', LANGUAGES[message.language]],
            ...(message.link ? [['Its page', <PageState key="page" link={message.link} />] as const] : []),
            ...(message.lastError ? [['Last trouble', message.lastError] as const] : []),
          ]}
        />
        <ol>
          {message.life.map((each) => (
            <li key={each.at + each.what}>
              {formatInstant(each.at)}: {each.what}
              {each.messageId && (
                <>
                  {' ('}
                  <Link to="/messages/$id" params={{ id: each.messageId }}>
                    the other letter
                  </Link>
                  )
                </>
              )}
            </li>
          ))}
        </ol>
        {message.followUps.length > 0 && (
          <p>
            It tells of: {message.followUps.map(({ subject }) => subject.replace(/\.+$/, '')).join('; ')}.
          </p>
        )}
        <p className={css.id}>
          Message-ID: <code>{message.messageIdHeader}</code>
        </p>
      </Card>
      <Card
        title="Its text"
        actions={
          message.text && (
            <Button onPress={() => setAsText(!asText)}>{asText ? 'As it looks' : 'Plain text'}</Button>
          )
        }
      >
        {!message.html && !message.text && <p>It is written when it is sent.</p>}
        {asText && <pre className={css.text}>{message.text}</pre>}
        {!asText && message.html && (
          <iframe className={css.html} title="The letter" sandbox="" srcDoc={message.html} />
        )}
      </Card>
    </Page>
  )
}

const PAGE_STATES = {
  open: ['Open', 'good'],
  'run-out': ['Run out', 'plain'],
  withdrawn: ['Withdrawn', 'bad'],
} as const

function PageState({ link: { state, expiresAt, lastSeenAt } }: { link: NonNullable<MessageView['link']> }) {
  const [words, tone] = PAGE_STATES[state]
  return (
    <>
      <Tag tone={tone}>{words}</Tag> {state === 'open' && `until ${formatInstant(expiresAt)}, `}
      {lastSeenAt ? `last opened ${formatInstant(lastSeenAt)}` : 'never opened'}
    </>
  )
}
