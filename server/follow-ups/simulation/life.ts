import { addDays, addMonths, type Day } from '../../../trade/dates.ts'
import type { Equipment } from '../../../trade/equipment.ts'
import { equipmentDates } from '../../../trade/follow-ups/equipment-dates.ts'
import { cadenceOf } from '../../../trade/follow-ups/policy.ts'
import { opensOn } from '../../../trade/follow-ups/steps.ts'
import type { Severity } from '../../../trade/verdict.ts'
import { addDevice, addPerson, type Device, type MadeUpHome, type OpenInHome } from './company.ts'
import { end, fresh, moveTo } from './plan-home.ts'
import type { Act, Run, Says } from './simulate.ts'
import type { Task, Told } from './tell-person.ts'
import { bookVisit } from './visits.ts'

// What people do in a made-up company. How often is a guess; that every one of these things happens, and often, is what
// the simulation needs.

/** Of a hundred people who are written to about something due. */
const AFTER_OFFER = { ask: 0.3, replace: 0.08, decline: 0.04, snooze: 0.05, refuse: 0.02 } as const

export const liveOn = { begin, afterMessage, afterTask }

/** Storms, sales of homes, addresses that go bad, people who change their minds. */
function begin(run: Run): void {
  const { company, chance } = run
  for (const home of company.homes) nextYearAt(run, home)
  const cities = [...new Set(company.homes.map(({ city }) => city))]
  for (let day = chance.between(30, 120); day < 7400; day += chance.between(60, 200)) {
    const city = chance.pick(cities)
    run.in(day, '09:30', company.zone, () => storm(run, city))
  }
}

function nextYearAt(run: Run, home: MadeUpHome): void {
  const { chance } = run
  run.in(chance.between(200, 530), '14:20', home.zone, () => {
    if (home.archived) return
    if (chance.is(0.04)) sell(run, home)
    else if (chance.is(0.006)) {
      home.archived = true
      run.changed(home)
    } else if (chance.is(0.03)) changeWishes(run, home)
    nextYearAt(run, home)
  })
}

/** A sale: the old owner is out of it, offers to them are withdrawn, visits called off; the new one may have no e-mail. */
function sell(run: Run, home: MadeUpHome): void {
  const today = run.today(home.zone)
  for (const visit of home.visits) if (visit.state === 'booked') visit.state = 'cancelled'
  for (const visit of home.visits) if (visit.state === 'no-access') visit.rebooked = true
  for (const estimate of home.estimates) if (estimate.state === 'sent') estimate.state = 'withdrawn'
  const old = home.contact
  if (old) old.homes = old.homes.filter((each) => each !== home)
  const buyer = addPerson(run.company, run.chance, run.now())
  home.contact = buyer
  buyer.homes.push(home)
  home.property = { ...home.property, soldOn: today, tenure: 'owner' }
  run.changed(home, { person: buyer })
}

function changeWishes({ chance, now, changed }: Run, home: MadeUpHome): void {
  const person = home.contact
  if (!person) return
  const { receiver } = person
  const what = chance.between(1, 4)
  if (what === 1) receiver.suppressedFor = receiver.email ? 'bounced' : null
  else if (what === 2) receiver.email = receiver.email ? null : `new-${person.id}@example.com`
  else if (what === 3) receiver.wants = { ...receiver.wants, reminder: !(receiver.wants.reminder ?? true) }
  else {
    person.tipsSince = person.tipsSince ? null : now()
    receiver.wants = { ...receiver.wants, tips: person.tipsSince !== null }
  }
  for (const each of person.homes) changed(each, { person })
}

/** The office notes a storm: trade/follow-ups/kinds/surge-after-event.ts, as recordSurgeEvent does. */
function storm(run: Run, city: string): void {
  for (const home of run.company.homes.filter((each) => each.city === city && !each.archived)) {
    const on = addDays(run.today(home.zone), -1)
    const kind = 'surge-after-event' as const
    const dueOn = addDays(on, run.policy.surge.afterEventDays)
    for (const { equipment } of home.devices) {
      if (equipment.kind !== 'surge-protector' || equipment.retiredOn) continue
      const { indicator } = equipment.details
      const isLooked = equipment.lastCheckedOn != null && equipment.lastCheckedOn > on
      const isNewer = equipment.installedOn !== null && equipment.installedOn > on
      const there = home.open.find((each) => each.kind === kind && each.subjectId === equipment.id)
      if (indicator === 'fault' || indicator === 'dark' || isLooked || isNewer) continue
      const begins = opensOn(dueOn, cadenceOf(run.policy, kind))
      const due = { kind, subjectId: equipment.id, dueOn, opensOn: begins, assumed: false, severity: null }
      if (there) moveTo(there, due)
      else home.open.push(fresh(home, due))
      run.changed(home, { follow: [says(due, { storm: on })] })
    }
  }
}

const says = ({ kind, subjectId }: { kind: string; subjectId: string }, what: Says) => ({
  kind,
  subjectId,
  says: what,
})

function afterMessage(run: Run, { about, message, sentAt }: Told): void {
  if (!sentAt || message.category === 'booking') return
  const { chance } = run
  const first = about[0]!
  const { home } = first
  const wait = chance.between(1, 9)
  if (message.category === 'safety') {
    run.in(1, '10:00', home.zone, () => bookVisit(run, home, 'repair', chance.between(1, 4)))
    return
  }
  const throwOf = chance.next()
  let sum = 0
  const isIn = (share: number) => throwOf < (sum += share)
  const still = () => home.open.filter((each) => about.some(({ followUp }) => followUp.id === each.id))
  if (isIn(AFTER_OFFER.ask)) run.in(wait, '19:10', home.zone, () => ask(run, home, still()))
  else if (isIn(AFTER_OFFER.replace))
    run.in(wait, '12:00', home.zone, () => doItThemselves(run, home, still()))
  else if (isIn(AFTER_OFFER.decline))
    run.in(wait, '20:40', home.zone, () => answer(run, home, still(), declined))
  else if (isIn(AFTER_OFFER.snooze)) {
    run.in(wait, '07:20', home.zone, () =>
      answer(run, home, still(), { until: addMonths(run.today(home.zone), 1) }),
    )
  } else if (isIn(AFTER_OFFER.refuse)) run.in(wait, '06:00', home.zone, () => refuse(run, home))
}

const declined: Says = { dismissed: 'Declined on their page' }

/** They ask for a visit on their page; a day or two later the office books it. */
function ask(run: Run, home: MadeUpHome, about: readonly OpenInHome[]): void {
  if (about.length === 0 || !home.contact) return
  const requestId = run.company.newId()
  for (const each of about) if (each.state !== 'booked') Object.assign(each, { state: 'asked', requestId })
  run.changed(home, { follow: about.map((each) => says(each, { asked: requestId })) })
  const kind = about.some(({ subjectKind }) => subjectKind === 'finding') ? 'repair' : 'inspection'
  run.in(run.chance.between(1, 2), '11:30', home.zone, () =>
    bookVisit(run, home, kind, run.chance.between(3, 25)),
  )
}

/** They say so on their page: replaced, a new battery, looked at. */
function doItThemselves(run: Run, home: MadeUpHome, about: readonly OpenInHome[]): void {
  const today = run.today(home.zone)
  for (const { kind, subjectId } of about) {
    const device = home.devices.find(({ equipment }) => equipment.id === subjectId)
    if (!device) continue
    if (kind === 'alarm-end-of-life' || kind === 'alarm-undated' || kind === 'surge-failed')
      replace(run, home, device, today)
    else if (kind === 'alarm-battery') look(run, device, { batteryChangedOn: today }, today)
    else look(run, device, { indicator: 'good' }, today)
  }
  run.changed(home)
}

function answer(run: Run, home: MadeUpHome, about: readonly OpenInHome[], what: Says): void {
  for (const each of about) {
    if ('dismissed' in what) end(home, each, 'dismissed', what.dismissed, run.heard.onEnd)
    if ('until' in what) Object.assign(each, { snoozedUntil: what.until, nextNoticeOn: what.until })
  }
  run.changed(home, { follow: about.map((each) => says(each, what)) })
}

/** One click in the mail: no more reminders. */
function refuse({ changed }: Run, home: MadeUpHome): void {
  const person = home.contact
  if (!person) return
  person.receiver.wants = { ...person.receiver.wants, reminder: false }
  for (const each of person.homes) changed(each, { person })
}

/** The office phones. A hazard that the owner has acknowledged needs no more calls. */
function afterTask(run: Run, { home, followUp }: Task): void {
  const { chance } = run
  const { id, kind } = followUp
  const still = () => home.open.filter((each) => each.id === id)
  if (kind === 'make-safe-check') {
    if (!chance.is(0.8)) return
    run.in(0, '15:00', home.zone, () => {
      for (const each of still()) end(home, each, 'done', 'Told on the phone', run.heard.onEnd)
      const follow: Act['follow'] = [says(followUp, { done: 'Told on the phone' })]
      run.changed(home, { follow })
    })
  } else if (chance.is(0.4)) {
    run.in(1, '16:00', home.zone, () => {
      if (still().length > 0) bookVisit(run, home, 'inspection', chance.between(2, 20))
    })
  } else if (chance.is(0.2)) run.in(1, '16:10', home.zone, () => answer(run, home, still(), declined))
}

/** A new device in the place of the old one, made some time this year. */
export function replace(run: Run, home: MadeUpHome, device: Device, today: Day): void {
  const { equipment } = device
  if (equipment.retiredOn) return
  const { details, kind, label } = equipment
  const isAlarm = kind === 'alarm'
  const added = addDevice(
    run.company,
    home,
    {
      kind,
      label,
      details: isAlarm
        ? { senses: details.senses, power: details.power, buttonTest: 'sounds' }
        : { indicator: 'good' },
      manufacturedOn: isAlarm ? addDays(today, -run.chance.between(10, 300)) : null,
      installedOn: today,
      lastCheckedOn: today,
    } as Parameters<typeof addDevice>[2],
    today,
    run.policy,
  )
  device.equipment = { ...equipment, retiredOn: today } as Equipment
  device.dates = equipmentDates(device.equipment, today, { policy: run.policy })
  device.replacedById = added.equipment.id
}

/** Somebody looked at it, and what they saw is written down. */
export function look(run: Run, device: Device, seen: Record<string, unknown>, today: Day): void {
  const { equipment } = device
  if (equipment.retiredOn) return
  device.equipment = {
    ...equipment,
    details: { ...equipment.details, ...seen },
    lastCheckedOn: today,
  } as Equipment
  device.dates = equipmentDates(device.equipment, today, { policy: run.policy })
}

export function find(run: Run, home: MadeUpHome, severity: Severity, today: Day): void {
  const watchUntil = severity === 'watch' ? addMonths(today, 12) : null
  home.findings.push({
    id: run.company.newId(),
    severity,
    state: 'open',
    foundOn: today,
    watchUntil,
    refusedOn: null,
    text: `Something to ${severity}`,
  })
}
