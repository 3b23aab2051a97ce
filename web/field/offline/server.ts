import type { FieldOperationInput, OperationsResult } from '../../../server/field/operation-schema.ts'
import type { PackView } from '../../../server/field/pack-schema.ts'
import { ApiProblem, httpOver } from '../../shared/api/http.ts'
import type { StoredPhoto, StoredStep, Unsent } from './store.ts'
import { PART_BYTES, type Told, uploadPhoto } from './upload.ts'

/** The server, as the device needs it. */
export interface FieldServer {
  pack: () => Promise<PackView>
  send: (deviceId: string, operations: readonly FieldOperationInput[]) => Promise<OperationsResult>
  step: (step: StoredStep) => Promise<void>
  photo: (photo: StoredPhoto, told: Told) => Promise<void>
  /** Says that this device has deleted what it held, as it was told to. */
  wiped: (deviceId: string, unsent: Unsent) => Promise<void>
}

/**
 * A connection may die without a word, as in a lift. Whatever has had no answer by then counts as lost; the slowest link
 * that is of use moves a part of a picture in half of this.
 */
const PATIENCE_MS = 60_000

/**
 * The server over some way of fetching. Each request names the person whose work the device holds: when somebody else is
 * logged in by now, nothing is done in their name.
 */
export function fieldServer(
  person: string | null,
  fetcher: typeof fetch,
  { patienceMs = PATIENCE_MS, partBytes = PART_BYTES } = {},
): FieldServer {
  const named: typeof fetch = (input, init) =>
    fetcher(input, {
      ...init,
      signal: AbortSignal.timeout(patienceMs),
      headers: { ...(init?.headers as Record<string, string>), ...(person && { 'field-person': person }) },
    })
  const http = httpOver(named)
  return {
    pack: () => http.get<PackView>('/field/pack', { days: 5 }),
    send: (deviceId, operations) =>
      http.post<OperationsResult>('/field/operations', { deviceId, operations }),
    step: async ({ visitId, step, key }) => {
      await http.post(`/visits/${visitId}/${step}`, {}, { key })
    },
    photo: (photo, told) => uploadPhoto(named, photo, told, partBytes),
    wiped: async (deviceId, unsent) => {
      await http.post('/field/wiped', { deviceId, ...unsent })
    },
  }
}

/** Makes the server for the person whose work the device holds; null when it holds nobody's yet. */
export type Connect = (person: string | null) => FieldServer
export const connect: Connect = (person) => fieldServer(person, (...given) => fetch(...given))

/** Whether it may go better later: no answer, log in again, slow down, or the server's own trouble. */
export function isForLater(error: unknown): boolean {
  if (!(error instanceof ApiProblem)) return true
  if (error.type === 'still-in-progress' || error.type === 'other-person') return true
  return error.status === 401 || error.status === 408 || error.status === 429 || error.status >= 500
}
