import { readSheet } from '../../../web/field/offline/read-sheet.ts'
import type { PackView, PackVisit } from '../../../server/field/pack-schema.ts'
import type { OperationsResult } from '../../../server/field/operation-schema.ts'
import { newId } from '../../../server/ids.ts'
import { CHECKLIST_VERSION } from '../../../server/inspections/service.ts'
import { CHECKLIST } from '../../../trade/checklist/checklist.ts'
import { linesOf } from '../../../trade/inspection/lines.ts'
import type { VisitStep } from '../../../trade/visits.ts'
import { requiredReadings } from '../../build/inspection.ts'
import { act, answerOf, lineOf } from './acts.ts'
import { compare, type Verdict } from './compare.ts'
import { Device } from './device.ts'
import { Model } from './model.ts'
import { type Answer, type Delivery, Network } from './network.ts'
import { type Office, type Place, today } from './office.ts'
import type { Schedule, Step } from './schedule.ts'

/** One schedule under way. */
interface Run {
  office: Office
  place: Place
  network: Network
  devices: readonly [Device, Device]
  model: Model
  /** Where what the office answered, or what a device held meanwhile, is not what had to come of it. */
  faults: string[]
  history: History
  tick: () => void
}

/** After how many requests something had reached the office. */
interface History {
  /** Operation → when it was applied. */
  applied: Map<string, number>
  /** State of the visit, by its tag → when it was last the state at the office. */
  states: Map<string, number>
}

/** Plays a schedule, lets everything come to rest, and holds office and devices against the model. */
export async function play(office: Office, schedule: Schedule, patienceMs: number): Promise<Verdict> {
  let timer: NodeJS.Timeout
  const tooLong = new Promise<Verdict>((resolve) => {
    timer = setTimeout(() => resolve({ lost: [], doubled: [], wrong: ['it never came to rest'] }), patienceMs)
  })
  return Promise.race([played(office, schedule), tooLong]).finally(() => clearTimeout(timer))
}

async function played(office: Office, schedule: Schedule): Promise<Verdict> {
  const run = await begun(office, schedule)
  for (const step of schedule.steps) {
    await play1(run, step)
    if (step.do === 'send') await lookForVanished(run, run.devices[step.at])
  }
  await comeToRest(run)
  return compare(run)
}

/**
 * At any moment what a person saw kept is waiting, refused, or known to be applied; or the copy of the visit that the
 * device holds is from after it was applied. Never neither.
 */
async function lookForVanished({ place, history, model, faults }: Run, device: Device): Promise<void> {
  const held = await device.ids()
  const gone = [...device.kept.values()].filter(
    ({ id }) => !held.has(id) && !device.left.has(id) && !device.seenApplied.has(id),
  )
  if (gone.length === 0) return
  const copy = await device.copyOf(place.visitId)
  // A visit that is past goes with all that was done to it.
  const copyIsFrom = copy ? (history.states.get(copy.visit.etag) ?? -1) : Infinity
  for (const { id, operation } of gone) {
    const applied = history.applied.get(id)
    if (applied !== undefined && model.outcomes.get(id) === 'applied' && applied <= copyIsFrom)
      device.seenApplied.add(id)
    else faults.push(`${operation.command} ${id} vanished from the device`)
  }
}

async function begun(office: Office, { clocks, time, nearlyDone }: Schedule): Promise<Run> {
  const place = await office.newVisit()
  const faults: string[] = []
  const history: History = { applied: new Map(), states: new Map() }
  const tick = () => {
    if (time === 'moves') office.clock.now = new Date(office.clock.now.getTime() + 1000)
  }
  let model: Model | null = null
  const network = new Network(
    office.server,
    place.cookie,
    () => today(office),
    async (delivery, answer) => {
      tick()
      if (model) follow(model, delivery, answer, faults)
      remember(history, network.delivered, delivery, answer)
    },
  )
  const devices = [
    new Device(clocks[0], network.fetcherOf),
    new Device(clocks[1], network.fetcherOf),
  ] as const
  await devices[0].use(() => devices[0].send(office.clock.now))
  model = new Model((await devices[0].store.visits.get(place.visitId))!.visit)
  const run = { office, place, network, devices, model, faults, history, tick }
  if (nearlyDone) {
    await nearlyFinish(run)
    await devices[0].use(() => devices[0].send(office.clock.now))
  }
  await devices[1].use(() => devices[1].send(office.clock.now))
  return run
}

/** An inspection of which all lines are answered but the last that a schedule touches, straight into the database. */
async function nearlyFinish({ office, place, model, network }: Run): Promise<void> {
  const { db } = office.base
  const inspectionId = newId()
  const { propertyId } = await db.visit.findUniqueOrThrow({ where: { id: place.visitId } })
  const now = office.clock.now
  await db.inspection.create({
    data: {
      id: inspectionId,
      propertyId,
      visitId: place.visitId,
      technicianId: place.technicianId,
      checklistVersion: CHECKLIST_VERSION,
      startedAt: now,
      updatedAt: now,
    },
  })
  model.inspectionId = inspectionId
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
  await db.answer.createMany({
    data: answers.map((each) => ({
      ...each,
      id: newId(),
      inspectionId,
      answeredById: place.technicianId,
      answeredAt: now,
    })),
  })
  for (const each of answers) {
    model.answers.set(`${each.itemId}@${each.subjectId ?? 'home'}`, {
      ...each,
      version: 1,
      by: 'technician',
    })
  }
  network.changes++
}

function remember(
  { applied, states }: History,
  when: number,
  { method, url, body }: Delivery,
  answer: Answer,
) {
  if (url.endsWith('/field/operations')) {
    const { operations } = JSON.parse(String(body)) as { operations: { id: string }[] }
    for (const { id } of operations) if (!applied.has(id)) applied.set(id, when)
  }
  if (method === 'GET' && url.includes('/field/pack')) {
    const tag = /"etag":"([^"]+)"/.exec(answer.body)?.[1]
    if (tag) states.set(tag, when)
  }
}

/** What reached the office happens in the model, too; and what the office said of it has to be what it had to say. */
function follow(model: Model, { url, body, headers, device }: Delivery, answer: Answer, faults: string[]) {
  if (answer.status >= 500) faults.push(`the office answered ${url} with ${answer.status}: ${answer.body}`)
  const step = /\/visits\/[^/]+\/(start-travel|arrive|finish)$/.exec(url)?.[1]
  if (step) model.takeStep(step as VisitStep, headers['idempotency-key']!)
  if (!url.endsWith('/field/operations')) return
  const { operations } = JSON.parse(String(body)) as { operations: Parameters<Model['take']>[0][] }
  const { outcomes } = JSON.parse(answer.body) as OperationsResult
  for (const [index, operation] of operations.entries()) {
    const { isNew, outcome } = model.take(operation, device)
    if (isNew && !device.isNext(operation.id))
      faults.push(`${operation.command} ${operation.id} came before what was made before it`)
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
      network.pictureFates = step.fates.toReversed()
      await device.use(() => device.send(office.clock.now))
      network.fates = network.pictureFates = []
      return
    }
    case 'signal':
      devices[step.at].hasSignal = step.on
      return
    case 'tab-dies':
      devices[step.at].dieAfter(step.after)
      return
    case 'dies-once-shown':
      devices[step.at].diesOnceShown = true
      return
    case 'clock-is-set':
      devices[step.at].clockOff = step.minutes
      return
    case 'time-passes':
      office.clock.now = new Date(office.clock.now.getTime() + step.hours * 3_600_000)
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
      network.changes++
      return model.reopen()
    }
    default: {
      const device = devices[step.at]
      await device.act((store) =>
        act(
          step,
          store,
          place,
          office,
          device.now(office.clock.now),
          (id, how) => void device.left.set(id, how),
        ),
      )
      for (const id of device.brokenPromises.splice(0))
        run.faults.push(`${step.do} ${id} was shown as done, and was not kept`)
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
  run.network.changes++
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
  network.fates = network.pictureFates = []
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
  // What a device was told may lack what came after it: the other one's changes, and its own pictures.
  for (let stale = devices.slice(); stale.length > 0;) {
    stale = devices.filter((device) => network.isBehind(device))
    for (const device of stale) await send(device)
  }
}

export const sheetOf = (device: Device, place: Place) => readSheet(device.store, place.visitId)

/** The visit as the office has it, also when it is past. */
export async function packOf({ office, place, network }: Run): Promise<PackVisit> {
  const isPast = today(office) > place.day
  const body = isPast
    ? await office.server().inject({
        method: 'GET',
        url: `/api/v1/field/pack?days=5&day=${place.day}`,
        headers: { cookie: place.cookie, origin: 'http://localhost:3000' },
      })
    : await network.days()
  return (JSON.parse(body.body) as PackView).visits[0]!
}
export type { Run }
