/** A mail, line by line. */
export const lines = (...text: string[]) => Buffer.from(text.join('\r\n'))
/** A report as RFC 6522 builds it: words for people, fields for machines, and the letter that it is about. */
export const report = (fields: readonly string[], original: readonly string[], type = 'delivery-status') =>
  lines(
    'From: Mail Delivery Subsystem <mailer-daemon@example.net>',
    'To: office@example.com',
    'Subject: Returned mail',
    'MIME-Version: 1.0',
    `Content-Type: multipart/report; report-type=${type}; boundary="B/1"`,
    '',
    '--B/1',
    '',
    'The following addresses had delivery problems.',
    '',
    '--B/1',
    `content-type: message/${type}`,
    '',
    ...fields,
    '',
    '--B/1',
    'content-type: message/rfc822',
    '',
    ...original,
    '',
    '--B/1--',
    '',
  )
/** The head of the letter that came back. */
export const original = (messageId: string) => [
  'From: office@example.com',
  'To: someone@example.com',
  `Message-ID: ${messageId}`,
  'Subject: Your inspection',
  '',
  'Hello',
]
