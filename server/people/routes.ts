import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod'
import { z } from 'zod'
import { doneView } from '../accounts/schema.ts'
import { idParams } from '../ids.ts'
import { changesAccess } from '../plugins/acting.ts'
import { ifMatchHeaders, seenVersion } from '../versions.ts'
import { deviceParams, deviceView } from './device-schema.ts'
import { listDevices, removeDevice } from './devices.ts'
import * as schema from './schema.ts'
import * as service from './service.ts'

const tags = ['people']

export const peopleRoutes: FastifyPluginAsyncZod = async (app) => {
  changesAccess(app)
  app.get('/people', { schema: { tags, response: { 200: z.array(schema.personView) } } }, (request) =>
    service.listPeople(request.ctx),
  )

  app.get(
    '/technicians',
    { schema: { tags, response: { 200: z.array(schema.technicianView) } } },
    (request) => service.listTechnicians(request.ctx),
  )

  app.post(
    '/people',
    { schema: { tags, body: schema.inviteBody, response: { 201: schema.invitationView } } },
    async (request, reply) => reply.status(201).send(await service.invite(request.ctx, request.body)),
  )

  app.post(
    '/people/:id/invitation',
    { schema: { tags, params: idParams, response: { 200: schema.invitationView } } },
    (request) => service.inviteAgain(request.ctx, request.params.id),
  )

  app.patch(
    '/people/:id',
    {
      schema: {
        tags,
        params: idParams,
        headers: ifMatchHeaders,
        body: schema.personChange,
        response: { 200: schema.personView },
      },
    },
    (request) =>
      service.changePerson(request.ctx, request.params.id, seenVersion(request.headers), request.body),
  )

  app.get(
    '/people/:id/devices',
    { schema: { tags, params: idParams, response: { 200: z.array(deviceView) } } },
    (request) => listDevices(request.ctx, request.params.id),
  )

  app.delete(
    '/people/:id/devices/:sessionId',
    { schema: { tags, params: deviceParams, response: { 200: doneView } } },
    async (request) => {
      await removeDevice(request.ctx, request.params.id, request.params.sessionId)
      return { done: true as const }
    },
  )
}
