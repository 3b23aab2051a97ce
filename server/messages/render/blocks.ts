import Handlebars, { type HelperOptions } from 'handlebars'

// What an e-mail is made of. Every template is written in these blocks only and rendered twice, once as HTML and once as
// plain text, so both say the same. HTML: tables and inline styles, which the mail programs people use understand;
// colours that a dark screen may turn (worker/emails/layout.html.hbs).

export type Mode = 'html' | 'text'
/** Lines of plain text are no longer than this: RFC 5322 asks for 78. */
const WIDTH = 76

const FONT = "font-family:-apple-system,'Segoe UI',Roboto,Helvetica,Arial,sans-serif"

export function blocksOf(mode: Mode): typeof Handlebars {
  const blocks = Handlebars.create()
  const raw = (text: string) => new Handlebars.SafeString(text)
  const inner = (options: HelperOptions, context: unknown) =>
    String(options.fn(context))
      .trim()
      .replace(/[ \t]*\n[ \t]*/g, ' ')
  const escape = (text: unknown) =>
    mode === 'html' ? Handlebars.escapeExpression(String(text)) : String(text)
  const block = (name: string, html: (content: string) => string, text: (content: string) => string) =>
    blocks.registerHelper(name, function (this: unknown, options: HelperOptions) {
      const content = inner(options, this)
      return raw(mode === 'html' ? html(content) : text(content))
    })

  // The subject is plain text in both.
  blocks.registerHelper('subject', function (this: unknown, options: HelperOptions) {
    options.data.root.letter.subject = inner(options, this)
    return ''
  })
  /** First line in a list of mails. */
  blocks.registerHelper('preview', function (this: unknown, options: HelperOptions) {
    options.data.root.letter.preview = inner(options, this)
    return ''
  })
  block(
    'heading',
    (content) =>
      `<h1 class="ink" style="color:#1d2733;margin:0 0 16px;font-size:22px;line-height:1.3;${FONT}">${content}</h1>\n`,
    (content) => `${wrap(content)}\n${'='.repeat(Math.min(content.length, WIDTH))}\n\n`,
  )
  block(
    'p',
    (content) =>
      `<p class="ink" style="color:#1d2733;margin:0 0 16px;font-size:16px;line-height:1.5;${FONT}">${content}</p>\n`,
    (content) => `${wrap(content)}\n\n`,
  )
  block(
    'small',
    (content) =>
      `<p class="soft" style="color:#52606d;margin:0 0 8px;font-size:14px;line-height:1.5;${FONT}">${content}</p>\n`,
    (content) => `${wrap(content)}\n\n`,
  )
  block(
    'warning',
    (content) =>
      `<table role="presentation" width="100%" cellpadding="0" cellspacing="0" border="0" style="margin:0 0 16px"><tr>` +
      `<td class="alarm" style="background-color:#fdecea;border-left:4px solid #b42318;color:#7a1a12;padding:12px 16px;font-size:16px;line-height:1.5;${FONT}"><strong>${content}</strong></td>` +
      '</tr></table>\n',
    (content) => `${wrap(`!! ${content}`)}\n\n`,
  )
  block(
    'home',
    (content) =>
      `<h2 class="ink" style="color:#1d2733;margin:24px 0 8px;font-size:18px;line-height:1.4;${FONT}">${content}</h2>\n`,
    (content) => `${wrap(content)}\n${'-'.repeat(Math.min(content.length, WIDTH))}\n\n`,
  )
  // Holds lines, which must stay lines.
  blocks.registerHelper('items', function (this: unknown, options: HelperOptions) {
    const lines = String(options.fn(this))
      .split('\n')
      .filter((line) => line.trim() !== '')
    if (lines.length === 0) return ''
    return raw(
      mode === 'html'
        ? `<table role="presentation" width="100%" cellpadding="0" cellspacing="0" border="0" style="margin:0 0 16px">${lines.join('\n')}</table>\n`
        : `${lines.join('\n')}\n\n`,
    )
  })
  block(
    'strong',
    (content) => `<strong>${content}</strong>`,
    (content) => content,
  )
  block(
    'item',
    (content) =>
      `<tr><td class="ink line" style="color:#1d2733;border-bottom:1px solid #d9dfe5;padding:10px 0;font-size:16px;line-height:1.5;${FONT}">${content}</td></tr>\n`,
    (content) => `${wrap(content, '- ', '  ')}\n`,
  )
  blocks.registerHelper('fact', function (this: unknown, label: string, ...rest: unknown[]) {
    const options = rest.pop() as HelperOptions
    const content = inner(options, this)
    if (content === '') return ''
    return raw(
      mode === 'html'
        ? `<tr><td class="soft line" style="color:#52606d;border-bottom:1px solid #d9dfe5;padding:8px 16px 8px 0;font-size:14px;line-height:1.5;vertical-align:top;white-space:nowrap;${FONT}">${escape(label)}</td>` +
            `<td class="ink line" style="color:#1d2733;border-bottom:1px solid #d9dfe5;padding:8px 0;font-size:16px;line-height:1.5;width:100%;${FONT}">${content}</td></tr>\n`
        : `${wrap(`${label}: ${content}`, '', '  ')}\n`,
    )
  })
  blocks.registerHelper('button', function (this: unknown, url: string, options: HelperOptions) {
    const content = inner(options, this)
    return raw(
      mode === 'html'
        ? `<table role="presentation" cellpadding="0" cellspacing="0" border="0" style="margin:8px 0 24px"><tr>` +
            `<td class="button" style="background-color:#0b5c6b;border-radius:6px"><a class="button-text" href="${escape(url)}" ` +
            `style="color:#ffffff;display:inline-block;padding:14px 24px;font-size:16px;line-height:1.25;font-weight:600;text-decoration:none;${FONT}">${content}</a></td>` +
            '</tr></table>\n'
        : `${content}:\n${url}\n\n`,
    )
  })
  blocks.registerHelper('link', function (this: unknown, url: string, options: HelperOptions) {
    const content = inner(options, this)
    return raw(
      mode === 'html'
        ? `<a class="link" href="${escape(url)}" style="color:#0b5c6b">${content}</a>`
        : `${content}: ${url}`,
    )
  })
  return blocks
}

/** Breaks at spaces; an address longer than a line stays whole. */
export function wrap(text: string, first = '', rest = ''): string {
  const lines: string[] = []
  let line = first
  let isEmpty = true
  for (const word of text.split(/\s+/).filter((each) => each !== '')) {
    if (!isEmpty && line.length + 1 + word.length > WIDTH) {
      lines.push(line)
      line = rest
      isEmpty = true
    }
    line += isEmpty ? word : ` ${word}`
    isEmpty = false
  }
  return [...lines, line].join('\n')
}
