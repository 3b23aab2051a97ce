import { Ajv2020, type ValidateFunction } from 'ajv/dist/2020.js'
import addFormats from 'ajv-formats'
import type { FastifyInstance, LightMyRequestResponse } from 'fastify'

interface Operation {
  responses: Record<string, { content?: Record<string, { schema?: object }> }>
}
interface Document {
  paths: Record<string, Record<string, Operation>>
}

/**
 * Says where an answer is not what the OpenAPI document promises of it: status, media type or a field of its body.
 * Judged by an independent JSON Schema validator. Nothing outside /api/v1 is documented.
 */
export function documentedAnswers(app: FastifyInstance) {
  return (judge ??= judgeBy(app.swagger() as unknown as Document))
}

/** Of all apps of a process: each promises the same, and to write the document down takes as long as to start the app. */
let judge: ReturnType<typeof judgeBy> | undefined

function judgeBy(document: Document) {
  const ajv = addFormats.default(new Ajv2020({ strict: false, allErrors: true }))
  const compiled = new Map<object, ValidateFunction>()
  const paths = Object.keys(document.paths).map((path) => ({
    path,
    // A name in the address stands for one part of it; fixed parts win over names.
    matches: new RegExp(`^${path.replaceAll('.', '\\.').replaceAll(/\{\w+\}/g, '[^/]+')}$`),
    names: path.split('{').length,
  }))
  paths.sort((a, b) => a.names - b.names)

  return (method: string, url: string, response: LightMyRequestResponse): string[] => {
    const address = url.split('?')[0]!
    const path = paths.find((each) => each.matches.test(address))?.path
    const operation = path && document.paths[path]![method.toLowerCase()]
    if (!operation) return []
    const promised = operation.responses[response.statusCode] ?? operation.responses['default']
    const type = String(response.headers['content-type'] ?? '').split(';')[0]!
    const where = `${method} ${path} ${response.statusCode}`
    if (!promised) return [`${where} is not documented`]
    if (!promised.content)
      return response.body === '' || type === 'text/event-stream' ? [] : [`${where} has a body`]
    const schema = promised.content[type]?.schema
    if (!schema)
      return [`${where} promises ${Object.keys(promised.content).join(', ')} and sends ${type || 'none'}`]
    if (!type.endsWith('json')) return []
    let validate = compiled.get(schema)
    if (!validate) compiled.set(schema, (validate = ajv.compile(schema)))
    if (validate(response.json())) return []
    return validate.errors!.map((error) => `${where} ${error.instancePath} ${error.message}`)
  }
}
