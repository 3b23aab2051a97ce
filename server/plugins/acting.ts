import type { FastifyInstance, FastifyRequest } from 'fastify'
import fp from 'fastify-plugin'
import { actorOfRequest, wipedSession } from '../accounts/service.ts'
import { whoIsKnown, type WhoIsKnown } from '../accounts/who-is-known.ts'
import { type Access, ROUTE_ACCESS } from '../access.ts'
import type { BaseCtx, Ctx, UserActor } from '../ctx.ts'
import { Problem } from '../errors.ts'
import type { Changes } from '../events/changes.ts'
import { checkSameSite } from './same-site.ts'

declare module 'fastify' {
  interface FastifyInstance {
    whoIsKnown: WhoIsKnown
  }
  interface FastifyRequest {
    ctx: Ctx
  }
}

/** Finds out who acts, gives the request its ctx, and lets it pass only where the table says so. */
export const acting = fp<{ base: BaseCtx; changes: Changes }>(async (app, { base, changes }) => {
  app.decorateRequest('ctx')
  const known = whoIsKnown(changes)
  app.decorate('whoIsKnown', known)

  app.addHook('onRoute', ({ method, url }) => {
    for (const each of [method].flat()) {
      if (each === 'HEAD' || each === 'OPTIONS') continue
      if (url.startsWith('/api/v1/') && !ROUTE_ACCESS[`${each} ${url}`]) {
        throw new Error(`no line in server/access.ts says who may call ${each} ${url}`)
      }
    }
  })

  app.addHook('onRequest', async (request) => {
    const nobody: Ctx = {
      ...base,
      actor: { kind: 'nobody' },
      ip: request.ip,
      requestId: request.id,
      log: request.log,
    }
    request.ctx = nobody
    const access = accessOf(request)
    if (access === 'anyone' || access === 'link' || access === null) return
    const { actor, byCookie } = await actorOfRequest(
      nobody,
      known,
      request.headers.authorization,
      request.cookies,
    )
    if (actor.kind !== 'user') throw await notIn(nobody, request)
    checkPerson(request, actor)
    if (byCookie) checkSameSite(request, base.env, actor)
    if (!access.includes(actor.role)) {
      throw new Problem(
        'not-allowed',
        `This is for ${access.join(' and ')}; you are logged in as ${actor.role}.`,
      )
    }
    request.ctx = { ...nobody, actor }
  })
})

/**
 * For routes whose writes end sessions or change what people may do: here that holds before the answer is given; other
 * processes are told by the database.
 */
export function changesAccess(app: FastifyInstance): void {
  app.addHook('onSend', async (request, _reply, payload) => {
    if (request.method !== 'GET') app.whoIsKnown.forget()
    return payload
  })
}

async function notIn(ctx: Ctx, { cookies }: FastifyRequest): Promise<Problem> {
  return (await wipedSession(ctx, cookies))
    ? new Problem('device-revoked', 'The office ended its session; what it held of customers is deleted.')
    : new Problem('not-logged-in', 'Log in, then try again.')
}

/** A device says whose work it holds: it is not done in the name of whoever happens to be logged in by now. */
function checkPerson(request: FastifyRequest, actor: UserActor): void {
  const person = request.headers['field-person']
  if (person === undefined || person === actor.id) return
  throw new Problem('other-person', `This device holds another person’s work; ${actor.name} is logged in.`)
}

/** Null for what is no part of the API: pages, files, health. */
function accessOf(request: FastifyRequest): Access | null {
  const { url, method } = request.routeOptions
  if (!url?.startsWith('/api/v1/')) return null
  const name =
    request.method === 'HEAD' ? 'GET' : [method].flat().includes(request.method) ? request.method : ''
  return ROUTE_ACCESS[`${name} ${url}`] ?? null
}
