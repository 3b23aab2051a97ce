import { createTransport, type SendMailOptions } from 'nodemailer'
import type { Env } from '../env.ts'
import { type Letter, MailRefused, type Mailer, refusalKind } from './mail.ts'

/** A letter in the words of the mail library, headers and all. */
export function mailOptions(letter: Letter): SendMailOptions {
  const { unsubscribeUrl, calendar } = letter
  return {
    from: letter.from,
    replyTo: letter.replyTo,
    to: letter.to,
    subject: letter.subject,
    text: letter.text,
    html: letter.html,
    ...(letter.returnTo && { envelope: { from: letter.returnTo, to: letter.to.address } }),
    messageId: letter.messageId,
    date: letter.date,
    headers: {
      // RFC 3834 §5: no auto-responder may answer.
      'Auto-Submitted': 'auto-generated',
      ...(unsubscribeUrl && {
        'List-Unsubscribe': { prepared: true, foldLines: true, value: `<${unsubscribeUrl}>` },
        'List-Unsubscribe-Post': 'List-Unsubscribe=One-Click',
      }),
    },
    ...(calendar && {
      icalEvent: { method: calendar.method, content: calendar.text, filename: 'visit.ics' },
    }),
    // What a customer is called, say, must never make the library read a file or fetch an address.
    disableFileAccess: true,
    disableUrlAccess: true,
  }
}

type Settings = Pick<Env, 'smtpUrl' | 'dkimDomain' | 'dkimSelector' | 'dkimKey'>

/** How long one letter may take, however slowly the server talks: the lease of its message outlasts it. */
const LETTER_MS = 120_000

/** SMTP over a few connections that stay open. DKIM where the key is with us and not with the mail server. */
export function smtpMailer(env: Settings, connections = 10, letterMs = LETTER_MS): Mailer {
  const { dkimDomain, dkimSelector, dkimKey } = env
  const open = () =>
    createTransport({
      url: env.smtpUrl,
      // A pool of one each: only so can a connection be kept for a letter until that is written down.
      pool: true,
      maxConnections: 1,
      maxMessages: 200,
      connectionTimeout: 20_000,
      greetingTimeout: 20_000,
      socketTimeout: 60_000,
      ...(dkimDomain &&
        dkimSelector &&
        dkimKey && { dkim: { domainName: dkimDomain, keySelector: dkimSelector, privateKey: dkimKey } }),
    })
  const all = Array.from({ length: connections }, open)
  const free = [...all]
  const waiting: ((transport: (typeof all)[number]) => void)[] = []
  return {
    async onConnection(work) {
      const mine = free.pop() ?? (await new Promise<(typeof all)[number]>((resolve) => waiting.push(resolve)))
      try {
        return await work(async (letter) => {
          try {
            await mine.sendMail({
              ...mailOptions(letter),
              signal: AbortSignal.timeout(letterMs),
            } as SendMailOptions)
          } catch (error) {
            throw asRefusal(error) ?? error
          }
        })
      } finally {
        const next = waiting.shift()
        if (next) next(mine)
        else free.push(mine)
      }
    },
    close: () => all.forEach((transport) => transport.close()),
  }
}

interface SmtpError extends Error {
  code?: string
  command?: string
  response?: string
  responseCode?: number
}

/** Null when the server did not answer: then nobody knows whether the letter was taken. */
function asRefusal(error: unknown): MailRefused | null {
  const { code, command, response, responseCode, message } = error as SmtpError
  // An address that cannot even be said in SMTP, unless it is ours.
  if (code === 'EENVELOPE' && responseCode === undefined && !message.startsWith('Invalid sender'))
    return new MailRefused('hard', message)
  if (responseCode === undefined) return null
  const during =
    command === 'RCPT TO' ? 'RCPT TO' : command === 'DATA' || code === 'EMESSAGE' ? 'DATA' : 'other'
  const text = response ?? message
  return new MailRefused(refusalKind({ code: responseCode, text }, during), text)
}
