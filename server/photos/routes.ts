import type { FastifyError, FastifyReply, FastifyRequest } from 'fastify'
import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod'
import { z } from 'zod'
import { Problem } from '../errors.ts'
import { idParams } from '../ids.ts'
import { photoView } from '../inspections/record-schema.ts'
import * as schema from './schema.ts'
import * as service from './service.ts'
import { uploadRoutes } from './upload-routes.ts'

const tags = ['photos']
const binary = (description: string) => z.any().meta({ type: 'string', format: 'binary', description })

export const photoRoutes: FastifyPluginAsyncZod = async (app) => {
  // Whatever says that it is a picture is read up to the limit; what it really is, the bytes say.
  for (const type of [/^image\//, 'application/octet-stream', 'application/partial-upload']) {
    app.addContentTypeParser(
      type,
      { parseAs: 'buffer', bodyLimit: schema.MAX_PHOTO_BYTES },
      (_request, body, done) => done(null, body),
    )
  }
  await app.register(uploadRoutes)

  app.put(
    '/inspections/:id/photos/:photoId',
    {
      bodyLimit: schema.MAX_PHOTO_BYTES,
      errorHandler: sayHowLarge,
      schema: {
        tags,
        consumes: ['image/jpeg', 'image/png', 'image/webp'],
        params: schema.putPhotoParams,
        querystring: schema.putPhotoQuery,
        body: binary('The picture'),
        response: { 200: photoView, 201: photoView },
      },
    },
    async (request, reply) => {
      const { id, photoId } = request.params
      if (!Buffer.isBuffer(request.body)) {
        throw new Problem('unsupported-type', 'Send the picture itself as the body: JPEG, PNG or WebP.')
      }
      const { photo, isNew } = await service.putPhoto(
        request.ctx,
        {
          inspectionId: id,
          photoId,
          bytes: request.body,
          contentType: request.headers['content-type'] ?? '',
        },
        request.query,
      )
      return reply.status(isNew ? 201 : 200).send(photo)
    },
  )

  app.get('/photos/:id', { schema: { tags, params: idParams, response: { 200: photoView } } }, (request) =>
    service.readPhoto(request.ctx, request.params.id),
  )

  for (const [name, size] of [
    ['picture', 'whole'],
    ['thumbnail', 'thumbnail'],
  ] as const) {
    app.get(
      `/photos/:id/${name}`,
      {
        schema: {
          tags,
          params: idParams,
          produces: ['image/jpeg'],
          response: { 200: binary('JPEG'), 304: z.null().describe('As you have it: by If-None-Match') },
        },
      },
      async (request, reply) => {
        const picture = await service.readPicture(request.ctx, request.params.id, size)
        return sendPicture(request, reply, picture)
      },
    )
  }

  app.patch(
    '/photos/:id',
    { schema: { tags, params: idParams, body: schema.changePhotoBody, response: { 200: photoView } } },
    (request) => service.changePhoto(request.ctx, request.params.id, request.body),
  )

  app.delete(
    '/photos/:id',
    { schema: { tags, params: idParams, response: { 204: z.null() } } },
    async (request, reply) => {
      await service.removePhoto(request.ctx, request.params.id)
      return reply.status(204).send(null)
    },
  )
}

/** The bytes of a photo never change, so a browser may keep them; only for the one who is logged in. */
function sendPicture(
  request: FastifyRequest,
  reply: FastifyReply,
  { bytes, etag }: { bytes: Buffer; etag: string },
) {
  reply.header('etag', etag).header('cache-control', 'private, max-age=31536000, immutable')
  if (request.headers['if-none-match'] === etag) return reply.status(304).send()
  return reply.header('content-type', 'image/jpeg').send(bytes)
}

function sayHowLarge(error: FastifyError): never {
  if (error.code !== 'FST_ERR_CTP_BODY_TOO_LARGE') throw error
  throw service.tooLarge()
}
