import { createServer, request, type IncomingMessage, type ServerResponse } from 'node:http'
import type { AddressInfo, Socket } from 'node:net'

/** What passed: method and path of each request, and the status that the phone saw; null: the line broke. */
export interface Passed {
  what: string
  status: number | null
}

/**
 * The mobile signal between a phone and the company: a proxy that can go away, and that can break. A phone behind it
 * believes to be online, as real ones do in basements.
 */
export async function startSignal(port: number) {
  let target = ''
  let isThere = true
  let fault: (request: IncomingMessage) => boolean = () => false
  const passed: Passed[] = []
  const open = new Set<Socket>()

  const server = createServer((incoming, outgoing) => {
    const what = `${incoming.method} ${incoming.url!.split('?')[0]}`
    if (!isThere) return void incoming.socket.destroy()
    if (fault(incoming)) return answerBroken(incoming, outgoing, () => passed.push({ what, status: 500 }))
    const onward = request(
      `${target}${incoming.url}`,
      { method: incoming.method, headers: incoming.headers },
      (answer) => {
        passed.push({ what, status: answer.statusCode! })
        outgoing.writeHead(answer.statusCode!, answer.headers)
        answer.pipe(outgoing)
      },
    )
    onward.on('error', () => outgoing.destroy())
    incoming.on('error', () => onward.destroy())
    incoming.pipe(onward)
  })
  server.on('connection', (socket: Socket) => {
    if (!isThere) return void socket.destroy()
    open.add(socket)
    socket.on('close', () => open.delete(socket))
  })
  await new Promise<void>((resolve) => server.listen(port, '127.0.0.1', resolve))
  return {
    url: `http://localhost:${(server.address() as AddressInfo).port}`,
    passed,
    leadTo: (url: string) => (target = url),
    lose: () => {
      isThere = false
      for (const socket of open) socket.destroy()
    },
    find: () => (isThere = true),
    /** Answers 500 to whatever the function says; the server may or may not have heard it. */
    break: (when: typeof fault) => (fault = when),
    mend: () => (fault = () => false),
    stop: () =>
      new Promise<void>((resolve) => {
        for (const socket of open) socket.destroy()
        server.close(() => resolve())
      }),
  }
}
export type Signal = Awaited<ReturnType<typeof startSignal>>

function answerBroken(incoming: IncomingMessage, outgoing: ServerResponse, then: () => void): void {
  incoming.resume()
  incoming.on('end', () => {
    outgoing.writeHead(500, { 'content-type': 'application/problem+json' })
    outgoing.end(JSON.stringify({ type: 'about:blank', title: 'Something broke', status: 500 }))
    then()
  })
}
