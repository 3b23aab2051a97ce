import { addDays, addMonths } from '../../../trade/dates.ts'
import type { VisitKind } from '../../../trade/visits.ts'
import { instantAt } from '../../time.ts'
import type { MadeUpHome, MadeUpVisit } from './company.ts'
import { find, look, replace } from './life.ts'
import type { Run } from './simulate.ts'

/** The office books; what was asked for is answered by it. */
export function bookVisit(run: Run, home: MadeUpHome, kind: VisitKind, inDays: number): void {
  const isComing = home.visits.some(({ state }) => state === 'booked')
  if (home.archived || !home.contact || isComing) return
  const on = addDays(run.today(home.zone), inDays)
  const visit: MadeUpVisit = {
    id: run.company.newId(),
    state: 'booked',
    on,
    bookedOn: run.today(home.zone),
    person: home.contact,
    startsAt: instantAt(on, '10:00', home.zone),
    bookedAt: run.now(),
  }
  for (const each of home.visits) if (each.state === 'no-access') each.rebooked = true
  for (const each of home.open) each.requestId = null
  home.visits = [...home.visits.filter(({ on: day }) => day > addDays(visit.bookedOn, -800)), visit]
  run.changed(home)
  const { chance } = run
  if (chance.is(0.04)) run.in(Math.max(0, inDays - 1), '17:45', home.zone, () => cancel(run, home, visit))
  run.in(inDays, '12:00', home.zone, () => hold(run, home, visit, kind))
}

function cancel(run: Run, home: MadeUpHome, visit: MadeUpVisit): void {
  if (visit.state !== 'booked') return
  visit.state = 'cancelled'
  run.changed(home)
}

function hold(run: Run, home: MadeUpHome, visit: MadeUpVisit, kind: VisitKind): void {
  if (visit.state !== 'booked') return
  const { chance } = run
  if (chance.is(0.03)) {
    visit.state = 'no-access'
    run.changed(home)
    if (chance.is(0.7)) {
      run.in(chance.between(1, 15), '09:15', home.zone, () =>
        bookVisit(run, home, kind, chance.between(2, 12)),
      )
    }
    return
  }
  visit.state = 'finished'
  seeToDevices(run, home)
  correct(run, home, kind)
  if (kind === 'inspection') inspect(run, home)
  run.changed(home)
}

/** Alarms near their end are replaced, batteries changed, indicators read. Not everybody wants everything done. */
function seeToDevices(run: Run, home: MadeUpHome): void {
  const { chance } = run
  const today = run.today(home.zone)
  for (const device of [...home.devices].filter(({ equipment }) => !equipment.retiredOn)) {
    const { equipment, dates } = device
    const isWorn = dates.replaceBy !== null && dates.replaceBy < addMonths(today, 6)
    if (equipment.kind === 'alarm') {
      if (isWorn && chance.is(0.85)) replace(run, home, device, today)
      else if (equipment.manufacturedOn === null && chance.is(0.5)) {
        device.equipment = { ...equipment, manufacturedOn: addDays(today, -chance.between(100, 3400)) }
        look(run, device, { buttonTest: 'sounds' }, today)
      } else
        look(
          run,
          device,
          {
            buttonTest: chance.is(0.01) ? 'silent' : 'sounds',
            ...batteries(run, equipment.details.power, today),
          },
          today,
        )
    } else if (equipment.kind === 'surge-protector') {
      const isDead = equipment.details.indicator === 'dark'
      if (isDead && chance.is(0.8)) replace(run, home, device, today)
      else if (!isDead) look(run, device, { indicator: chance.is(0.04) ? 'dark' : 'good' }, today)
    }
  }
}

function batteries(_run: Run, power: string | undefined, today: string) {
  return power === 'battery' || power === 'mains-and-battery' ? { batteryChangedOn: today } : {}
}

function correct(run: Run, home: MadeUpHome, kind: VisitKind): void {
  for (const finding of home.findings) {
    const isOpen = finding.state !== 'checked' && finding.state !== 'no-longer-applies'
    if (isOpen && (kind === 'repair' || run.chance.is(0.3))) finding.state = 'checked'
  }
  home.findings = home.findings.filter(
    ({ state, foundOn }) => state !== 'checked' || foundOn > addMonths(run.today(home.zone), -24),
  )
}

function inspect(run: Run, home: MadeUpHome): void {
  const { chance } = run
  const today = run.today(home.zone)
  home.property = { ...home.property, lastInspectedOn: today }
  for (const [severity, share] of [
    ['unsafe', 0.04],
    ['repair', 0.2],
    ['investigate', 0.1],
    ['improve', 0.2],
    ['watch', 0.1],
  ] as const) {
    if (chance.is(share)) find(run, home, severity, today)
  }
  if (home.contact && home.findings.some(({ state }) => state === 'open') && chance.is(0.6)) {
    run.in(2, '13:00', home.zone, () => offer(run, home))
  }
}

/** An estimate for what was found; some answer, some never do. */
function offer(run: Run, home: MadeUpHome): void {
  if (!home.contact || home.archived) return
  const { chance } = run
  const sentOn = run.today(home.zone)
  const estimate = {
    id: run.company.newId(),
    state: 'sent' as 'sent' | 'accepted' | 'declined' | 'expired' | 'withdrawn',
    sentOn,
    sentAt: run.now(),
    expiresOn: addDays(sentOn, 30),
    person: home.contact,
  }
  home.estimates = [...home.estimates.filter(({ state }) => state === 'sent'), estimate]
  run.changed(home)
  run.in(chance.between(2, 40), '18:30', home.zone, () => {
    if (estimate.state !== 'sent') return
    estimate.state = chance.is(0.5) ? 'accepted' : chance.is(0.5) ? 'declined' : 'expired'
    for (const finding of home.findings) {
      if (finding.state === 'open' && finding.severity !== 'unsafe' && estimate.state !== 'expired')
        finding.state = estimate.state as 'accepted'
    }
    run.changed(home)
    if (estimate.state === 'accepted') bookVisit(run, home, 'repair', chance.between(3, 20))
  })
}
