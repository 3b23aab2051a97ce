import type { FastifyReply, FastifyRequest } from 'fastify'
import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod'
import { z } from 'zod'
import { idParams } from '../ids.ts'
import { sendStaffLink } from '../people/service.ts'
import { changesAccess } from '../plugins/acting.ts'
import * as schema from './schema.ts'
import * as service from './service.ts'

/** Guesses at passwords and links are slowed by address; the account itself rests after too many. */
const slowly = { config: { rateLimit: { max: 20, timeWindow: '1 minute' } } }
const done = { done: true } as const

export const accountRoutes: FastifyPluginAsyncZod = async (app) => {
  changesAccess(app)
  app.post(
    '/log-in',
    { ...slowly, schema: { tags: ['accounts'], body: schema.logInBody, response: { 200: schema.doneView } } },
    async (request, reply) => {
      const { email, password } = request.body
      setCookie(request, reply, await service.logIn(request.ctx, email, password, agentOf(request)))
      return done
    },
  )

  app.post(
    '/log-out',
    { schema: { tags: ['accounts'], response: { 200: schema.doneView } } },
    async (request, reply) => {
      await service.logOut(request.ctx)
      reply.clearCookie(service.sessionCookie(request.ctx.env), { path: '/' })
      return done
    },
  )

  app.get('/me', { schema: { tags: ['accounts'], response: { 200: schema.meView } } }, (request) =>
    service.whoAmI(request.ctx),
  )

  app.post(
    '/me/password',
    {
      ...slowly,
      schema: { tags: ['accounts'], body: schema.changePasswordBody, response: { 200: schema.doneView } },
    },
    async (request) => {
      await service.changePassword(request.ctx, request.body.current, request.body.password)
      return done
    },
  )

  app.post(
    '/forgotten-password',
    {
      ...slowly,
      schema: { tags: ['accounts'], body: schema.forgottenBody, response: { 200: schema.doneView } },
    },
    async (request) => {
      await sendStaffLink(request.ctx, request.body.email, 'password-reset')
      return done
    },
  )

  app.get(
    '/staff-link',
    {
      ...slowly,
      schema: {
        tags: ['accounts'],
        querystring: schema.linkTokenQuery,
        response: { 200: schema.linkTokenView },
      },
    },
    (request) => service.readUserLink(request.ctx, request.query.token),
  )

  app.post(
    '/staff-link',
    {
      ...slowly,
      schema: { tags: ['accounts'], body: schema.linkTokenBody, response: { 200: schema.doneView } },
    },
    async (request, reply) => {
      const { token, password } = request.body
      setCookie(request, reply, await service.useUserLink(request.ctx, token, password, agentOf(request)))
      return done
    },
  )

  app.get(
    '/me/sessions',
    { schema: { tags: ['accounts'], response: { 200: z.array(schema.sessionView) } } },
    (request) => service.listSessions(request.ctx),
  )

  app.delete(
    '/me/sessions/:id',
    { schema: { tags: ['accounts'], params: idParams, response: { 200: schema.doneView } } },
    async (request) => {
      await service.endSession(request.ctx, request.params.id)
      return done
    },
  )

  app.get(
    '/me/tokens',
    { schema: { tags: ['accounts'], response: { 200: z.array(schema.tokenView) } } },
    (request) => service.listTokens(request.ctx),
  )

  app.post(
    '/me/tokens',
    { schema: { tags: ['accounts'], body: schema.tokenBody, response: { 200: schema.newTokenView } } },
    (request) => service.createToken(request.ctx, request.body),
  )

  app.delete(
    '/me/tokens/:id',
    { schema: { tags: ['accounts'], params: idParams, response: { 200: schema.doneView } } },
    async (request) => {
      await service.revokeToken(request.ctx, request.params.id)
      return done
    },
  )
}

function setCookie(request: FastifyRequest, reply: FastifyReply, token: string): void {
  reply.setCookie(service.sessionCookie(request.ctx.env), token, {
    path: '/',
    httpOnly: true,
    sameSite: 'lax',
    secure: request.ctx.env.publicUrl.startsWith('https:'),
    maxAge: 30 * 86_400,
  })
}

const agentOf = (request: FastifyRequest) => String(request.headers['user-agent'] ?? '')
