import type { FieldOperationInput, OperationsResult } from '../../../server/field/operation-schema.ts'
import type { PackView } from '../../../server/field/pack-schema.ts'
import type { PhotoView } from '../../../server/inspections/schema.ts'
import { ApiProblem, http, NoAnswer, urlOf } from '../../shared/api/http.ts'
import type { StoredPhoto, StoredStep } from './store.ts'

/** The server, as the device needs it; tests bring one that loses and doubles what passes through. */
export interface FieldServer {
  pack: () => Promise<PackView>
  send: (deviceId: string, operations: readonly FieldOperationInput[]) => Promise<OperationsResult>
  step: (step: StoredStep) => Promise<void>
  photo: (photo: StoredPhoto) => Promise<PhotoView>
}

export const realServer: FieldServer = {
  pack: () => http.get<PackView>('/field/pack', { days: 5 }),
  send: (deviceId, operations) => http.post<OperationsResult>('/field/operations', { deviceId, operations }),
  step: async ({ visitId, step, key }) => {
    await http.post(`/visits/${visitId}/${step}`, {}, { key })
  },
  photo: async (photo) => {
    const query = {
      itemId: photo.itemId,
      subjectId: photo.subjectId,
      findingId: photo.findingId,
      caption: photo.caption,
      takenAt: photo.takenAt,
    }
    let answer: Response
    try {
      answer = await fetch(urlOf(`/inspections/${photo.inspectionId}/photos/${photo.id}`, query), {
        method: 'PUT',
        headers: { 'content-type': 'image/jpeg', accept: 'application/json' },
        body: photo.bytes,
      })
    } catch {
      throw new NoAnswer()
    }
    if (!/json/.test(answer.headers.get('content-type') ?? '')) throw new NoAnswer()
    const body = (await answer.json()) as Record<string, unknown>
    if (!answer.ok) throw new ApiProblem(answer.status, body)
    return body as unknown as PhotoView
  },
}

/** Whether it may go better later: no answer, log in again, slow down, or the server's own trouble. */
export function isForLater(error: unknown): boolean {
  if (!(error instanceof ApiProblem)) return true
  return error.status === 401 || error.status === 408 || error.status === 429 || error.status >= 500
}
