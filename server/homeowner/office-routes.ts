import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod'
import { idParams } from '../ids.ts'
import * as office from './office.ts'
import * as schema from './office-schema.ts'

const tags = ['follow-ups']

export const homeownerAnswerRoutes: FastifyPluginAsyncZod = async (app) => {
  app.get(
    '/homeowner-answers',
    { schema: { tags, querystring: schema.answerListQuery, response: { 200: schema.answerPage } } },
    (request) => office.listAnswers(request.ctx, request.query),
  )

  app.post(
    '/homeowner-answers/:id/check',
    { schema: { tags, params: idParams, response: { 200: schema.officeAnswer } } },
    (request) => office.checkAnswer(request.ctx, request.params.id),
  )
}
