import { createServer, type IncomingMessage, request } from 'node:http'
import type { AddressInfo, Socket } from 'node:net'

/** Method and path of each request, and the status that the phone was told. */
export interface Passed {
  what: string
  status: number
}

/** A 500 in place of the answer; the company has heard the request, or has not. */
export type Fault = 'unheard' | 'heard' | null

/**
 * The mobile signal between a phone and the company: a proxy that can go away, and that can break. A phone behind it
 * believes to be online, as real ones do in basements.
 */
export async function startSignal(port: number) {
  let target = ''
  let isThere = true
  let fault: (request: IncomingMessage) => Fault = () => null
  const passed: Passed[] = []
  const open = new Set<Socket>()

  const server = createServer((incoming, outgoing) => {
    const what = `${incoming.method} ${incoming.url!.split('?')[0]}`
    if (!isThere) return void incoming.socket.destroy()
    const broken = fault(incoming)
    const answerBroken = () => {
      passed.push({ what, status: 500 })
      outgoing.writeHead(500, { 'content-type': 'application/problem+json' })
      outgoing.end(JSON.stringify({ type: 'about:blank', title: 'Something broke', status: 500 }))
    }
    if (broken === 'unheard') return void incoming.resume().on('end', answerBroken)
    const onward = request(
      `${target}${incoming.url}`,
      { method: incoming.method, headers: incoming.headers },
      (answer) => {
        if (broken === 'heard') return void answer.resume().on('end', answerBroken)
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
    breakAt: (when: typeof fault) => (fault = when),
    mend: () => (fault = () => null),
    stop: () =>
      new Promise<void>((resolve) => {
        for (const socket of open) socket.destroy()
        server.close(() => resolve())
      }),
  }
}
export type Signal = Awaited<ReturnType<typeof startSignal>>
