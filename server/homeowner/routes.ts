import type { FastifyError, FastifyInstance, FastifyReply, FastifyRequest } from 'fastify'
import { hasZodFastifySchemaValidationErrors } from 'fastify-type-provider-zod'
import { z } from 'zod'
import type { Language } from '../../trade/day-in-words.ts'
import type { Ctx } from '../ctx.ts'
import { Problem } from '../errors.ts'
import { readCompany } from '../settings/service.ts'
import { answer, type Thanks } from './answers.ts'
import { askBody, askForVisit } from './ask.ts'
import type { Typed } from './ask.ts'
import { dueFacts, type Wrong } from './due.ts'
import { answerEstimate, estimateBody } from './estimate-answers.ts'
import { chosenIn, estimateFacts } from './estimate-page.ts'
import { checkForm, FormFault, isOfForm, openLink, seen, type Visitor } from './entry.ts'
import { notMine, notMineBody } from './not-mine.ts'
import {
  languageBody,
  openWayOut,
  preferenceFacts,
  preferencesBody,
  saveLanguage,
  savePreferences,
  unsubscribe,
} from './preferences.ts'
import { reportFacts, reportPdf, reportPhoto } from './report-page.ts'
import { takeBack } from './take-back.ts'
import { thanksFacts } from './thanks-page.ts'
import { page, STYLE, STYLE_URL } from './view.ts'
import { answerVisit, visitBody, visitFacts, wishOf } from './visit-page.ts'
import { answerBody } from './word.ts'
import { PAGE_WORDS } from './words.ts'

// Pages behind private links. A GET changes nothing but the marks of having been seen, for mail programs open links
// before people do; every answer is a POST from a form of ours and ends in a page that may be loaded again (303).

type Params = { token: string; id?: string; sha256?: string }
type Request = FastifyRequest<{ Params: Params }>

const reading = { schema: { hide: true }, config: { rateLimit: { max: 120, timeWindow: '1 minute' } } }
const writing = {
  schema: { hide: true },
  config: { rateLimit: { max: 60, timeWindow: '1 minute' } },
  bodyLimit: 65_536,
}

export async function homeownerRoutes(app: FastifyInstance): Promise<void> {
  app.addHook('onSend', async (_request, reply) => {
    if (!reply.hasHeader('cache-control')) reply.header('cache-control', 'no-store')
    reply.header('x-robots-tag', 'noindex, nofollow')
  })
  app.setErrorHandler(problemPage)
  // RFC 8058 §3.1 allows the one click to come as multipart/form-data; only its one field is looked for.
  app.addContentTypeParser('multipart/form-data', { parseAs: 'string' }, (_request, body, done) =>
    done(null, body),
  )

  app.get(STYLE_URL, reading, (_request, reply) =>
    reply
      .type('text/css; charset=utf-8')
      .header('cache-control', 'public, max-age=31536000, immutable')
      .send(STYLE),
  )

  app.get('/h/:token', reading, async (request: Request, reply) => {
    const visitor = await openLink(request.ctx, request.params.token)
    const languageSaved = (request.query as { language?: string }).language === 'saved'
    const html = await mainPage(visitor, null, { languageSaved })
    if (request.method === 'GET') await seen(visitor)
    return send(reply, html)
  })

  app.get('/h/:token/preferences', reading, async (request: Request, reply) => {
    const visitor = await openLink(request.ctx, request.params.token)
    const { saved, language } = request.query as { saved?: string; language?: string }
    const facts = await preferenceFacts(visitor, saved === 'yes')
    return send(reply, show(visitor, 'preferences', { ...facts, languageSaved: language === 'saved' }))
  })

  app.get('/h/:token/thanks', reading, async (request: Request, reply) => {
    const visitor = await openLink(request.ctx, request.params.token)
    const { for: what = '', answer: id = '' } = request.query as { for?: string; answer?: string }
    const answerId = z.uuid().safeParse(id).success ? id : null
    return send(reply, show(visitor, 'thanks', await thanksFacts(visitor, String(what), answerId)))
  })

  app.get('/h/:token/estimates/:id', reading, async (request: Request, reply) => {
    const visitor = await openLink(request.ctx, request.params.token)
    const { option } = request.query as { option?: unknown }
    const html = await estimatePage(visitor, idOf(request), chosenIn(option))
    if (request.method === 'GET') await seen(visitor)
    return send(reply, html)
  })

  app.get('/h/:token/report.pdf', reading, async (request: Request, reply) => {
    const { bytes, name } = await reportPdf(await openLink(request.ctx, request.params.token))
    return reply
      .type('application/pdf')
      .header('content-disposition', `inline; filename="${name}"`)
      .send(bytes)
  })

  app.get('/h/:token/photos/:sha256', reading, async (request: Request, reply) => {
    const visitor = await openLink(request.ctx, request.params.token)
    const bytes = await reportPhoto(visitor, request.params.sha256!)
    return reply.type('image/jpeg').header('cache-control', 'private, max-age=86400').send(bytes)
  })

  app.post('/h/:token/request', writing, (request: Request, reply) =>
    act(request, reply, askBody, async (visitor, body) => {
      const asked = visitor.link.purpose === 'visit' ? await wishOf(visitor) : null
      await askForVisit(visitor, body, asked?.wish ?? null)
      return { thanks: asked?.thanks ?? 'requested', answerId: null }
    }),
  )

  app.post('/h/:token/items/:id', writing, (request: Request, reply) =>
    act(request, reply, answerBody, (visitor, body) => {
      return answer(visitor, idOf(request), body)
    }),
  )

  app.post('/h/:token/estimates/:id', writing, async (request: Request, reply) => {
    const { act: what, option } = (request.body ?? {}) as { act?: unknown; option?: unknown }
    // Nothing is said by it: the page is shown with the total of what was ticked, and may be loaded again.
    if (what === 'reckon') {
      const { base } = await openLink(request.ctx, request.params.token)
      const ticked = new URLSearchParams(chosenIn(option).map((name) => ['option', name]))
      return reply.redirect(`${base}/estimates/${idOf(request)}?${ticked}#total`, 303)
    }
    return act(
      request,
      reply,
      estimateBody,
      (visitor, body) => answerEstimate(visitor, idOf(request), body),
      (visitor, wrong) => estimatePage(visitor, idOf(request), [], wrong),
    )
  })

  app.post('/h/:token/not-mine', writing, (request: Request, reply) =>
    act(request, reply, notMineBody, notMine),
  )

  const formBody = z.object({ form: z.string().max(100).optional() })
  app.post('/h/:token/answers/:id/take-back', writing, (request: Request, reply) =>
    act(request, reply, formBody, (visitor) => takeBack(visitor, idOf(request))),
  )

  app.post('/h/:token/language', writing, async (request: Request, reply) => {
    const visitor = await openLink(request.ctx, request.params.token)
    const body = languageBody.safeParse(request.body)
    // Nothing is lost but a click: the page as it is shows the button again.
    if (!body.success || !isOfForm(visitor, body.data.form)) return reply.redirect(visitor.base, 303)
    await saveLanguage(visitor, body.data)
    const there = body.data.page === '' ? visitor.base : `${visitor.base}/${body.data.page}`
    return reply.redirect(`${there}?language=saved`, 303)
  })

  app.post('/h/:token/visit', writing, (request: Request, reply) =>
    act(request, reply, visitBody, async (visitor, body) => ({
      thanks: await answerVisit(visitor, body),
      answerId: null,
    })),
  )

  app.post('/h/:token/preferences', writing, async (request: Request, reply) => {
    const visitor = await openLink(request.ctx, request.params.token)
    try {
      const body = parse(visitor, preferencesBody, request.body)
      await savePreferences(visitor, body)
    } catch (error) {
      if (!(error instanceof FormFault)) throw error
      const facts = await preferenceFacts(visitor, false, error.message)
      return send(reply.status(400), show(visitor, 'preferences', facts))
    }
    return reply.redirect(`${visitor.base}/preferences?saved=yes`, 303)
  })

  app.get('/u/:token', reading, async (request: Request, reply) => {
    const way = await openWayOut(request.ctx, request.params.token)
    const w = PAGE_WORDS[way.language]
    const intro = w.stopIntro[way.category as 'reminder']
    return send(
      reply,
      page('unsubscribe', way.language, way.company, {
        title: w.stopTitle,
        intro,
        isDone: false,
        base: null,
      }),
    )
  })

  // RFC 8058: no cookie, no log-in, no redirect; the same answer however often.
  app.post('/u/:token', writing, async (request: Request, reply) => {
    if (!isOneClick(request.body)) throw new Problem('invalid-request', 'The form was not ours.')
    const way = await unsubscribe(request.ctx, request.params.token)
    const title = PAGE_WORDS[way.language].stopped
    return send(reply, page('unsubscribe', way.language, way.company, { title, isDone: true, base: null }))
  })
}

async function mainPage(
  visitor: Visitor,
  wrong: Wrong | null = null,
  more: { languageSaved?: boolean } = {},
): Promise<string> {
  const fault = wrong?.fault ?? null
  const typed = wrong?.typed ?? null
  switch (visitor.link.purpose) {
    case 'due':
      return show(visitor, 'due', { ...(await dueFacts(visitor, wrong)), ...more })
    case 'visit':
      return show(visitor, 'visit', { ...(await visitFacts(visitor, fault, typed)), ...more })
    case 'report':
      return show(visitor, 'report', { ...(await reportFacts(visitor, fault, typed)), ...more })
    case 'preferences':
      return show(visitor, 'preferences', { ...(await preferenceFacts(visitor, false, fault)), ...more })
    case 'estimate':
      return estimatePage(visitor, visitor.link.subjectId, [], wrong, more)
  }
}

/** An estimate, on a page of its own or behind what is due. */
async function estimatePage(
  visitor: Visitor,
  id: string | null,
  ticked: readonly string[],
  wrong: Wrong | null = null,
  more: { languageSaved?: boolean } = {},
): Promise<string> {
  return show(visitor, 'estimate', { ...(await estimateFacts(visitor, id, ticked, wrong)), ...more })
}

function idOf(request: Request): string {
  const id = z.uuid().safeParse(request.params.id)
  if (!id.success) throw new Problem('not-found', 'There is no such thing here.')
  return id.data
}

function show(
  { link, company, base, form }: Visitor,
  name: Parameters<typeof page>[0],
  facts: Readonly<Record<string, unknown>> & { title: string },
): string {
  return page(name, link.language, company, { ...facts, base, form })
}

/** One answer: checked, done once, thanked for. A fault brings the page back with it, and nothing done. */
async function act<Body extends { form?: string | undefined }>(
  request: Request,
  reply: FastifyReply,
  schema: z.ZodType<Body>,
  what: (visitor: Visitor, body: Body) => Promise<Thanks>,
  pageAgain: (visitor: Visitor, wrong: Wrong) => Promise<string> = mainPage,
) {
  const visitor = await openLink(request.ctx, request.params.token)
  try {
    const { thanks, answerId } = await what(visitor, parse(visitor, schema, request.body))
    const which = answerId ? `&answer=${answerId}` : ''
    return await reply.redirect(`${visitor.base}/thanks?for=${thanks}${which}`, 303)
  } catch (error) {
    if (!(error instanceof FormFault)) throw error
    const typed = (request.body ?? {}) as Typed
    const wrong = { fault: error.message, itemId: request.params.id ?? null, typed }
    return send(reply.status(400), await pageAgain(visitor, wrong))
  }
}

function parse<Body extends { form?: string | undefined }>(
  visitor: Visitor,
  schema: z.ZodType<Body>,
  given: unknown,
): Body {
  const parsed = schema.safeParse(given ?? {})
  if (!parsed.success) {
    const isLong = parsed.error.issues.some(({ code }) => code === 'too_big')
    throw new FormFault(isLong ? visitor.words.errors.tooLong : visitor.words.errors.form)
  }
  checkForm(visitor, parsed.data.form)
  return parsed.data
}

function isOneClick(body: unknown): boolean {
  if (typeof body === 'string') return /name="List-Unsubscribe"\r?\n\r?\nOne-Click/.test(body)
  const fields = (body ?? {}) as Record<string, unknown>
  return fields['List-Unsubscribe'] === 'One-Click' || fields['confirm'] === 'yes'
}

const send = (reply: FastifyReply, html: string) => reply.type('text/html; charset=utf-8').send(html)

/** In plain words, with the company's phone: nobody who gets here has a log-in or knows what a 410 is. */
async function problemPage(error: FastifyError, request: FastifyRequest, reply: FastifyReply) {
  const status =
    error instanceof Problem
      ? error.status
      : hasZodFastifySchemaValidationErrors(error)
        ? 400
        : error.statusCode && error.statusCode < 500
          ? error.statusCode
          : 500
  if (status >= 500) request.log.error({ err: error }, 'a page for a homeowner failed')
  const code = error instanceof Problem ? error.code : status === 429 ? 'too-many-requests' : 'other'
  const language = languageOf(request)
  const [title, words] = PAGE_WORDS[language].problems[code] ?? PAGE_WORDS[language].problems['other']!
  const company = await companyOf(request.ctx)
  return send(reply.status(status), page('problem', language, company, { title, words, base: null }))
}

/** Without a link that says whose it is, the browser's wish counts. */
function languageOf(request: FastifyRequest): Language {
  return /^\s*es\b/i.test(request.headers['accept-language'] ?? '') ? 'es' : 'en'
}

async function companyOf(ctx: Ctx | undefined) {
  const unknown = { name: '', phone: '', email: '', addressLines: [] }
  return ctx ? readCompany(ctx).catch(() => unknown) : unknown
}
