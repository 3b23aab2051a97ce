import { IDBFactory, IDBKeyRange } from 'fake-indexeddb'
import { expect } from 'vitest'
import { newId } from '../../server/ids.ts'
import { change } from '../../web/field/offline/change.ts'
import { keepPhoto } from '../../web/field/offline/outbox.ts'
import { fieldServer } from '../../web/field/offline/server.ts'
import { FieldStore } from '../../web/field/offline/store.ts'
import { synchronise } from '../../web/field/offline/sync.ts'
import type { TestApp, TestPerson } from './app.ts'
import { buildInspectableHome, buildVisit } from './inspection.ts'

export interface Request {
  method: string
  url: string
  body: string | Buffer | undefined
}
export const sessionOf = (someone: TestPerson) => `session-of-${someone.id}`

/** What a device needs of the world: browsers that reach the real server, a clock, and a store of its own. */
export function devicesOf({ app, base, ctx, clock }: TestApp) {
  /** A browser of that person: requests go to the real server, unless `through` says that they do not. */
  function browser(cookie: () => string, through: (request: Request) => void = () => {}): typeof fetch {
    return async (input, { method = 'GET', headers, body } = {}) => {
      const payload = body instanceof ArrayBuffer ? Buffer.from(body) : (body as string | undefined)
      through({ method, url: String(input), body: payload })
      const answer = await app.inject({
        method: method as 'GET',
        url: String(input),
        headers: {
          ...(headers as Record<string, string>),
          origin: 'http://localhost:3000',
          cookie: `watchlamp=${cookie()}`,
        },
        ...(payload !== undefined && { payload }),
      })
      const type = String(answer.headers['content-type'] ?? '')
      return new Response(answer.body, { status: answer.statusCode, headers: { 'content-type': type } })
    }
  }

  const sendAll = (store: FieldStore, fetcher: typeof fetch) =>
    synchronise(store, (holder) => fieldServer(holder, fetcher), { now: () => clock.now })

  async function buildOwnedDevice(someone: TestPerson, startsAt = clock.now) {
    const disk = { indexedDB: new IDBFactory(), IDBKeyRange }
    const home = await buildInspectableHome(ctx)
    const visit = await buildVisit(ctx, someone.id, home.property, { startsAt })
    const store = new FieldStore('watchlamp-field', disk)
    expect(
      await sendAll(
        store,
        browser(() => sessionOf(someone)),
      ),
    ).toBe('ok')
    return { store, disk, visit, ...home }
  }

  const noted = (store: FieldStore, visitId: string, note: string) =>
    change(store, visitId, 'note-inspection', { note }, { now: clock.now })
  const takenBy = (userId: string) =>
    base.db.operation.count({ where: { userId, command: 'note-inspection', outcome: 'applied' } })

  /** A picture taken on the device. @returns its id */
  async function taken(store: FieldStore, visitId: string, picture: Uint8Array): Promise<string> {
    const { inspectionId } = (await store.operations.toCollection().first())!
    const id = newId()
    await keepPhoto(store, {
      id,
      inspectionId,
      visitId,
      itemId: 'receptacles.opened',
      subjectId: null,
      findingId: null,
      caption: '',
      takenAt: clock.now.toISOString(),
      bytes: new Uint8Array(picture).buffer,
    })
    return id
  }

  return { browser, sendAll, buildOwnedDevice, noted, takenBy, taken }
}
