import type { DBCoreTable } from 'dexie'
import { IDBFactory, IDBKeyRange } from 'fake-indexeddb'
import type { OnTheWay } from '../../../web/field/offline/sync.ts'
import { synchronise } from '../../../web/field/offline/sync.ts'
import { fieldServer } from '../../../web/field/offline/server.ts'
import { FieldStore, type StoredOperation, type StoredPhoto } from '../../../web/field/offline/store.ts'

/** The pictures of the schedules are some hundred bytes, and go in several parts all the same. */
const PART_BYTES = 400

/** The tab is gone: whatever it was about to do never happens. */
export class TabDied extends Error {}

/**
 * A device: the field app's own store and sending, over an IndexedDB in memory that outlives the tab. The tab can die
 * before any access to the store; a transaction that was not committed is then gone, as in a browser.
 */
export class Device {
  store: FieldStore
  hasSignal = true
  /** How far its clock is off, in minutes. */
  clockOff: number
  /** The tab dies at the very moment at which the screen shows the next change as done. */
  diesOnceShown = false
  /** What a screen showed as done, and the store did not hold after a crash. */
  readonly brokenPromises: string[] = []
  /** Everything that was ever seen to lie in the store. */
  readonly kept = new Map<string, StoredOperation>()
  readonly keptPhotos = new Map<string, StoredPhoto>()
  /** Refused ones that a person sent again under another id, or set aside. */
  readonly left = new Map<string, 'mended' | 'aside'>()
  /** Applied, and shown by the copy of the visit that this device holds. */
  readonly seenApplied = new Set<string>()
  #lastSeq = 0
  readonly #disk = new IDBFactory()
  readonly #fetcher: (device: Device) => typeof fetch
  #diesAfter = Infinity
  #isDead = false

  constructor(clockOff: number, fetcher: (device: Device) => typeof fetch) {
    this.clockOff = clockOff
    this.#fetcher = fetcher
    this.store = this.#open()
  }

  /** What this device takes for the present. */
  now(office: Date): Date {
    return new Date(office.getTime() + this.clockOff * 60_000)
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

  /** Does something in the tab. When the tab dies over it, it is opened again. @returns what it came to */
  async use<Result>(work: (store: FieldStore) => Promise<Result>): Promise<Result | undefined> {
    try {
      return await work(this.store)
    } catch (error) {
      if (!this.#isDead) throw error
      return undefined
    } finally {
      if (this.#isDead) this.reopen()
    }
  }

  /**
   * The same of a person's doing; whatever then lies in the store counts as kept.
   * @param work gives the id of what the screen shows as done
   */
  async act(work: (store: FieldStore) => Promise<string | void>): Promise<void> {
    const shown = await this.use(async (store) => {
      const id = await work(store)
      if (this.diesOnceShown) this.#isDead = true
      return id
    })
    this.diesOnceShown = false
    await this.#look()
    if (shown && !this.kept.has(shown) && !this.keptPhotos.has(shown)) this.brokenPromises.push(shown)
  }

  send(office: Date, onTheWay: OnTheWay = () => {}) {
    return synchronise(
      this.store,
      (person) => fieldServer(person, this.#fetcher(this), { partBytes: PART_BYTES }),
      {
        now: () => this.now(office),
        onTheWay,
      },
    )
  }

  /** Whether an operation that reaches the office for the first time comes after all that were made before it. */
  isNext(id: string): boolean {
    const seq = this.kept.get(id)?.seq
    // One that was mended takes the place of the one that was refused, later.
    const isMended = [...this.kept.values()].filter((each) => each.seq === seq).length > 1
    if (seq === undefined || isMended) return true
    const isNext = seq > this.#lastSeq
    this.#lastSeq = Math.max(seq, this.#lastSeq)
    return isNext
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

  /** Ids of all operations that lie in the store, whatever became of them. */
  async ids(): Promise<ReadonlySet<string>> {
    return this.#unharmed(async () => {
      const [held, sent] = [
        await this.store.operations.orderBy('id').keys(),
        await this.store.sent.toCollection().primaryKeys(),
      ]
      return new Set([...(held as string[]), ...sent])
    })
  }

  /** The copy of the visit that the device holds, if it still holds one. */
  async copyOf(visitId: string) {
    return this.#unharmed(() => this.store.visits.get(visitId))
  }

  /** What has come to lie in the store. Only what is new is read: pictures are large. */
  async #look(): Promise<void> {
    const missing = <Key, Row>(keys: readonly Key[], seen: ReadonlyMap<Key, Row>) =>
      keys.filter((key) => !seen.has(key))
    return this.#unharmed(async () => {
      const { operations, photos } = this.store
      const ids = missing((await operations.orderBy('id').keys()) as string[], this.kept)
      const pictures = missing(await photos.toCollection().primaryKeys(), this.keptPhotos)
      if (ids.length > 0)
        for (const each of await operations.where('id').anyOf(ids).toArray()) this.kept.set(each.id, each)
      if (pictures.length > 0)
        for (const each of await photos.bulkGet(pictures)) this.keptPhotos.set(each!.id, each!)
    })
  }

  /** Looking is no use of the store that a tab could die over. */
  async #unharmed<Result>(look: () => Promise<Result>): Promise<Result> {
    const armed = this.#diesAfter
    this.#diesAfter = Infinity
    const seen = await look()
    this.#diesAfter = armed
    return seen
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
