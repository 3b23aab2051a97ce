import { type Again, againOf } from './again-words.ts'
import type { MessageState, MessageSummary, MessageView } from './schema.ts'

export interface Trouble {
  kind: string
  detail: string
  at: Date
}
interface Lived extends MessageSummary {
  renderedAt: string | null
  followUps: MessageView['followUps']
  troubles: readonly Trouble[]
  /** When its link was withdrawn. */
  withdrawnAt: string | null
  /** The letter that took its place. */
  next: { id: string; createdAt: Date; context: unknown } | null
  /** Of one that took the place of another. */
  again: Again | null
}

/** Everything that happened to a message, oldest first, in words for the office. */
export function lifeOf(message: Lived): MessageView['life'] {
  const { createdAt, sendAfter, sentAt, attempts, lastError, state, followUps, troubles, again, next } =
    message
  const isWaiting = state === 'planned' && sendAfter > createdAt
  const steps: [string | null, string, string?][] = [
    [createdAt, `Planned: ${message.reason}`],
    [
      again && createdAt,
      `Sent again by ${again?.by} with a new link, in place of an earlier letter`,
      again?.of,
    ],
    [followUps.length > 1 ? createdAt : null, `Grouped: ${followUps.length} things in one message`],
    [message.renderedAt, 'Written'],
    ...troubles.map((each): [string, string] => [each.at.toISOString(), wordsOf(each, state)]),
    [sentAt, 'Taken by the mail server'],
    [message.openedPageAt, 'Its page was opened'],
    [message.actedAt, 'Answered on its page'],
    [message.withdrawnAt, 'Its link was withdrawn'],
    [
      next?.createdAt.toISOString() ?? null,
      `Sent again by ${againOf(next?.context)?.by} with a new link`,
      next?.id,
    ],
    [isWaiting ? sendAfter : null, attempts > 0 ? 'To be tried again' : 'To be sent'],
  ]
  const life = steps.flatMap(([at, what, messageId]) =>
    at ? [{ at, what, ...(messageId && { messageId }) }] : [],
  )
  // Steps of one moment stay as they are listed.
  life.sort((a, b) => (a.at < b.at ? -1 : a.at > b.at ? 1 : 0))
  const isTold = troubles.some(({ detail }) => detail === lastError)
  const end = lastError && !isTold ? END_WORDS[state] : undefined
  if (end) life.push({ at: life.at(-1)!.at, what: `${end} ${lastError}` })
  return life
}

function wordsOf({ kind, detail }: Trouble, state: MessageState): string {
  if (kind === 'delayed') return `Late on its way: ${detail}`
  if (kind === 'wording')
    return `Written in the words that came with the program, because your own could not be: ${detail}`
  if (kind === 'complained') return `They marked it as unwanted: ${detail}`
  const isEnd = kind === 'bounced' || (kind === 'attempt' && state === 'bounced')
  return isEnd ? `Came back: ${detail}` : `Not taken: ${detail}`
}

/** What ended it that was no trouble on its way. */
const END_WORDS: Partial<Record<MessageState, string>> = {
  planned: 'Last attempt:',
  failed: 'Gave up:',
  bounced: 'Came back:',
  suppressed: 'Held back:',
  cancelled: 'Not sent:',
}
