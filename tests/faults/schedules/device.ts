import type { DBCoreTable } from 'dexie'
import { IDBFactory, IDBKeyRange } from 'fake-indexeddb'
import type { OnTheWay } from '../../../web/field/offline/sync.ts'
import { synchronise } from '../../../web/field/offline/sync.ts'
import { fieldServer } from '../../../web/field/offline/server.ts'
import {
  FieldStore,
  type StoredOperation,
  type StoredPhoto,
  type StoredStep,
} from '../../../web/field/offline/store.ts'

/** The tab is gone: whatever it was about to do never happens. */
export class TabDied extends Error {}

/**
 * A device: the field app's own store and sending, over an IndexedDB in memory that outlives the tab. The tab can die
 * before any access to the store; a transaction that was not committed is then gone, as in a browser.
 */
export class Device {
  store: FieldStore
  hasSignal = true
  /** Everything that was ever seen to lie in the store. */
  readonly kept = new Map<string, StoredOperation>()
  readonly keptPhotos = new Map<string, StoredPhoto>()
  /** Refused ones that a person sent again, under another id. */
  readonly mended = new Set<string>()
  readonly keptSteps = new Map<string, StoredStep>()
  readonly #disk = new IDBFactory()
  readonly #clockOffMinutes: number
  readonly #fetcher: (device: Device) => typeof fetch
  #diesAfter = Infinity
  #isDead = false

  constructor(clockOffMinutes: number, fetcher: (device: Device) => typeof fetch) {
    this.#clockOffMinutes = clockOffMinutes
    this.#fetcher = fetcher
    this.store = this.#open()
  }

  /** What this device takes for the present. */
  now(office: Date): Date {
    return new Date(office.getTime() + this.#clockOffMinutes * 60_000)
  }

  /** From now on the store can be used so many times; then the tab dies. */
  dieAfter(accesses: number): void {
    this.#diesAfter = accesses
  }

  /** @throws TabDied */
  die(): never {
    this.#isDead = true
    throw new TabDied()
  }

  /** Does something in the tab. When the tab dies over it, it is opened again. @returns whether it came to its end */
  async use(work: (store: FieldStore) => Promise<unknown>): Promise<boolean> {
    let isDone = true
    try {
      await work(this.store)
    } catch (error) {
      if (!this.#isDead) throw error
      isDone = false
    }
    if (this.#isDead) this.reopen()
    return isDone
  }

  /** The same of a person's doing; whatever then lies in the store counts as kept. */
  async act(work: (store: FieldStore) => Promise<unknown>): Promise<void> {
    await this.use(work)
    await this.#look()
  }

  send(office: Date, onTheWay: OnTheWay = () => {}) {
    return synchronise(this.store, (person) => fieldServer(person, this.#fetcher(this)), {
      now: () => this.now(office),
      onTheWay,
    })
  }

  /** The tab does not die after all. */
  liveOn(): void {
    this.#diesAfter = Infinity
  }

  reopen(): void {
    this.store.close()
    this.#isDead = false
    this.#diesAfter = Infinity
    this.store = this.#open()
  }

  /** What has come to lie in the store. */
  async #look(): Promise<void> {
    const armed = this.#diesAfter
    this.#diesAfter = Infinity
    for (const each of await this.store.operations.toArray()) this.kept.set(each.id, each)
    for (const each of await this.store.photos.toArray()) this.keptPhotos.set(each.id, each)
    for (const each of await this.store.steps.toArray()) this.keptSteps.set(each.key, each)
    this.#diesAfter = armed
  }

  #open(): FieldStore {
    const store = new FieldStore('field', { indexedDB: this.#disk, IDBKeyRange })
    const tick = () => {
      if (this.#isDead || --this.#diesAfter < 0) this.die()
    }
    store.use({
      stack: 'dbcore',
      name: 'mortal',
      create: (down) => ({
        ...down,
        table: (name) => mortal(down.table(name), tick),
      }),
    })
    return store
  }
}

function mortal(table: DBCoreTable, tick: () => void): DBCoreTable {
  const guarded =
    <Given extends unknown[], Result>(work: (...given: Given) => Promise<Result>) =>
    async (...given: Given): Promise<Result> => {
      tick()
      return work(...given)
    }
  return {
    ...table,
    mutate: guarded(table.mutate),
    get: guarded(table.get),
    getMany: guarded(table.getMany),
    query: guarded(table.query),
    openCursor: guarded(table.openCursor),
    count: guarded(table.count),
  }
}
