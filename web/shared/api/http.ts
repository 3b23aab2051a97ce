/** A problem document (RFC 9457) that the server answered with, or what stood in for one when nothing answered. */
export class ApiProblem extends Error {
  readonly type: string
  readonly status: number
  readonly requestId: string | null
  /** Faults by field, from `errors`: `#/phone` → what is wrong. */
  readonly faults: ReadonlyMap<string, string>
  readonly body: Readonly<Record<string, unknown>>
  constructor(status: number, body: Record<string, unknown>) {
    super(String(body['detail'] ?? body['title'] ?? 'Something went wrong.'))
    this.status = status
    this.type = String(body['type'] ?? 'about:blank').replace('/problems/', '')
    this.requestId = typeof body['requestId'] === 'string' ? body['requestId'] : null
    const errors = (body['errors'] ?? []) as { pointer: string; detail: string }[]
    this.faults = new Map(errors.map((each) => [each.pointer, each.detail]))
    this.body = body
  }
}

/** No answer at all: no network, or a captive page instead of ours. */
export class NoAnswer extends Error {
  constructor() {
    super('The office cannot be reached. Check the connection, then try again.')
  }
}

type Query = Readonly<Record<string, string | number | boolean | null | undefined>>
interface Sending {
  query?: Query
  body?: unknown
  /** Version that the person saw: sent as If-Match. */
  version?: number
  /** Names this act: sent again, it is still done once. */
  key?: string
  signal?: AbortSignal
}

const BASE = '/api/v1'

export function urlOf(path: string, query: Query = {}): string {
  const given = Object.entries(query).filter(
    ([, value]) => value !== undefined && value !== null && value !== '',
  )
  const search = new URLSearchParams(given.map(([name, value]) => [name, String(value)]))
  return `${BASE}${path}${given.length ? `?${search}` : ''}`
}

/** The API over some way of fetching; a page has the browser's own. */
export function httpOver(fetcher: typeof fetch) {
  async function send<Answer>(
    method: string,
    path: string,
    { query, body, version, key, signal }: Sending = {},
  ): Promise<Answer> {
    const headers: Record<string, string> = { accept: 'application/json' }
    if (body !== undefined) headers['content-type'] = 'application/json'
    if (version !== undefined) headers['if-match'] = `"${version}"`
    if (key) headers['idempotency-key'] = key
    return answerOf<Answer>(
      fetcher(urlOf(path, query), {
        method,
        headers,
        ...(body !== undefined && { body: JSON.stringify(body) }),
        ...(signal && { signal }),
      }),
    )
  }
  return {
    get: <Answer>(path: string, query?: Query, signal?: AbortSignal) =>
      send<Answer>('GET', path, { ...(query && { query }), ...(signal && { signal }) }),
    post: <Answer>(path: string, body: unknown = {}, more: Sending = {}) =>
      send<Answer>('POST', path, { ...more, body }),
    patch: <Answer>(path: string, version: number, body: unknown) =>
      send<Answer>('PATCH', path, { version, body }),
    put: <Answer>(path: string, body: unknown, more: Sending = {}) =>
      send<Answer>('PUT', path, { ...more, body }),
    delete: <Answer>(path: string, more: Sending = {}) => send<Answer>('DELETE', path, more),
  }
}

/** @throws ApiProblem what the server answered with; NoAnswer when it was not the server that answered, if anybody */
export async function answerOf<Answer>(sent: Promise<Response>): Promise<Answer> {
  let answer: Response
  try {
    answer = await sent
  } catch (error) {
    if (error instanceof DOMException && error.name === 'AbortError') throw error
    throw new NoAnswer()
  }
  if (answer.status === 204) return undefined as Answer
  if (!/json/.test(answer.headers.get('content-type') ?? '')) throw new NoAnswer()
  // The connection may break off within the answer.
  const content = (await answer.json().catch(() => {
    throw new NoAnswer()
  })) as Record<string, unknown>
  if (!answer.ok) throw new ApiProblem(answer.status, content)
  return content as Answer
}

/** Asked for at each call: tests and the service worker put another in its place. */
export const http = httpOver((...given) => fetch(...given))
