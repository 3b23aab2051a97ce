import type { FastifyError, FastifyReply, FastifyRequest } from 'fastify'
import { hasZodFastifySchemaValidationErrors } from 'fastify-type-provider-zod'
import fp from 'fastify-plugin'
import { type FieldFault, Problem, type ProblemCode, PROBLEMS } from '../errors.ts'
import { problemOfSql } from '../sql-problems.ts'

/** Turns whatever was thrown into application/problem+json (RFC 9457). Unknown errors: logged whole, answered bare. */
export const problems = fp(async (app) => {
  app.setErrorHandler((error: FastifyError, request, reply) => {
    const problem = asProblem(error)
    if (problem.status >= 500) request.log.error({ err: error }, problem.message)
    return sendProblem(request, reply, problem)
  })
  app.setNotFoundHandler((request, reply) =>
    sendProblem(
      request,
      reply,
      new Problem('not-found', `There is nothing at ${request.method} ${request.url.split('?')[0]}.`),
    ),
  )
})

export function sendProblem(request: FastifyRequest, reply: FastifyReply, problem: Problem) {
  const { title, status } = PROBLEMS[problem.code]
  const body = {
    type: `/problems/${problem.code}`,
    title,
    status,
    detail: problem.message,
    requestId: request.id,
    ...problem.more,
  }
  return reply
    .status(status)
    .header('content-type', 'application/problem+json; charset=utf-8')
    .header('cache-control', 'no-store')
    .serializer(JSON.stringify)
    .send(body)
}

const BY_STATUS: Readonly<Record<number, ProblemCode>> = {
  400: 'invalid-request',
  404: 'not-found',
  405: 'method-not-allowed',
  413: 'too-large',
  415: 'unsupported-type',
  429: 'too-many-requests',
  503: 'not-available',
}

function asProblem(error: FastifyError): Problem {
  if (error instanceof Problem) return error
  if (hasZodFastifySchemaValidationErrors(error)) {
    const errors = error.validation.map((each) => fieldFault(error.validationContext ?? 'body', each))
    return new Problem('invalid-request', errors.map((each) => `${each.pointer} ${each.detail}`).join('; '), {
      errors,
    })
  }
  const stored = problemOfSql(error)
  if (stored) return stored
  const code = error.statusCode ? BY_STATUS[error.statusCode] : undefined
  return code
    ? new Problem(code, error.message)
    : new Problem(
        'internal-error',
        'It has been logged. Try again; if it stays, tell the office and name the request id.',
      )
}

/** Zod's issue, in the words of a JSON pointer for bodies, `?name` for the query, `path/name` for the address. */
function fieldFault(context: string, issue: { instancePath?: string; message?: string }): FieldFault {
  const path = issue.instancePath ?? ''
  const pointer =
    context === 'querystring'
      ? `?${path.slice(1)}`
      : context === 'params'
        ? `path${path}`
        : context === 'headers'
          ? `header${path}`
          : `#${path}`
  return { pointer, detail: issue.message ?? 'is not right' }
}
