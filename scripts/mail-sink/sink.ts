import { type AddressInfo, createServer, type Socket } from 'node:net'

// A mail server that takes everything and keeps nothing but what was said, as fast as a program of a few lines can, and
// that misbehaves when told to: for measuring and for faults. RFC 5321, without extensions.

/** Where a conversation stands when the server may misbehave. `answer`: the letter was taken, the answer not yet said. */
export type Stage = 'greeting' | 'hello' | 'from' | 'to' | 'data' | 'body' | 'answer'

/** `drop`: the connection ends at once. `hang`: no answer, ever. `drip`: the answer comes letter by letter. `later`: 451. */
export type Mischief = 'drop' | 'hang' | 'drip' | 'later'

/** A letter that the server took. */
export interface Taken {
  messageId: string
  at: number
  /** The client said something more on the connection, so it had heard the answer. */
  heard: boolean
  source: Buffer
}

export interface Sink {
  url: string
  taken: Taken[]
  /** Set it to have the server misbehave. */
  mischief: (stage: Stage) => Mischief | null
  stop: () => Promise<void>
}

const DRIP_MS = 40
const LATER = '451 4.3.0 try again later\r\n'

export async function startSink({ keepSources = false } = {}): Promise<Sink> {
  const sockets = new Set<Socket>()
  const server = createServer({ noDelay: true }, (socket) => {
    sockets.add(socket)
    socket.on('error', () => {})
    socket.on('close', () => sockets.delete(socket))
    converse(socket, sink, keepSources)
  })
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve))
  const sink: Sink = {
    url: `smtp://127.0.0.1:${(server.address() as AddressInfo).port}`,
    taken: [],
    mischief: () => null,
    stop: () => {
      for (const socket of sockets) socket.destroy()
      return new Promise((resolve) => server.close(() => resolve()))
    },
  }
  return sink
}

const STAGES: Readonly<Record<string, Stage>> = {
  EHLO: 'hello',
  HELO: 'hello',
  MAIL: 'from',
  RCPT: 'to',
  DATA: 'data',
}
const END = Buffer.from('\r\n.\r\n')

/** One conversation. Commands come one at a time: the client is not told of pipelining. */
function converse(socket: Socket, sink: Sink, keepSources: boolean): void {
  let inBody = false
  let body: Buffer[] = []
  let line = ''
  let last: Taken | null = null
  let hangs = false
  let putsOff = false

  /** @returns whether the answer was given, or will be in time */
  const say = (stage: Stage, answer: string): boolean => {
    const what = sink.mischief(stage)
    if (what === null) socket.write(answer)
    if (what === 'drop') socket.destroy()
    if (what === 'drip') drip(socket, answer)
    if (what === 'later') socket.write(LATER)
    return what === null || what === 'drip'
  }

  function hear(command: string): void {
    if (last) last.heard = true
    const verb = command.slice(0, 4).toUpperCase()
    const stage = STAGES[verb]
    if (verb === 'QUIT') socket.end('221 bye\r\n')
    else if (!stage) socket.write('250 ok\r\n')
    else if (stage === 'data') {
      inBody = say('data', '354 go on\r\n')
      body = []
    } else say(stage, '250 ok\r\n')
  }

  function take(source: Buffer): void {
    const messageId = /^message-id:\s*(<[^>]*>)/im.exec(source.toString('latin1', 0, 4096))?.[1] ?? ''
    const kept = keepSources ? source : Buffer.alloc(0)
    last = { messageId, at: performance.now(), heard: false, source: kept }
    sink.taken.push(last)
    say('answer', '250 taken\r\n')
  }

  /** The text of a letter has no answer before its end: read slowly, it is read whole. */
  function goesWrong(): boolean {
    const what = sink.mischief('body')
    if (what === 'drop') socket.destroy()
    hangs = what === 'hang'
    putsOff = what === 'later'
    return what === 'drop' || hangs
  }

  socket.on('data', (chunk: Buffer) => {
    if (hangs) return
    if (!inBody) {
      line += chunk.toString('latin1')
      for (let end = line.indexOf('\r\n'); end >= 0 && !inBody; end = line.indexOf('\r\n')) {
        const command = line.slice(0, end)
        line = line.slice(end + 2)
        hear(command)
      }
      return
    }
    if (body.length === 0 && goesWrong()) return
    body.push(chunk)
    const tail = chunk.length >= END.length ? chunk : Buffer.concat(body.slice(-3))
    if (!tail.subarray(-END.length).equals(END)) return
    inBody = false
    if (putsOff) socket.write(LATER)
    else take(body.length === 1 ? chunk : Buffer.concat(body))
    putsOff = false
  })
  say('greeting', '220 sink\r\n')
}

function drip(socket: Socket, answer: string): void {
  let said = 0
  const timer = setInterval(() => {
    if (said >= answer.length || socket.destroyed) return clearInterval(timer)
    socket.write(answer[said++]!)
  }, DRIP_MS)
}
