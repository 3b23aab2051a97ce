import { once } from 'node:events'
import { type IncomingMessage, request } from 'node:http'
import { type AddressInfo, connect } from 'node:net'
import type { FastifyInstance } from 'fastify'
import { dkimVerify } from 'mailauth/lib/dkim/verify.js'
import { simpleParser } from 'mailparser'

type Resolver = (name: string, type: string) => Promise<string[][]>
interface Answer {
  status: number
  headers: IncomingMessage['headers']
}

/**
 * A mail receiver's one-click unsubscription, step by step as RFC 8058 says, from nothing but the message as it arrived.
 * @param more.resolver the DNS, for the DKIM key
 * @param more.connectTo the server that the host in the link would lead to; the link itself is left as it is
 * @throws where the RFC says that there is no one-click way out
 */
export async function oneClick(
  source: Buffer,
  { resolver, connectTo }: { resolver: Resolver; connectTo: FastifyInstance },
) {
  const mail = await simpleParser(source)
  const only = (name: string) => {
    const lines = mail.headerLines.filter(({ key }) => key === name.toLowerCase())
    if (lines.length !== 1) throw new Error(lines.length === 0 ? `no ${name}` : `${name} more than once`)
    return lines[0]!.line
      .slice(name.length + 1)
      .replace(/\s+/g, ' ')
      .trim()
  }
  // §3.1: one HTTPS URI in List-Unsubscribe (RFC 2369 §2: in angle brackets), among whatever else; here the test company
  // has no certificate. §2: List-Unsubscribe-Post with exactly this value.
  const uris = [...only('List-Unsubscribe').matchAll(/<([^>]+)>/g)].map(([, uri]) => uri!)
  const webUris = uris.filter((uri) => /^https?:/.test(uri))
  if (webUris.length !== 1) throw new Error('not exactly one URI to post to')
  if (only('List-Unsubscribe-Post') !== 'List-Unsubscribe=One-Click') throw new Error('no one-click')
  // §4: a valid DKIM signature that covers both.
  const { results } = await dkimVerify(source, { resolver: resolver as never })
  const valid = results.filter(({ status }) => status.result === 'pass')
  const covers = valid.some((each) => {
    // Not in the types of the verifier: names of the header fields that were signed.
    const { signingHeaders } = each as { signingHeaders?: { keys: string } }
    const keys = String(signingHeaders?.keys)
      .toLowerCase()
      .split(/[:;,\s]+/)
    return keys.includes('list-unsubscribe') && keys.includes('list-unsubscribe-post')
  })
  if (!covers) throw new Error('no valid signature covers both header fields')

  const uri = new URL(webUris[0]!)
  if (!connectTo.server.listening) await connectTo.listen({ port: 0, host: '127.0.0.1' })
  const { port } = connectTo.server.address() as AddressInfo
  /** No cookies, no HTTP authorization, no other context (§3.1), and no redirect followed (§3.1). */
  async function call(method: string, body?: { type: string; content: string }): Promise<Answer> {
    const headers = body && {
      'content-type': body.type,
      'content-length': String(Buffer.byteLength(body.content)),
    }
    const asking = request(uri, { method, headers, createConnection: () => connect(port, '127.0.0.1') })
    asking.end(body?.content)
    const [answer] = (await once(asking, 'response')) as [IncomingMessage]
    answer.resume()
    await once(answer, 'end')
    return { status: answer.statusCode!, headers: answer.headers }
  }
  return {
    fetchLikeAScanner: (method: 'GET' | 'HEAD') => call(method),
    /** §3.1: the key and value pair of List-Unsubscribe-Post, as either of these. */
    unsubscribe(type: 'application/x-www-form-urlencoded' | 'multipart/form-data'): Promise<Answer> {
      if (type === 'application/x-www-form-urlencoded')
        return call('POST', { type, content: 'List-Unsubscribe=One-Click' })
      // RFC 7578, with the lines of RFC 2046.
      const content =
        '--FrontierOne\r\nContent-Disposition: form-data; name="List-Unsubscribe"\r\n\r\nOne-Click\r\n--FrontierOne--\r\n'
      return call('POST', { type: `${type}; boundary=FrontierOne`, content })
    },
  }
}
