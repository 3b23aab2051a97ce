import { type Attachment, simpleParser } from 'mailparser'

// Reads what mail servers send back: delivery reports (RFC 3464) and complaints (RFC 5965), both inside multipart/report
// with the letter, or its head, that they are about.

export interface MailReport {
  kind: 'failed' | 'delayed' | 'complained'
  /** Of the letter that it is about, with its angle brackets; null when the report does not show it. */
  messageId: string | null
  recipient: string | null
  /** RFC 3463, such as 5.1.1; null when there is none. */
  status: string | null
  /** What the server said, for people. */
  detail: string
}

/** One report per receiver that is worth knowing of; none when the mail is no report, or tells of success. */
export async function readMailReport(source: Buffer): Promise<MailReport[]> {
  const mail = await simpleParser(source, {
    keepDeliveryStatus: true,
    skipHtmlToText: true,
    skipImageLinks: true,
  })
  const part = (...types: string[]) =>
    mail.attachments.find(({ contentType }) => types.includes(contentType.toLowerCase()))
  const messageId = await originalId(part('message/rfc822', 'text/rfc822-headers', 'message/rfc822-headers'))
  const complaint = part('message/feedback-report')
  if (complaint) {
    const [fields] = fieldGroups(complaint)
    const recipient = bareAddress(fields?.get('original-rcpt-to') ?? fields?.get('removal-recipient'))
    return [{ kind: 'complained', messageId, recipient, status: null, detail: 'They marked it as unwanted.' }]
  }
  const delivery = part('message/delivery-status', 'message/global-delivery-status')
  if (!delivery) return []
  // The first group is about the letter as a whole; each further one about a receiver.
  return fieldGroups(delivery)
    .slice(1)
    .flatMap((fields): MailReport[] => {
      const action = firstWord(fields.get('action'))
      if (action !== 'failed' && action !== 'delayed') return []
      const status = /\b[245]\.\d{1,3}\.\d{1,3}\b/.exec(fields.get('status') ?? '')?.[0] ?? null
      return [
        {
          kind: action,
          messageId,
          recipient: bareAddress(fields.get('original-recipient') ?? fields.get('final-recipient')),
          status,
          detail: typed(fields.get('diagnostic-code')) ?? fields.get('status') ?? action,
        },
      ]
    })
}

/** Groups of fields, folded lines joined, names in lower case. */
function fieldGroups({ content }: Attachment): Map<string, string>[] {
  return content
    .toString('utf8')
    .replace(/\r\n?/g, '\n')
    .replace(/\n[ \t]+/g, ' ')
    .split(/\n{2,}/)
    .map((group) => {
      const lines = group.split('\n').map((line) => /^([\w-]+):\s*(.*)$/.exec(line))
      return new Map(
        lines.flatMap((line): [string, string][] =>
          line ? [[line[1]!.toLowerCase(), line[2]!.trim()]] : [],
        ),
      )
    })
    .filter((group) => group.size > 0)
}

const firstWord = (value: string | undefined) => /^\w+/.exec(value ?? '')?.[0].toLowerCase()
/** `rfc822; someone@example.com`: the type says how to read the rest. */
const typed = (value: string | undefined) => value?.replace(/^[\w-]+\s*;\s*/, '').trim()
const bareAddress = (value: string | undefined) => /[^\s<>;]+@[^\s<>;]+/.exec(typed(value) ?? '')?.[0] ?? null

async function originalId(part: Attachment | undefined): Promise<string | null> {
  if (!part) return null
  return (await simpleParser(part.content, { skipHtmlToText: true })).messageId ?? null
}
