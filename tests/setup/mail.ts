import { afterAll } from 'vitest'
import { type MailCatcher, startMailCatcher } from '../../scripts/mail-catcher/catcher.ts'

/** A mail server of this test file's own: `catcher.smtpUrl` to send to, `catcher.mailbox` to look into, and
 *  `catcher.refuse` to have it turn messages down. */
export async function testMail(): Promise<MailCatcher> {
  const catcher = await startMailCatcher()
  afterAll(() => catcher.stop())
  return catcher
}
