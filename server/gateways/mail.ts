/** A message ready to leave. Addresses are bare; `messageId` comes with its angle brackets. */
export interface Letter {
  from: string
  replyTo: string
  /** Where servers send what they cannot deliver; absent: to `from`. */
  returnTo?: string | undefined
  to: { name: string; address: string }
  subject: string
  text: string
  html: string
  /** A VCALENDAR and its method, which the part's Content-Type must repeat: RFC 6047 §2.4. */
  calendar?: { method: 'REQUEST' | 'CANCEL'; text: string }
  messageId: string
  date: Date
  /** One click ends messages of this kind: RFC 8058. */
  unsubscribeUrl?: string
}

/**
 * Hands a letter to the mail server. Returns once the server has taken it; throws MailRefused when it did not. Anything
 * else thrown means that nobody knows: the connection was lost, or never was.
 */
export type Send = (letter: Letter) => Promise<void>

/** Takes letters to the mail server, over a few connections that stay open. */
export interface Mailer {
  /**
   * Does some work with a connection of its own, as soon as one is free. The connection says nothing more before the
   * work ends: a letter whose sending is not yet written down is the last one that its connection spoke of.
   */
  onConnection: <Result>(work: (send: Send) => Promise<Result>) => Promise<Result>
  close: () => void
}

/** What a refusal asks of us. */
export type RefusalKind =
  /** That mailbox does not exist: stop, put the address aside, phone. */
  | 'hard'
  /** Try later: full, busy, unreachable, or a fault of ours, such as our sender address or our log-in. */
  | 'soft'
  /** This letter will not be taken, by policy or for its content; the address may be fine. */
  | 'letter'

export class MailRefused extends Error {
  readonly kind: RefusalKind
  constructor(kind: RefusalKind, answer: string) {
    super(answer)
    this.kind = kind
  }
}

/**
 * What an answer means. Enhanced codes by RFC 3463 where there is one (`5.1.1`), else the three-digit reply of RFC 5321.
 * @param during the SMTP command that was answered; only what is said of the receiver or of the letter may be final
 */
export function refusalKind(
  reply: { code: number | null; text: string },
  during: 'RCPT TO' | 'DATA' | 'other',
): RefusalKind {
  const enhanced = /\b([245])\.(\d{1,3})\.(\d{1,3})\b/.exec(reply.text)
  const [level, subject, detail] = enhanced
    ? enhanced.slice(1).map(Number)
    : [Math.floor((reply.code ?? 400) / 100), -1, -1]
  // Our sender, our log-in or the session was refused: nothing that the receiver can be blamed for.
  if (level !== 5 || during === 'other') return 'soft'
  const is = (of: number, ...details: number[]) => subject === of && details.includes(detail!)
  // Many servers speak of the sender only once a receiver is named: §3.2.
  if (is(1, 7, 8)) return 'soft'
  // A full mailbox (§3.3); a full, closed or wrongly set up system (§3.4); the network and the protocol (§3.5, §3.6).
  if (is(2, 2) || is(3, 1, 2, 5) || subject === 4 || subject === 5) return 'soft'
  // Too large for that mailbox (§3.3) or system (§3.4); content and policy (§3.7, §3.8).
  if (is(2, 3) || is(3, 3, 4) || subject === 6 || subject === 7) return 'letter'
  // What is said at RCPT is about the mailbox; after DATA only what says so itself, and the rest about the letter.
  return during === 'RCPT TO' || subject === 1 || subject === 2 ? 'hard' : 'letter'
}
