import type { FastifyInstance } from 'fastify'
import type { Device } from './device.ts'
import type { Fate } from './schedule.ts'

export interface Delivery {
  method: string
  url: string
  headers: Record<string, string>
  body: string | Buffer | undefined
  device: Device
}
export interface Answer {
  status: number
  body: string
  headers: Record<string, string>
}

/** What the field app asks for. */
const DAYS = '/api/v1/field/pack?days=5'

/** What lies between the devices and the office. Each request meets the next fate of its device; then all goes well. */
export class Network {
  fates: Fate[] = []
  /** Those of pictures, which go last: else all fates would be met before their turn. */
  pictureFates: Fate[] = []
  /** How many requests reached the office. */
  delivered = 0
  /** Grows with whatever may have changed what the office holds. */
  changes = 0
  /** Device → how far the changes were when it was last told the days. */
  readonly #told = new Map<Device, number>()
  #days: { key: string; changes: number; answer: Answer } | null = null
  readonly #late: Delivery[] = []
  readonly #server: () => FastifyInstance
  readonly #cookie: string
  /** Told of each request that reached the office, in the order in which they did. */
  readonly #onDelivered: (delivery: Delivery, answer: Answer) => Promise<void>

  readonly #today: () => string

  constructor(
    server: () => FastifyInstance,
    cookie: string,
    today: () => string,
    onDelivered: (delivery: Delivery, answer: Answer) => Promise<void>,
  ) {
    this.#server = server
    this.#cookie = cookie
    this.#today = today
    this.#onDelivered = onDelivered
  }

  /** Whether the office may hold something that this device was not told. */
  isBehind(device: Device): boolean {
    return this.#told.get(device) !== this.changes
  }

  readonly fetcherOf =
    (device: Device): typeof fetch =>
    async (input, init = {}) => {
      const { body } = init
      const url = String(input)
      const fates = url.includes('/photos/') ? this.pictureFates : this.fates
      return this.#meet(fates.shift() ?? 'ok', {
        device,
        url,
        method: init.method ?? 'GET',
        headers: init.headers as Record<string, string>,
        body: body instanceof ArrayBuffer ? Buffer.from(body) : (body as string | undefined),
      })
    }

  /** What was given up by its device arrives after all. */
  async lateOnesArrive(): Promise<void> {
    for (const delivery of this.#late.splice(0)) await this.#deliver(delivery)
  }

  async #meet(fate: Fate, delivery: Delivery): Promise<Response> {
    if (!delivery.device.hasSignal) throw new TypeError('no signal')
    switch (fate) {
      case 'ok':
        return responseOf(await this.#deliver(delivery))
      case 'lost':
        throw new TypeError('lost on the way')
      case 'answer-lost':
        await this.#deliver(delivery)
        throw new TypeError('the answer was lost')
      case 'twice':
        await this.#deliver(delivery)
        return responseOf(await this.#deliver(delivery))
      case 'late':
        this.#late.push(delivery)
        throw new TypeError('no answer in time')
      case 'late-too':
        this.#late.push(delivery)
        return responseOf(await this.#deliver(delivery))
      case 'trouble-before':
        return troubled()
      case 'trouble-after':
        await this.#deliver(delivery)
        return troubled()
      case 'captive-page':
        return new Response('<h1>Welcome to the guest network</h1>', {
          headers: { 'content-type': 'text/html' },
        })
      case 'logged-out':
        return responseOf(await this.#inject(delivery, ''))
      case 'tab-dies-before':
        return delivery.device.die()
      case 'tab-dies-after':
        await this.#deliver(delivery)
        return delivery.device.die()
      case 'cut-off': {
        const answer = await this.#deliver(delivery)
        return responseOf({ ...answer, body: answer.body.slice(0, answer.body.length / 2) })
      }
    }
  }

  async #deliver(delivery: Delivery): Promise<Answer> {
    const isDays = delivery.url.startsWith(DAYS)
    const answer = await (isDays ? this.days() : this.#inject(delivery, this.#cookie))
    this.delivered++
    if (delivery.method !== 'GET') this.changes++
    if (isDays) this.#told.set(delivery.device, this.changes)
    await this.#onDelivered(delivery, answer)
    return answer
  }

  /** The days as the office has them. Read anew only after something changed: half of all the work was to read them. */
  async days(): Promise<Answer> {
    const key = this.#today()
    if (this.#days?.key === key && this.#days.changes === this.changes) return this.#days.answer
    const { changes } = this
    const answer = await this.#inject(
      { method: 'GET', url: DAYS, headers: {}, body: undefined },
      this.#cookie,
    )
    if (answer.status === 200) this.#days = { key, changes, answer }
    return answer
  }

  async #inject({ method, url, headers, body }: Omit<Delivery, 'device'>, cookie: string): Promise<Answer> {
    const answer = await this.#server().inject({
      method: method as 'GET',
      url,
      headers: { ...headers, origin: 'http://localhost:3000', cookie },
      ...(body !== undefined && { payload: body }),
    })
    return {
      status: answer.statusCode,
      body: answer.body,
      headers: { 'content-type': String(answer.headers['content-type'] ?? '') },
    }
  }
}

const responseOf = ({ status, body, headers }: Answer) => new Response(body, { status, headers })

const troubled = () =>
  Response.json({ type: '/problems/not-available', title: 'Not available', detail: '' }, { status: 503 })
