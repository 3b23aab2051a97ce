import { type DestinationStream, type Logger, pino } from 'pino'
import type { Env } from './env.ts'

const HIDDEN = '[hidden]'

/** JSON lines on standard output: what a container's log collector reads. Nothing secret goes in. */
export function createLog(
  env: Pick<Env, 'logLevel'>,
  part: 'api' | 'worker',
  to?: DestinationStream,
): Logger {
  const options = {
    level: env.logLevel,
    base: { part },
    timestamp: pino.stdTimeFunctions.isoTime,
    formatters: { level: (label: string) => ({ level: label }) },
    redact: { paths: secretPaths, censor: HIDDEN },
    serializers: {
      req: (request: { method: string; url: string; ip?: string }) => ({
        method: request.method,
        url: withoutSecrets(request.url),
        ip: request.ip,
      }),
    },
  }
  return to ? pino(options, to) : pino(options)
}

const secretFields = [
  'authorization',
  'cookie',
  '["set-cookie"]',
  'password',
  'token',
  'secret',
  'databaseUrl',
  'redisUrl',
  'smtpUrl',
]
const secretPaths = secretFields.flatMap((field) =>
  field.startsWith('[') ? [field, `*${field}`, `*.*${field}`] : [field, `*.${field}`, `*.*.${field}`],
)

/** An address as it may stand in a log: whoever holds a private link is let in, so its token must not. */
export function withoutSecrets(url: string): string {
  const [path = '', query] = url.split('?', 2)
  const hidden = path
    .split('/')
    .map((part) => (looksLikeToken(part) ? HIDDEN : part))
    .join('/')
  return query === undefined
    ? hidden
    : `${hidden}?${query.replace(/((?:^|&)(?:token|t|code|key)=)[^&]*/gi, `$1${HIDDEN}`)}`
}

const UUID = /^[0-9a-f]{8}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{12}$/i

function looksLikeToken(part: string): boolean {
  return (
    part.length >= 20 &&
    /^[\w.~-]+$/.test(part) &&
    !UUID.test(part) &&
    (/\d/.test(part) || /[A-Z]/.test(part))
  )
}
