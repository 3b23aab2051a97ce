import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod'
import { csvResponse, type CsvColumns, sendCsv } from '../csv.ts'
import { idParams } from '../ids.ts'
import { sendJsonText } from '../json-text.ts'
import { ifMatchHeaders, seenVersion } from '../versions.ts'
import * as equipment from './equipment-schema.ts'
import * as equipmentService from './equipment-service.ts'
import { homeView } from './home-schema.ts'
import { changePartiesBody, partiesView } from './party-schema.ts'
import { changeParties } from './party-service.ts'
import * as schema from './schema.ts'
import * as service from './service.ts'
import * as space from './space-schema.ts'
import * as spaceService from './space-service.ts'

const tags = ['homes']
const params = idParams
const headers = ifMatchHeaders
const recordResponse = { 200: schema.propertyRecord }

const CSV: CsvColumns<schema.PropertyRow> = {
  Address: (row) => row.line1,
  'Second line': (row) => row.line2,
  City: (row) => row.city,
  Region: (row) => row.region,
  Postcode: (row) => row.postcode,
  Contact: (row) => row.contactName,
  Phone: (row) => row.contactPhone,
  'Year built': (row) => row.yearBuilt,
  Jurisdiction: (row) => row.jurisdictionName,
  'Last inspected': (row) => row.lastInspectedOn,
  'Next due': (row) => row.nextDueOn,
  'Open follow-ups': (row) => row.openFollowUps,
  'Open findings': (row) => row.openFindings,
  Archived: (row) => row.archivedAt !== null,
  Id: (row) => row.id,
}

export const propertyRoutes: FastifyPluginAsyncZod = async (app) => {
  app.get(
    '/properties',
    { schema: { tags, querystring: schema.propertyListQuery, response: { 200: schema.propertyPage } } },
    (request) => service.listProperties(request.ctx, request.query),
  )

  app.get(
    '/properties/export.csv',
    { schema: { tags, querystring: schema.propertyExportQuery, ...csvResponse } },
    (request, reply) => sendCsv(reply, 'homes', CSV, service.everyProperty(request.ctx, request.query)),
  )

  app.get(
    '/properties/:id',
    { schema: { tags, params, response: { 200: homeView } } },
    async (request, reply) => sendJsonText(reply, await service.readHome(request.ctx, request.params.id)),
  )

  app.post(
    '/properties',
    { schema: { tags, body: schema.newPropertyBody, response: { 201: schema.propertyRecord } } },
    async (request, reply) => reply.status(201).send(await service.addProperty(request.ctx, request.body)),
  )

  app.patch(
    '/properties/:id',
    { schema: { tags, params, headers, body: schema.changePropertyBody, response: recordResponse } },
    (request) =>
      service.changeProperty(request.ctx, request.params.id, seenVersion(request.headers), request.body),
  )

  app.post(
    '/properties/:id/archive',
    { schema: { tags, params, headers, response: recordResponse } },
    (request) => service.archiveProperty(request.ctx, request.params.id, seenVersion(request.headers)),
  )

  app.post(
    '/properties/:id/restore',
    { schema: { tags, params, headers, response: recordResponse } },
    (request) => service.restoreProperty(request.ctx, request.params.id, seenVersion(request.headers)),
  )

  app.put(
    '/properties/:id/parties',
    { schema: { tags, params, headers, body: changePartiesBody, response: { 200: partiesView } } },
    (request) => changeParties(request.ctx, request.params.id, seenVersion(request.headers), request.body),
  )

  app.post(
    '/properties/:id/spaces',
    { schema: { tags, params, body: space.newSpaceBody, response: { 201: space.spaceView } } },
    async (request, reply) =>
      reply.status(201).send(await spaceService.addSpace(request.ctx, request.params.id, request.body)),
  )

  app.patch(
    '/spaces/:id',
    { schema: { tags, params, headers, body: space.changeSpaceBody, response: { 200: space.spaceView } } },
    (request) =>
      spaceService.changeSpace(request.ctx, request.params.id, seenVersion(request.headers), request.body),
  )

  app.delete(
    '/spaces/:id',
    { schema: { tags, params, headers, response: { 200: space.spaceEndView } } },
    (request) => spaceService.removeSpace(request.ctx, request.params.id, seenVersion(request.headers)),
  )

  app.post(
    '/properties/:id/equipment',
    {
      schema: { tags, params, body: equipment.newEquipmentBody, response: { 201: equipment.equipmentView } },
    },
    async (request, reply) =>
      reply
        .status(201)
        .send(await equipmentService.addEquipment(request.ctx, request.params.id, request.body)),
  )

  const oneResponse = { 200: equipment.equipmentView }
  app.patch(
    '/equipment/:id',
    { schema: { tags, params, headers, body: equipment.changeEquipmentBody, response: oneResponse } },
    (request) =>
      equipmentService.changeEquipment(
        request.ctx,
        request.params.id,
        seenVersion(request.headers),
        request.body,
      ),
  )

  app.post(
    '/equipment/:id/retire',
    { schema: { tags, params, headers, body: equipment.retireEquipmentBody, response: oneResponse } },
    (request) =>
      equipmentService.retireEquipment(
        request.ctx,
        request.params.id,
        seenVersion(request.headers),
        request.body,
      ),
  )

  app.post(
    '/equipment/:id/replace',
    {
      schema: {
        tags,
        params,
        headers,
        body: equipment.replaceEquipmentBody,
        response: { 200: equipment.replacedView },
      },
    },
    (request) =>
      equipmentService.replaceEquipment(
        request.ctx,
        request.params.id,
        seenVersion(request.headers),
        request.body,
      ),
  )
}
