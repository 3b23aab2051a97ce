import { readFileSync } from 'node:fs'
import Fastify, { type FastifyInstance, type FastifyReply } from 'fastify'
import Handlebars from 'handlebars'
import type { Attachment } from 'mailparser'
import type { Caught, Mailbox } from './mailbox.ts'

const page = (name: string) =>
  Handlebars.compile(readFileSync(new URL(`./pages/${name}.hbs`, import.meta.url), 'utf8'), { strict: true })
const pages = { list: page('list'), message: page('message') }

// The page runs no script at all. Mail is shown in a frame that may do one thing: open a link in a new tab.
const PAGE_POLICY =
  "default-src 'none'; style-src 'unsafe-inline'; frame-src 'self'; form-action 'self'; base-uri 'none'"
const MAIL_POLICY =
  "sandbox allow-popups allow-popups-to-escape-sandbox; default-src 'none'; style-src 'unsafe-inline'; img-src data:; frame-ancestors 'self'"

/** The page to read the caught mail, and the same as JSON for tests. */
export function mailPages(mailbox: Mailbox): FastifyInstance {
  const app = Fastify({ logger: false })
  app.addHook('onSend', async (_request, reply) => {
    if (!reply.hasHeader('content-security-policy')) reply.header('content-security-policy', PAGE_POLICY)
    reply.header('x-content-type-options', 'nosniff').header('cache-control', 'no-store')
  })

  app.get('/', async (_request, reply) => {
    const messages = (await mailbox.list()).map((message) => ({ ...message, at: atText(message.receivedAt) }))
    return html(reply, pages.list({ messages, count: messages.length }))
  })
  app.post('/clear', async (_request, reply) => {
    await mailbox.clear()
    return reply.redirect('/', 303)
  })
  // A form without fields sends this type; there is nothing to read in it.
  app.addContentTypeParser('application/x-www-form-urlencoded', (_request, _body, done) => done(null, null))

  app.get<{ Params: { id: string } }>('/messages/:id', async ({ params }, reply) => {
    const caught = await mailbox.get(params.id)
    return caught ? html(reply, pages.message(forPage(caught))) : reply.callNotFound()
  })
  app.get<{ Params: { id: string } }>('/messages/:id/html', async ({ params }, reply) => {
    const mail = (await mailbox.get(params.id))?.mail
    return mail?.html
      ? html(reply.header('content-security-policy', MAIL_POLICY), linksInNewTab(mail.html))
      : reply.callNotFound()
  })
  app.get<{ Params: { id: string } }>('/messages/:id/text', async ({ params }, reply) => {
    const mail = (await mailbox.get(params.id))?.mail
    if (mail?.text === undefined) return reply.callNotFound()
    // mailparser escapes the text and makes its addresses links.
    const body = `<!doctype html><style>body{font:15px/1.5 monospace}</style>${mail.textAsHtml ?? ''}`
    return html(reply.header('content-security-policy', MAIL_POLICY), linksInNewTab(body))
  })
  app.get<{ Params: { id: string } }>('/messages/:id/source', async ({ params }, reply) => {
    const caught = await mailbox.get(params.id)
    return caught ? reply.type('text/plain; charset=utf-8').send(caught.source) : reply.callNotFound()
  })
  app.get<{ Params: { id: string; number: string } }>(
    '/messages/:id/attachments/:number',
    async ({ params }, reply) => {
      const attachment = (await mailbox.get(params.id))?.mail.attachments[Number(params.number)]
      if (!attachment) return reply.callNotFound()
      const name = encodeURIComponent(attachment.filename ?? `attachment-${params.number}`)
      return reply
        .type('application/octet-stream')
        .header('content-disposition', `attachment; filename*=UTF-8''${name}`)
        .send(attachment.content)
    },
  )

  app.get('/api/messages', () => mailbox.list())
  app.get<{ Params: { id: string } }>('/api/messages/:id', async ({ params }, reply) => {
    const caught = await mailbox.get(params.id)
    return caught ? asJson(caught) : reply.callNotFound()
  })
  app.delete('/api/messages', async (_request, reply) => {
    await mailbox.clear()
    return reply.status(204).send()
  })
  return app
}

const html = (reply: FastifyReply, text: string) => reply.type('text/html; charset=utf-8').send(text)

const atText = (instant: string) => instant.slice(0, 19).replace('T', ' ')

function linksInNewTab(text: string): string {
  const base = '<base target="_blank">'
  return /<head[^>]*>/i.test(text) ? text.replace(/<head[^>]*>/i, (head) => head + base) : base + text
}

function forPage({ mail, receivedAt, ...summary }: Caught) {
  return {
    ...summary,
    at: atText(receivedAt),
    envelopeTo: summary.envelope.to.join(', '),
    hasHtml: Boolean(mail.html),
    hasText: mail.text !== undefined,
    attachments: mail.attachments.map((attachment, number) => ({ number, ...described(attachment) })),
  }
}

function asJson({ mail, source, ...summary }: Caught) {
  return {
    ...summary,
    text: mail.text ?? null,
    html: mail.html || null,
    headers: Object.fromEntries(
      mail.headerLines.map(({ key, line }) => [key, line.slice(line.indexOf(':') + 1).trim()]),
    ),
    attachments: mail.attachments.map((each) => ({
      ...described(each),
      base64: each.content.toString('base64'),
    })),
    source: source.toString('utf8'),
  }
}

function described({ filename, contentType, size }: Attachment) {
  return { filename: filename ?? null, contentType, size, name: filename ?? contentType }
}
