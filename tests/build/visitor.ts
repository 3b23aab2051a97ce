import type { FastifyInstance } from 'fastify'

let visitors = 0

/** A browser without a log-in; each has an address of its own, for the slowing-down counts by address. */
export function visitorOf(app: FastifyInstance) {
  const remoteAddress = `192.0.2.${(++visitors % 250) + 1}`
  const headers = { 'content-type': 'application/x-www-form-urlencoded' }
  return {
    get: (url: string, more: Record<string, string> = {}) =>
      app.inject({ method: 'GET', url, remoteAddress, headers: more }),
    post: (url: string, fields: Record<string, string>) =>
      app.inject({
        method: 'POST',
        url,
        remoteAddress,
        headers,
        payload: new URLSearchParams(fields).toString(),
      }),
  }
}

/** The hidden fields of the form that posts to an address ending so, with the fields that a person fills in. */
export function fieldsOf(html: string, action: string, act?: string): Record<string, string> {
  const forms = html.match(/<form[\s\S]*?<\/form>/g) ?? []
  const form = forms.find(
    (each) => each.includes(`action="${action}"`) && (!act || each.includes(`value="${act}"`)),
  )
  if (!form) throw new Error(`no form for ${action} ${act ?? ''}`)
  const hidden = [...form.matchAll(/<input type="hidden" name="([^"]+)" value="([^"]*)">/g)]
  return Object.fromEntries(hidden.map(([, name, value]) => [name!, value!]))
}
