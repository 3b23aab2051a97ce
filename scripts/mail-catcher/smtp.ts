import { SMTPServer } from 'smtp-server'
import type { Envelope, Mailbox } from './mailbox.ts'

/** What to answer instead of taking a message, or null to take it. A code from 400 asks to try later, from 500 says never. */
export type Refusal = { code: number; message: string } | null

/** A mail server that takes everything and passes nothing on. */
export function smtpInto(mailbox: Mailbox, refuse: (envelope: Envelope) => Refusal): SMTPServer {
  return new SMTPServer({
    authOptional: true,
    disabledCommands: ['STARTTLS'],
    allowInsecureAuth: true,
    onAuth: (_auth, _session, done) => done(null, { user: 'anyone' }),
    disableReverseLookup: true,
    size: 30 * 1024 * 1024,
    onData(stream, session, done) {
      const chunks: Buffer[] = []
      stream.on('data', (chunk: Buffer) => chunks.push(chunk))
      stream.on('end', () => {
        const { mailFrom, rcptTo } = session.envelope
        const envelope = { from: mailFrom ? mailFrom.address : '', to: rcptTo.map(({ address }) => address) }
        const refusal = refuse(envelope)
        if (refusal) return done(Object.assign(new Error(refusal.message), { responseCode: refusal.code }))
        if (stream.sizeExceeded) return done(Object.assign(new Error('too large'), { responseCode: 552 }))
        mailbox.add(Buffer.concat(chunks), envelope).then(
          () => done(),
          (error: Error) => done(error),
        )
      })
    },
  })
}
