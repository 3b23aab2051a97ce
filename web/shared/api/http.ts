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

async function send<Answer>(
  method: string,
  path: string,
  { query, body, version, key, signal }: Sending = {},
): Promise<Answer> {
  const headers: Record<string, string> = { accept: 'application/json' }
  if (body !== undefined) headers['content-type'] = 'application/json'
  if (version !== undefined) headers['if-match'] = `"${version}"`
  if (key) headers['idempotency-key'] = key
  let answer: Response
  try {
    answer = await fetch(urlOf(path, query), {
      method,
      headers,
      ...(body !== undefined && { body: JSON.stringify(body) }),
      ...(signal && { signal }),
    })
  } catch (error) {
    if (error instanceof DOMException && error.name === 'AbortError') throw error
    throw new NoAnswer()
  }
  const isJson = /json/.test(answer.headers.get('content-type') ?? '')
  if (!isJson && answer.status !== 204) throw new NoAnswer()
  const content = answer.status === 204 ? undefined : await answer.json()
  if (!answer.ok) throw new ApiProblem(answer.status, content)
  return content as Answer
}

export const http = {
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
