import { createTransport } from 'nodemailer'
import type { Letter, Mailer, Send } from './mail.ts'
import { mailOptions } from './mail-smtp.ts'

export interface MemoryMailer extends Mailer {
  letters: Letter[]
  /** As it would have gone over the wire. */
  sources: Buffer[]
  /** Set it to have the next letters refused, lost or held up. */
  before: (letter: Letter) => Promise<void> | void
  /** Set it to break the connection after the server took the letter. */
  after: (letter: Letter) => Promise<void> | void
}

/** Keeps what would be sent: for tests. */
export function memoryMailer(): MemoryMailer {
  const build = createTransport({ streamTransport: true, buffer: true, newline: 'windows' })
  const send: Send = async (letter) => {
    await mailer.before(letter)
    const { message } = await build.sendMail(mailOptions(letter))
    mailer.letters.push(letter)
    mailer.sources.push(message as Buffer)
    await mailer.after(letter)
  }
  const mailer: MemoryMailer = {
    letters: [],
    sources: [],
    before: () => {},
    after: () => {},
    onConnection: (work) => work(send),
    close: () => {},
  }
  return mailer
}
