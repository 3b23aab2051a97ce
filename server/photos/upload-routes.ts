import type { FastifyError, FastifyReply } from 'fastify'
import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod'
import { z } from 'zod'
import { Problem } from '../errors.ts'
import { putPhotoParams, putPhotoQuery } from './schema.ts'
import * as schema from './upload-schema.ts'
import * as service from './uploads.ts'

const tags = ['photos']
const URL = '/inspections/:id/photos/:photoId/upload'
const part = z.any().meta({ type: 'string', format: 'binary', description: 'A part of the picture' })
const limits = { bodyLimit: schema.MAX_PART_BYTES, errorHandler: sayHowLarge }

/** Registered within the photos' routes, whose parsers of bodies it uses. */
export const uploadRoutes: FastifyPluginAsyncZod = async (app) => {
  app.put(
    URL,
    {
      ...limits,
      schema: {
        tags,
        consumes: ['image/jpeg', 'image/png', 'image/webp'],
        params: putPhotoParams,
        querystring: putPhotoQuery,
        headers: schema.beginUploadHeaders,
        body: part,
        response: { 200: schema.uploadView, 201: schema.uploadView },
      },
    },
    async (request, reply) => {
      const contentType = request.headers['content-type'] ?? ''
      const first = { ...placeOf(request.params), bytes: bytesOf(request.body), contentType }
      const view = await service.beginUpload(request.ctx, first, request.headers, request.query)
      reply.header(
        'location',
        `/api/v1/inspections/${request.params.id}/photos/${request.params.photoId}/upload`,
      )
      return answer(reply.status(view.complete ? 200 : 201), view)
    },
  )

  app.get(
    URL,
    { schema: { tags, params: putPhotoParams, response: { 200: schema.uploadView } } },
    async (request, reply) => answer(reply, await service.readUpload(request.ctx, placeOf(request.params))),
  )

  app.patch(
    URL,
    {
      ...limits,
      schema: {
        tags,
        consumes: ['application/partial-upload'],
        params: putPhotoParams,
        headers: schema.appendHeaders,
        body: part,
        response: { 200: schema.uploadView },
      },
    },
    async (request, reply) => {
      const place = placeOf(request.params)
      const bytes = bytesOf(request.body)
      return answer(reply, await service.appendToUpload(request.ctx, place, request.headers, bytes))
    },
  )

  app.delete(
    URL,
    { schema: { tags, params: putPhotoParams, response: { 204: z.null() } } },
    async (request, reply) => {
      await service.giveUpUpload(request.ctx, placeOf(request.params))
      return reply.status(204).send(null)
    },
  )
}

const placeOf = ({ id, photoId }: z.output<typeof putPhotoParams>) => ({ inspectionId: id, photoId })

function bytesOf(body: unknown): Buffer {
  if (Buffer.isBuffer(body)) return body
  throw new Problem('unsupported-type', 'Send a part of the picture itself as the body.')
}

function answer(reply: FastifyReply, view: schema.UploadView) {
  reply.header('cache-control', 'no-store').header('upload-complete', view.complete ? '?1' : '?0')
  if (view.offset !== null) reply.header('upload-offset', view.offset).header('upload-length', view.length)
  return reply.send(view)
}

function sayHowLarge(error: FastifyError): never {
  if (error.code !== 'FST_ERR_CTP_BODY_TOO_LARGE') throw error
  throw new Problem(
    'too-large',
    `A part may have ${schema.MAX_PART_BYTES / 1024 / 1024} MB at most; send smaller ones.`,
  )
}
