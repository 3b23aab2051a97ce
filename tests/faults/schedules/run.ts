import { readSheet } from '../../../web/field/offline/read-sheet.ts'
import { begin } from '../../../web/field/offline/change.ts'
import type { PackView } from '../../../server/field/pack-schema.ts'
import type { OperationsResult } from '../../../server/field/operation-schema.ts'
import { newId } from '../../../server/ids.ts'
import { CHECKLIST } from '../../../trade/checklist/checklist.ts'
import { linesOf } from '../../../trade/inspection/lines.ts'
import type { VisitStep } from '../../../trade/visits.ts'
import { requiredReadings } from '../../build/inspection.ts'
import { act, answerOf, lineOf } from './acts.ts'
import { compare, type Verdict } from './compare.ts'
import { Device } from './device.ts'
import { Model } from './model.ts'
import { type Answer, type Delivery, Network } from './network.ts'
import type { Office, Place } from './office.ts'
import type { Schedule, Step } from './schedule.ts'

/** One schedule under way. */
interface Run {
  office: Office
  place: Place
  network: Network
  devices: readonly [Device, Device]
  model: Model
  /** Where what the office answered is not what had to come of it. */
  faults: string[]
  tick: () => void
}

/** Plays a schedule, lets everything come to rest, and holds office and devices against the model. */
export async function play(office: Office, schedule: Schedule): Promise<Verdict> {
  const run = await begun(office, schedule)
  for (const step of schedule.steps) await play1(run, step)
  await comeToRest(run)
  return compare(run)
}

async function begun(office: Office, { clocks, time, nearlyDone }: Schedule): Promise<Run> {
  const place = await office.newVisit()
  const faults: string[] = []
  const tick = () => {
    if (time === 'moves') office.clock.now = new Date(office.clock.now.getTime() + 1000)
  }
  let model: Model | null = null
  const network = new Network(office.server, place.cookie, async (delivery, answer) => {
    tick()
    if (model) follow(model, delivery, answer, faults)
  })
  const devices = [
    new Device(clocks[0], network.fetcherOf),
    new Device(clocks[1], network.fetcherOf),
  ] as const
  await devices[0].use(() => devices[0].send(office.clock.now))
  model = new Model((await devices[0].store.visits.get(place.visitId))!.visit)
  const run = { office, place, network, devices, model, faults, tick }
  if (nearlyDone) await nearlyFinish(run)
  await devices[1].use(() => devices[1].send(office.clock.now))
  return run
}

/** All lines but the last that a schedule touches are answered, straight into the database. */
async function nearlyFinish({ devices: [device], office, place, model }: Run): Promise<void> {
  await device.act((store) => begin(store, place.visitId, device.now(office.clock.now)))
  await device.use(() => device.send(office.clock.now))
  const open = lineOf(place, 3)
  const answers = linesOf(model.tradeHome(), CHECKLIST)
    .filter((line) => line.item.id !== open.itemId)
    .map((line) => ({
      itemId: line.item.id,
      subjectKind: line.subjectKind,
      subjectId: line.subjectId,
      result: line.noneRecorded ? 'absent' : 'ok',
      readings: (line.noneRecorded ? {} : requiredReadings(line.item.id)) as object,
    }))
  await office.base.db.answer.createMany({
    data: answers.map((each) => ({
      ...each,
      id: newId(),
      inspectionId: model.inspectionId!,
      answeredById: place.technicianId,
      answeredAt: office.clock.now,
    })),
  })
  for (const each of answers) {
    model.answers.set(`${each.itemId}@${each.subjectId ?? 'home'}`, {
      ...each,
      version: 1,
      by: 'technician',
    })
  }
  await device.use(() => device.send(office.clock.now))
}

/** What reached the office happens in the model, too; and what the office said of it has to be what it had to say. */
function follow(model: Model, { url, body, headers, device }: Delivery, answer: Answer, faults: string[]) {
  if (answer.status >= 500) faults.push(`the office answered ${url} with ${answer.status}: ${answer.body}`)
  const step = /\/visits\/[^/]+\/(start-travel|arrive|finish)$/.exec(url)?.[1]
  if (step) model.takeStep(step as VisitStep, headers['idempotency-key']!)
  const photoId = /\/photos\/([^/?]+)/.exec(url)?.[1]
  if (photoId && answer.status < 300) model.photos.add(photoId)
  if (!url.endsWith('/field/operations')) return
  const { operations } = JSON.parse(String(body)) as { operations: Parameters<Model['take']>[0][] }
  const { outcomes } = JSON.parse(answer.body) as OperationsResult
  for (const [index, operation] of operations.entries()) {
    const { isNew, outcome } = model.take(operation, device)
    const said = outcomes?.[index]
    const type = String(said?.problem?.['type'] ?? said?.outcome).replace('/problems/', '')
    if (type !== outcome || said?.replayed === isNew) {
      faults.push(
        `${operation.command} ${operation.id}: expected ${outcome}${isNew ? '' : ' once more'}, was ${type}${said?.replayed ? ' once more' : ''}`,
      )
    }
  }
}

async function play1(run: Run, step: Step): Promise<void> {
  const { office, network, place, devices, model } = run
  switch (step.do) {
    case 'send': {
      const device = devices[step.at]
      network.fates = [...step.fates]
      await device.use(() => device.send(office.clock.now))
      network.fates = []
      return
    }
    case 'signal':
      devices[step.at].hasSignal = step.on
      return
    case 'tab-dies':
      devices[step.at].dieAfter(step.after)
      return
    case 'late-ones-arrive':
      return network.lateOnesArrive()
    case 'server-restarts':
      return office.restart()
    case 'desk-answers':
      return deskAnswers(run, step)
    case 'desk-reopens': {
      if (!model.inspectionId) return
      await atDesk(office, `/api/v1/inspections/${model.inspectionId}/reopen`)
      return model.reopen()
    }
    default: {
      const device = devices[step.at]
      await device.act((store) =>
        act(step, store, place, office, device.now(office.clock.now), (id) => device.mended.add(id)),
      )
    }
  }
}

async function deskAnswers(run: Run, step: Extract<Step, { do: 'desk-answers' }>): Promise<void> {
  const { office, place, model } = run
  if (!model.inspectionId || model.state !== 'open') return
  const line = lineOf(place, step.line)
  const given = { ...line, ...answerOf(step.result, step.note) }
  const key = `${line.itemId}@${line.subjectId ?? 'home'}`
  const before = model.answers.get(key)
  const base = step.blind ? null : (before?.version ?? null)
  const answer = await atDesk(office, `/api/v1/inspections/${model.inspectionId}/answers`, {
    ...given,
    base,
  })
  if (answer.statusCode !== 200) run.faults.push(`the desk’s answer was refused: ${answer.body}`)
  if (model.deskAnswers(key, given, base)) {
    // Its id is made by the office.
    const rows = await office.base.db.alternative.findMany({ where: { inspectionId: model.inspectionId } })
    const made = rows.find((row) => !model.others.has(row.id))
    if (made) model.deskReplaced(made.id, key, before!)
    else run.faults.push('what the desk replaced unseen was not kept')
  }
}

const atDesk = (office: Office, url: string, payload?: object) =>
  office.server().inject({
    method: 'POST',
    url,
    headers: { cookie: office.deskCookie, origin: 'http://localhost:3000' },
    ...(payload && { payload }),
  })

/** Signal everywhere, no more faults, and as many sendings as it takes. */
async function comeToRest({ network, devices, office, faults }: Run): Promise<void> {
  network.fates = []
  for (const device of devices) {
    device.hasSignal = true
    device.liveOn()
  }
  await network.lateOnesArrive()
  const send = (device: Device) =>
    device.use(async () => {
      const contact = await device.send(office.clock.now)
      if (contact !== 'ok') faults.push(`a device could not send at last: ${contact}`)
    })
  for (const device of devices) await send(device)
  // Until nothing new reached the office, what a device fetched may lack what came after it: the other one's changes,
  // and its own pictures.
  let stale = network.writes > 0 ? [...devices] : []
  while (stale.length > 0) {
    const before = network.writes
    for (const device of stale) await send(device)
    stale = network.writes > before ? [...devices] : []
  }
}

export const sheetOf = (device: Device, place: Place) => readSheet(device.store, place.visitId)

export async function packOf(office: Office, place: Place): Promise<PackView['visits'][number]> {
  const answer = await office.server().inject({
    method: 'GET',
    url: '/api/v1/field/pack?days=5',
    headers: { cookie: place.cookie, origin: 'http://localhost:3000' },
  })
  return answer.json<PackView>().visits[0]!
}
export type { Run }
