import { createHash } from 'node:crypto'
import { isDeepStrictEqual } from 'node:util'
import type { PackVisit } from '../../../server/field/pack-schema.ts'
import { recordedAgain, type TwiceKind } from '../../../trade/inspection/recorded-twice.ts'
import { ANSWER, FINDING, type Model, said } from './model.ts'
import type { Device } from './device.ts'
import { today } from './office.ts'
import { packOf, type Run, sheetOf } from './run.ts'

export interface Verdict {
  /** Changes that people saw kept, and that neither the office nor the device's list of refused ones has. */
  lost: string[]
  /** Changes whose effect is there more than once. */
  doubled: string[]
  /** Any other difference between office, devices and model. */
  wrong: string[]
}

/** After everything came to rest. */
export async function compare(run: Run): Promise<Verdict> {
  const { office, place, model, devices, faults } = run
  const verdict: Verdict = { lost: [], doubled: [], wrong: [...faults] }
  const pack = await packOf(run)
  const taken = await office.base.db.operation.findMany({
    where: { userId: place.technicianId },
    select: { id: true },
  })
  const atOffice = new Set(taken.map((each) => each.id))
  for (const device of devices) await lookForLost(device, run, atOffice, pack, verdict)
  compareRecords(model, pack, verdict)
  const photographed = new Set(devices.flatMap((device) => [...device.keptPhotos.keys()]))
  for (const { id } of pack.inspection?.photos ?? [])
    if (!photographed.has(id)) verdict.doubled.push(`a photo that nobody took: ${id}`)
  const isPast = today(office) > place.day
  for (const [index, device] of devices.entries()) {
    const sheet = await sheetOf(device, place)
    // What is past goes from the device, unless something of it needs a person.
    const mayDiffer = isPast && (sheet === null || (await needsPerson(device)))
    if (!mayDiffer && !isDeepStrictEqual(sheet, pack))
      verdict.wrong.push(`device ${index} shows another sheet than the office`)
    if (isPast && sheet && !(await needsPerson(device)))
      verdict.wrong.push(`device ${index} keeps a visit that is past`)
  }
  return verdict
}

const sha256 = (bytes: ArrayBuffer) => createHash('sha256').update(new Uint8Array(bytes)).digest('hex')

const needsPerson = async ({ store }: Device) =>
  (await store.operations.where('state').equals('refused').count()) > 0

async function lookForLost(
  device: Device,
  { model, office, place }: Run,
  atOffice: ReadonlySet<string>,
  pack: PackVisit,
  { lost, wrong }: Verdict,
): Promise<void> {
  const held = await device.store.operations.toArray()
  const stateOf = new Map(held.map((each) => [each.id, each.state]))
  // What was set aside goes with its visit.
  const mayHaveGone = (left: 'mended' | 'aside' | undefined) =>
    left === 'mended' || (left === 'aside' && today(office) > place.day)
  for (const { id, operation } of device.kept.values()) {
    const outcome = model.outcomes.get(id)
    const what = `${operation.command} ${id}`
    if (!outcome || !atOffice.has(id)) lost.push(what)
    else if (outcome !== 'applied' && !stateOf.has(id) && !mayHaveGone(device.left.get(id)))
      lost.push(`${what}, refused`)
    else if (outcome === 'applied' && stateOf.has(id)) wrong.push(`${what} still lies on the device`)
    if (stateOf.get(id) === 'waiting') wrong.push(`${what} still waits`)
  }
  const photos = new Map(pack.inspection?.photos.map((each) => [each.id, each.originalSha256]))
  for (const [id, { bytes }] of device.keptPhotos) {
    if (!photos.has(id)) lost.push(`photo ${id}`)
    else if (photos.get(id) !== sha256(bytes)) wrong.push(`photo ${id} is another picture`)
  }
  for (const { id, state } of await device.store.photos.toArray())
    if (state !== 'sent') wrong.push(`photo ${id} is ${state}`)
  for (const step of await device.store.steps.toArray()) wrong.push(`step ${step.step} ${step.state}`)
}

type Rows = ReadonlyMap<string, Record<string, unknown> & { version: number }>

/** Each thing by its version, which counts what was done to it, and by what it says. */
function compareRows(
  name: string,
  office: Rows,
  model: Rows,
  what: (row: Record<string, unknown>) => unknown,
  { lost, doubled, wrong }: Verdict,
): void {
  for (const id of new Set([...office.keys(), ...model.keys()])) {
    const [there, expected] = [office.get(id), model.get(id)]
    const words = `${name} ${id}`
    if (!there || !expected) wrong.push(`${words}: ${there ? 'only at the office' : 'missing at the office'}`)
    else if (there.version > expected.version)
      doubled.push(`${words}: version ${there.version} instead of ${expected.version}`)
    else if (there.version < expected.version)
      lost.push(`${words}: version ${there.version} instead of ${expected.version}`)
    else if (!isDeepStrictEqual(what(there), what(expected)))
      wrong.push(`${words}: ${JSON.stringify(what(there))} instead of ${JSON.stringify(what(expected))}`)
  }
}

function compareRecords(model: Model, pack: PackVisit, verdict: Verdict): void {
  const { inspection } = pack
  const byId = (rows: readonly object[] | undefined) =>
    new Map((rows ?? []).map((row) => [(row as { id: string }).id, row])) as unknown as Rows
  const answers = (inspection?.answers ?? []).map((each) => ({
    ...each,
    id: `${each.itemId}@${each.subjectId ?? 'home'}`,
  }))
  const inUse = new Map([...model.equipment].filter(([, each]) => !each['retiredOn']))
  const pick = (names: string[]) => (row: Record<string, unknown>) => said(names, row)
  if (answers.length > byId(answers).size) verdict.doubled.push('a line has two answers')
  compareRows('answer', byId(answers), model.answers, pick(ANSWER), verdict)
  compareRows('finding', byId(inspection?.findings), model.findings, pick(FINDING), verdict)
  compareRows(
    'space',
    byId(pack.spaces),
    model.spaces,
    pick(['kind', 'name', 'areaSqFt', 'hasSink']),
    verdict,
  )
  compareRows('equipment', byId(pack.equipment), inUse, pick(['kind', 'label', 'details']), verdict)
  compareRows(
    'visit',
    new Map([['it', { state: pack.state, version: pack.version }]]),
    new Map([['it', model.visit]]),
    pick(['state']),
    verdict,
  )
  const open = new Map([...model.others].filter(([, each]) => each.choice === null))
  const offered = new Map((inspection?.alternatives ?? []).map((each) => [each.id, each]))
  for (const id of new Set([...open.keys(), ...offered.keys()])) {
    const [there, expected] = [offered.get(id), open.get(id)]
    if (!expected) verdict.wrong.push(`offered without need: ${JSON.stringify(there)}`)
    else if (!there) verdict.lost.push(`dropped in silence: ${JSON.stringify(expected)}`)
    else if (!isDeepStrictEqual(meant(there.kind, there.record), meant(expected.kind, expected.record)))
      verdict.wrong.push(
        `offered ${JSON.stringify(there.record)} instead of ${JSON.stringify(expected.record)}`,
      )
  }
  const photos = (inspection?.photos ?? []).map((each) => each.id)
  if (photos.length !== new Set(photos).size) verdict.doubled.push('a photo is there twice')
  const state = inspection?.state ?? 'open'
  if (state !== model.state) verdict.wrong.push(`the inspection is ${state} instead of ${model.state}`)
  if ((inspection?.note ?? '') !== model.note)
    verdict.wrong.push(`the note is “${inspection?.note}” instead of “${model.note}”`)
}

/** What taking the other one up would record. */
function meant(kind: TwiceKind, record: Record<string, unknown>): unknown {
  const { command, payload } = recordedAgain(kind, record)
  return {
    command,
    ...said(kind === 'answer' ? ANSWER : kind === 'finding' ? FINDING : Object.keys(payload), payload),
  }
}
