import { mkdtempSync, rmSync } from 'node:fs'
import type { AddressInfo } from 'node:net'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { type Envelope, type Mailbox, openMailbox } from './mailbox.ts'
import { type Refusal, smtpInto } from './smtp.ts'
import { mailPages } from './web.ts'

export interface MailCatcher {
  /** For SMTP_URL. */
  smtpUrl: string
  /** The page, and with /api/messages the same as JSON. */
  webUrl: string
  mailbox: Mailbox
  /** Set it to have messages refused, as a mail server does. */
  refuse: (envelope: Envelope) => Refusal
  stop: () => Promise<void>
}

/** Catches all mail on this machine: port 0 takes any free one. Without a folder the mail is gone when it stops. */
export async function startMailCatcher(
  options: { folder?: string; smtpPort?: number; webPort?: number } = {},
): Promise<MailCatcher> {
  const folder = options.folder ?? mkdtempSync(join(tmpdir(), 'watchlamp-mail-'))
  const mailbox = openMailbox(folder)
  const smtp = smtpInto(mailbox, (envelope) => catcher.refuse(envelope))
  await new Promise<void>((resolve, reject) => {
    smtp.once('error', reject)
    smtp.listen(options.smtpPort ?? 0, '127.0.0.1', resolve)
  })
  // A client that breaks off mid-sentence is its own trouble, not the catcher's.
  smtp.removeAllListeners('error').on('error', () => {})
  const web = mailPages(mailbox)
  const webUrl = await web.listen({ port: options.webPort ?? 0, host: '127.0.0.1' })
  const catcher: MailCatcher = {
    smtpUrl: `smtp://127.0.0.1:${(smtp.server.address() as AddressInfo).port}`,
    webUrl,
    mailbox,
    refuse: () => null,
    async stop() {
      await Promise.all([web.close(), new Promise<void>((resolve) => smtp.close(() => resolve()))])
      if (!options.folder) rmSync(folder, { recursive: true, force: true })
    },
  }
  return catcher
}
