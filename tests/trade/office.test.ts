import { describe, expect, test } from 'vitest'
import { choice, count, date, number, text, yesNo } from '../../trade/fields.ts'
import {
  isOffice,
  mayChangeSettings,
  mayFillInspection,
  mayIssueReport,
  mayManagePeople,
  maySeeVisit,
  mayWorkOnVisit,
  type Role,
} from '../../trade/permissions.ts'
import { mayTake, VISIT_STATES, type VisitState, type VisitStep } from '../../trade/visits.ts'

describe('who may', () => {
  test.each<[Role, { settings: boolean; office: boolean }]>([
    ['admin', { settings: true, office: true }],
    ['office', { settings: false, office: true }],
    ['technician', { settings: false, office: false }],
  ])('%s: %o', (role, { settings, office }) => {
    const user = { id: 'me', role }
    expect(mayManagePeople(user)).toBe(settings)
    expect(mayChangeSettings(user)).toBe(settings)
    expect(isOffice(user)).toBe(office)
    for (const may of [maySeeVisit, mayWorkOnVisit, mayFillInspection, mayIssueReport]) {
      expect(may(user, { technicianId: 'me' })).toBe(true)
      expect(may(user, { technicianId: 'someone else' })).toBe(office)
    }
  })
})

describe('steps of a visit', () => {
  const steps: Record<VisitStep, VisitState[]> = {
    'start-travel': ['booked'],
    arrive: ['booked', 'travelling'],
    finish: ['on-site'],
    cancel: ['booked', 'travelling'],
    'no-access': ['booked', 'travelling', 'on-site'],
  }
  test.each(Object.entries(steps))('%s is open while %s, and at no other time', (step, from) => {
    const open = (Object.keys(VISIT_STATES) as VisitState[]).filter((state) =>
      mayTake(step as VisitStep, state),
    )
    expect(open.toSorted()).toEqual(from.toSorted())
  })
})

describe('fields of the form', () => {
  test('say how they are read only where there is something to say', () => {
    expect(choice('Role', { a: 'A' })).toEqual({ type: 'choice', label: 'Role', options: { a: 'A' } })
    expect(choice('Role', { a: 'A' }, 'Look there')).toMatchObject({ help: 'Look there' })
    expect(count('Poles', 1, 3)).toEqual({
      type: 'number',
      label: 'Poles',
      unit: 'count',
      min: 1,
      max: 3,
      step: 1,
    })
    expect(count('Poles', 1, 3, 'Look there')).toMatchObject({ step: 1, help: 'Look there' })
    expect(text('Says')).toEqual({ type: 'text', label: 'Says', maxLength: 200 })
    expect(text('Says', 60, 'Look there')).toMatchObject({ maxLength: 60, help: 'Look there' })
    expect(date('Made')).toEqual({ type: 'date', label: 'Made' })
    expect(date('Made', 'Look there')).toMatchObject({ help: 'Look there' })
    expect(yesNo('Tied')).toEqual({ type: 'yes-no', label: 'Tied' })
    expect(yesNo('Tied', 'Look there')).toMatchObject({ help: 'Look there' })
  })
  test('a number has its unit and range, and a step where only some numbers make sense', () => {
    expect(number('Length', 'ft', 0, 8)).toEqual({
      type: 'number',
      label: 'Length',
      unit: 'ft',
      min: 0,
      max: 8,
    })
    expect(number('Rating', 'A', 0, 8, { step: 1, help: 'Look there' })).toMatchObject({
      step: 1,
      help: 'Look there',
    })
  })
})
