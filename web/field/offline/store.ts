import { Dexie, type DexieOptions, type EntityTable } from 'dexie'
import type { FieldOperationInput } from '../../../server/field/operation-schema.ts'
import type { PackView, PackVisit } from '../../../server/field/pack-schema.ts'
import type { PhotoMark } from '../../../trade/inspection/photo-marks.ts'
import { newId } from '../../shared/ids.ts'

/**
 * waiting: to be sent. refused: the server will never take it as it is; a person decides. aside: a person said why it is
 * not to be sent.
 */
export type SendState = 'waiting' | 'refused'

/** A refusal as the server words it (RFC 9457), kept beside what was refused. */
export interface Refused {
  type: string
  title: string
  detail: string
}

/** One small change to an inspection, in the order it was made. */
export interface StoredOperation {
  /** Order of making: the server gets them so, per inspection. */
  seq?: number
  id: string
  inspectionId: string
  visitId: string
  operation: FieldOperationInput
  state: SendState | 'aside'
  problem: Refused | null
  aside?: { reason: string; at: string }
}

/** Setting off, arriving, leaving: what the visit itself is told. */
export interface StoredStep {
  seq?: number
  visitId: string
  step: 'start-travel' | 'arrive' | 'finish'
  at: string
  /** The same step sent again is still one. */
  key: string
  state: SendState
  problem: Refused | null
}

/** A picture, as bytes: some browsers lose Blobs that IndexedDB holds. */
export interface StoredPhoto {
  id: string
  inspectionId: string
  visitId: string
  itemId: string
  subjectId: string | null
  findingId: string | null
  caption: string
  /** Drawn here; sent as an operation, like the caption once it is changed. */
  annotations?: PhotoMark[]
  takenAt: string
  bytes: ArrayBuffer
  /** The office may have parts of it. */
  begun?: true
  state: SendState | 'sent'
  problem: Refused | null
}

/** Applied by the server, kept until a fresh copy of the visit shows its effect. */
export interface SentOperation {
  id: string
  visitId: string
  seq: number
  operation: FieldOperationInput
}

export interface KeptVisit {
  id: string
  startsAt: string
  visit: PackVisit
}

export type Day = Omit<PackView, 'visits'>

/** How much had not reached the office, waiting or refused. */
export interface Unsent {
  operations: number
  photos: number
  steps: number
}

interface Setting {
  key: 'device' | 'day' | 'lastContact' | 'who' | 'lease' | 'wiped' | 'lock'
  value: unknown
}

/** What this device holds. Names and addresses of the technician's own visits only; removed when no longer needed. */
export class FieldStore extends Dexie {
  visits!: EntityTable<KeptVisit, 'id'>
  operations!: EntityTable<StoredOperation, 'seq'>
  sent!: EntityTable<SentOperation, 'id'>
  steps!: EntityTable<StoredStep, 'seq'>
  photos!: EntityTable<StoredPhoto, 'id'>
  settings!: EntityTable<Setting, 'key'>

  constructor(name = 'watchlamp-field', options: DexieOptions = {}) {
    super(name, options)
    this.version(1).stores({
      visits: 'id, startsAt',
      operations: '++seq, &id, inspectionId, visitId, state',
      sent: 'id, visitId',
      steps: '++seq, visitId, state',
      photos: 'id, inspectionId, visitId, state',
      settings: 'key',
    })
  }

  /** This device's own id, made at its first use. */
  async deviceId(): Promise<string> {
    return this.transaction('rw', this.settings, async () => {
      const known = await this.settings.get('device')
      if (known) return known.value as string
      const id = newId()
      await this.settings.put({ key: 'device', value: id })
      return id
    })
  }

  async setting<Value>(key: Setting['key']): Promise<Value | null> {
    return ((await this.settings.get(key))?.value as Value | undefined) ?? null
  }

  /** The one whose visits and changes these are; null until the first contact. */
  async person(): Promise<string | null> {
    const who = await this.setting<{ id: string }>('who')
    // Before `who` was kept, the days were theirs all the same.
    return who?.id ?? (await this.setting<Day>('day'))?.technician.id ?? null
  }

  async unsent(): Promise<Unsent> {
    return {
      operations: await this.operations.count(),
      photos: await this.photos.where('state').notEqual('sent').count(),
      steps: await this.steps.count(),
    }
  }
}
