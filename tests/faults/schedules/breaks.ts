import { fileURLToPath } from 'node:url'
import type { Plugin } from 'vite'

// Faults put into the product on purpose, while its files are loaded, to see that the schedules find them. Each is one
// that somebody could write by mistake. `npm run schedules -- --breaks` tries all of them.

interface Edit {
  file: string
  /** Stands there exactly once. */
  find: string
  put: string
}
export interface Break {
  /** What the product then does. */
  says: string
  edits: readonly Edit[]
}

const SYNC = 'web/field/offline/sync.ts'
const OPERATIONS = 'server/field/operations.ts'

export const BREAKS: Readonly<Record<string, Break>> = {
  'repeated-operation': {
    says: 'the server applies an operation again when it comes again',
    edits: [
      { file: OPERATIONS, find: 'if (stored) {', put: 'if (stored && false) {' },
      { file: OPERATIONS, find: 'throw new TakenMeanwhile()', put: 'void TakenMeanwhile' },
    ],
  },
  'forgotten-answer': {
    says: 'the server keeps nothing of what it refused, so that it judges the same operation again',
    edits: [
      {
        file: OPERATIONS,
        find: 'if (await insertOperation(ctx.db, stored)) return',
        put: 'if (stored) return',
      },
    ],
  },
  'never-marked-sent': {
    says: 'the device does not take an operation out of its outbox once the server has it',
    edits: [{ file: SYNC, find: 'await store.operations.delete(seq)', put: 'void seq' }],
  },
  'lost-acknowledgement': {
    says: 'the device forgets an operation that was answered, before a fresh copy of the visit shows it',
    edits: [
      {
        file: SYNC,
        find: 'await store.sent.put({ id: stored.id, visitId: stored.visitId, seq, operation: stored.operation })',
        put: '',
      },
    ],
  },
  'deleted-before-confirmed': {
    says: 'the device deletes what it is about to send before the server has answered',
    edits: [
      {
        file: SYNC,
        find: 'const answer = await server.send(',
        put: 'await store.operations.bulkDelete(batch.map((each) => each.seq!))\nconst answer = await server.send(',
      },
    ],
  },
  'order-swapped': {
    says: 'the device sends the newest first',
    edits: [
      {
        file: SYNC,
        find: "const waiting = await store.operations.where('state').equals('waiting').sortBy('seq')",
        put: "const waiting = (await store.operations.where('state').equals('waiting').sortBy('seq')).reverse()",
      },
    ],
  },
  'order-by-clock': {
    says: 'the device sends in the order of its own clock, which may be put back',
    edits: [
      {
        file: SYNC,
        find: "const waiting = await store.operations.where('state').equals('waiting').sortBy('seq')",
        put: "const waiting = await store.operations.where('state').equals('waiting').sortBy('operation.at')",
      },
    ],
  },
  'shown-before-stored': {
    says: 'the screen shows a change as done before it lies in the store',
    edits: [
      {
        file: 'web/field/offline/outbox.ts',
        find: 'await store.operations.add({',
        put: 'void store.operations.add({',
      },
    ],
  },
  'silent-overwrite': {
    says: 'the server replaces what another person recorded, and keeps nothing of it',
    edits: [
      {
        file: 'server/inspections/alternatives.ts',
        find: 'await insertAlternative(tx, {',
        put: 'void insertAlternative\nvoid ({',
      },
    ],
  },
  'version-not-looked-at': {
    says: 'the server takes whoever writes last for having seen what stood there',
    edits: [
      {
        file: 'server/inspections/writing.ts',
        find: 'return isOthers(ctx, writer, deviceId) ? { by: writer } : null\n}\n\n/** The one who took',
        put: 'return null\n}\n\n/** The one who took',
      },
    ],
  },
  'photo-sent-twice': {
    says: 'the device gives a picture a new id at each try',
    edits: [
      {
        file: 'web/field/offline/upload.ts',
        find: 'await told.bytes(0)',
        put: 'photo = { ...photo, id: photo.id.slice(0, -3) + Math.random().toString().slice(2, 5) }\nawait told.bytes(0)',
      },
    ],
  },
  'photo-forgotten': {
    says: 'the device takes a picture for sent when the connection broke off',
    edits: [
      {
        file: SYNC,
        find: "if (isForLater(error)) throw error\n      await store.photos.update(id, { state: 'refused'",
        put: "await store.photos.update(id, { state: 'sent'",
      },
    ],
  },
  'part-anywhere': {
    says: 'the server takes a part of a picture wherever it belongs, also one that comes again',
    edits: [
      {
        file: 'server/photos/upload-store.ts',
        find: 'AND octet_length(bytes) = ${offset}',
        put: 'AND ${offset} >= 0',
      },
    ],
  },
  'steps-forgotten': {
    says: 'the device drops “arrived” and “left” when the server is in trouble',
    edits: [
      {
        file: SYNC,
        find: 'if (isForLater(error)) throw error\n      // Somebody moved',
        put: 'if (isForLater(error)) { await store.steps.delete(step.seq!); throw error }\n      // Somebody moved',
      },
    ],
  },
}

const root = fileURLToPath(new URL('../../../', import.meta.url))

/** Puts one of them in while vitest loads the product. The files themselves stay as they are. */
export function breakOnPurpose(name: string): Plugin {
  const { edits } = BREAKS[name]!
  return {
    name: 'break-on-purpose',
    enforce: 'pre',
    transform: (code, id) => broken(code, id.split('?')[0]!.slice(root.length), edits),
  }
}

/** @returns null where that file is not to be broken @throws when what is to be replaced does not stand there once */
export function broken(code: string, file: string, edits: readonly Edit[]): string | null {
  const mine = edits.filter((each) => each.file === file)
  if (mine.length === 0) return null
  return mine.reduce((text, { find, put }) => {
    const parts = text.split(find)
    if (parts.length !== 2) throw new Error(`“${find}” stands ${parts.length - 1} times in ${file}`)
    return parts.join(put)
  }, code)
}
