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
}

/** Everything that happened to a message, oldest first, in words for the office. */
export function lifeOf(message: Lived): MessageView['life'] {
  const { createdAt, sendAfter, sentAt, attempts, lastError, state, followUps, troubles } = message
  const isWaiting = state === 'planned' && sendAfter > createdAt
  const steps: [string | null, string][] = [
    [createdAt, `Planned: ${message.reason}`],
    [followUps.length > 1 ? createdAt : null, `Grouped: ${followUps.length} things in one message`],
    [message.renderedAt, 'Written'],
    ...troubles.map((each): [string, string] => [each.at.toISOString(), wordsOf(each, state)]),
    [sentAt, 'Taken by the mail server'],
    [message.openedPageAt, 'Its page was opened'],
    [message.actedAt, 'Answered on its page'],
    [isWaiting ? sendAfter : null, attempts > 0 ? 'To be tried again' : 'To be sent'],
  ]
  const life = steps.flatMap(([at, what]) => (at ? [{ at, what }] : []))
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
