import fc from 'fast-check'
import { expect, test, vi } from 'vitest'
import { ROUTE_ACCESS } from '../../server/access.ts'
import { payloads } from '../../server/field/operation-schema.ts'
import { inTodaysShape, type Steps } from '../../server/field/operation-versions.ts'
import { newId } from '../../server/ids.ts'
import { buildTestApp } from '../build/app.ts'
import { buildCompletedInspection, buildInspection, operation, readInspection } from '../build/inspection.ts'

vi.setConfig({ testTimeout: 120_000 })

const { base, ctx, clock, person } = await buildTestApp()
const office = await person('office')
const technician = await person('technician')
const stranger = await person('technician')
const open = await buildInspection(ctx, technician)
const done = await buildCompletedInspection(ctx, technician)
const { device, circuit, kitchen } = open

const findingId = newId()
const spare = newId()
await device.apply([
  operation('save-finding', open.id, {
    findingId,
    itemId: 'service.lugs',
    severity: 'repair',
    text: 'Loose',
  }),
])

/** One good operation of each kind, on which one field at a time goes wrong. */
const GOOD = {
  'answer-item': {
    itemId: 'panel-cover-off.circuit',
    subjectKind: 'equipment',
    subjectId: circuit.id,
    result: 'ok',
  },
  'clear-answer': { itemId: 'panel-cover-off.circuit', subjectKind: 'equipment', subjectId: circuit.id },
  'save-finding': { findingId, itemId: 'service.lugs', severity: 'repair', text: 'Loose' },
  'add-space': { space: { id: spare, kind: 'closet', name: 'Closet', level: 0 } },
  'change-space': { spaceId: kitchen, changes: { name: 'Kitchen' } },
  'add-equipment': { equipment: { id: spare, kind: 'alarm', label: 'Alarm', details: { senses: 'smoke' } } },
  'change-equipment': { equipmentId: circuit.id, changes: { label: 'Circuit 4' } },
  'retire-equipment': { equipmentId: circuit.id, retiredOn: '2026-06-01' },
  'note-inspection': { note: 'Dog is friendly.' },
} as const
type Kind = keyof typeof GOOD

const wrong: [Kind, string, unknown, string?][] = [
  ['answer-item', 'itemId', 'no.such-item'],
  ['answer-item', 'itemId', 7],
  ['answer-item', 'subjectId', newId()],
  ['answer-item', 'subjectId', done.circuit.id],
  ['answer-item', 'subjectId', null],
  ['answer-item', 'subjectKind', 'space'],
  ['answer-item', 'result', 'perfect'],
  ['answer-item', 'note', 'x'.repeat(4001)],
  ['answer-item', 'note', 'zero\0byte'],
  ['answer-item', 'readings', { volts: 'many' }],
  ['answer-item', 'readings', []],
  ['answer-item', 'notReachedReason', 'too tired'],
  ['answer-item', 'disagreements', [{ rule: 'r', reason: '' }]],
  ['answer-item', 'colour', 'red'],
  ['clear-answer', 'itemId', null],
  ['save-finding', 'findingId', 'one'],
  ['save-finding', 'findingId', done.findings.alarm, 'not-found'],
  ['save-finding', 'severity', 'terrible'],
  ['save-finding', 'text', 'x'.repeat(4001)],
  ['save-finding', 'watchUntil', '2026-02-30'],
  ['save-finding', 'spaceId', newId()],
  ['save-finding', 'equipmentId', done.circuit.id],
  ['add-space', 'space', { id: kitchen, kind: 'closet', name: 'Twice', level: 0 }, 'already-exists'],
  ['add-space', 'space', { id: spare, kind: 'dungeon', name: 'Closet', level: 0 }],
  ['add-space', 'space', { id: spare, kind: 'closet', name: '', level: 0 }],
  ['add-space', 'space', { id: spare, kind: 'closet', name: 'Closet', level: 1.5 }],
  ['add-space', 'space', { id: spare, kind: 'closet', name: 'Closet', level: 0, areaSqFt: -1 }],
  ['change-space', 'spaceId', done.kitchen, 'not-found'],
  ['change-space', 'changes', { name: 'x'.repeat(81) }],
  ['change-space', 'changes', { hasSink: 'perhaps' }],
  ['add-equipment', 'equipment', { id: spare, kind: 'toaster' }],
  ['add-equipment', 'equipment', { id: spare, kind: 'alarm', details: { senses: 'fear' } }],
  ['add-equipment', 'equipment', { id: spare, kind: 'alarm', manufacturedOn: '2026-13-01' }],
  ['add-equipment', 'equipment', { id: spare, kind: 'alarm', spaceId: done.kitchen }],
  ['change-equipment', 'equipmentId', newId(), 'not-found'],
  ['change-equipment', 'equipmentId', done.alarm.id, 'not-found'],
  ['change-equipment', 'changes', { details: { ratingAmps: 1e9 } }],
  ['change-equipment', 'changes', { details: { noSuchDetail: 1 } }],
  ['change-equipment', 'changes', { parentId: circuit.id }],
  ['change-equipment', 'changes', { manufacturedOn: 'last year' }],
  ['retire-equipment', 'retiredOn', '2026-02-30'],
  ['retire-equipment', 'equipmentId', done.alarm.id, 'not-found'],
  ['retire-equipment', 'replacedById', circuit.id],
  ['note-inspection', 'note', 'x'.repeat(8001)],
  ['note-inspection', 'note', ['a', 'list']],
]

test('one batch with every field wrong in turn: each is refused with what is wrong, the good ones go through', async () => {
  const bad = wrong.map(([command, field, value]) =>
    operation(command as 'note-inspection', open.id, { ...GOOD[command], [field]: value } as never),
  )
  const before = await readInspection(technician, open.id)
  const outcomes = await device.send([
    operation('note-inspection', open.id, { note: 'First.' }),
    ...bad,
    operation('note-inspection', open.id, { note: 'Last.' }),
  ])
  expect(outcomes.at(0)!.outcome).toBe('applied')
  expect(outcomes.at(-1)!.outcome).toBe('applied')
  for (const [index, [command, field, value, problem = 'invalid-request']] of wrong.entries()) {
    const outcome = outcomes[index + 1]!
    const words = `${command} ${field} ${JSON.stringify(value)?.slice(0, 40)}`
    expect(`${outcome.outcome} ${outcome.problem?.['type']}`, words).toBe(`refused /problems/${problem}`)
    expect(outcome.problem!['detail'], words).toMatch(/\w{3}.*\w{2}/)
  }
  const after = await readInspection(technician, open.id)
  expect({ ...after, note: '', version: 0 }).toEqual({ ...before, note: '', version: 0 })
})

test('each field of the envelope', async () => {
  const good = operation('note-inspection', open.id, { note: 'Good.' })
  const outcomes = await device.send(
    (
      [
        { id: 'seven' },
        // A UUID, and not of the kind that carries its order.
        { id: '3f2504e0-4f89-41d3-9a0c-0305e82c3301' },
        { at: 'yesterday' },
        { at: '2026-02-30T10:00:00Z' },
        { inspectionId: null },
        { inspectionId: newId() },
        { inspectionId: done.id },
        { base: -1 },
        { base: 'one' },
        { command: 'paint-the-panel' },
        { command: 'constructor' },
        { payload: null },
        { extra: true },
        { v: 'two' },
        { v: 0 },
      ] as object[]
    ).map((fault) => ({ ...good, id: newId(), ...fault })),
  )
  expect(outcomes.map(({ problem }) => String(problem?.['type']).replace('/problems/', ''))).toEqual([
    'invalid-request',
    'invalid-request',
    'invalid-request',
    'invalid-request',
    'invalid-request',
    'not-found',
    'wrong-state',
    ...Array(8).fill('invalid-request'),
  ])
})

test('a clock that is years off is kept out of what is dated', async () => {
  for (const at of ['1970-01-01T00:00:00Z', '2099-12-31T23:59:59Z', '0001-01-01T00:00:00Z']) {
    await device.apply([operation('answer-item', open.id, GOOD['answer-item'], { at })])
    const { answers } = await readInspection(technician, open.id)
    expect(answers[0]!.answeredAt, at).toBe(clock.now.toISOString())
  }
})

test('someone else’s visit and inspection stay theirs, one by one', async () => {
  const answer = await stranger.call('POST', '/api/v1/field/operations', {
    payload: {
      deviceId: newId(),
      operations: [
        ...Object.entries(GOOD).map(([command, payload]) =>
          operation(command as 'note-inspection', open.id, payload as never),
        ),
        operation('start-inspection', newId(), { visitId: open.visit.id }),
        operation('complete-inspection', open.id, {}),
      ],
    },
  })
  const types = answer.json().outcomes.map((each: { problem: { type: string } }) => each.problem.type)
  expect(new Set(types)).toEqual(new Set(['/problems/not-allowed']))
})

test('once the report is issued, operations are refused and say what can be done', async () => {
  const issued = await buildCompletedInspection(ctx, technician)
  const answer = await office.call('POST', `/api/v1/inspections/${issued.id}/issue`, { payload: {} })
  expect(answer.statusCode, answer.body).toBeLessThan(300)
  const [late] = await issued.device.send([
    operation('note-inspection', issued.id, { note: 'One more thing' }),
  ])
  expect(late).toMatchObject({
    outcome: 'refused',
    problem: { type: '/problems/wrong-state', state: 'issued', detail: expect.stringContaining('corrected') },
  })
})

test('an operation of the first apps, without a version, is taken; one of a newer app waits', async () => {
  const note = (v: number | undefined) => ({
    ...operation('note-inspection', open.id, { note: `From version ${v}` }),
    ...(v !== undefined && { v }),
  })
  const outcomes = await device.send([note(undefined), note(1), note(2), note(3), note(undefined)])
  expect(outcomes.map((each) => each.outcome)).toEqual(['applied', 'applied', 'applied', 'later', 'applied'])
  expect(outcomes[3]!.problem).toMatchObject({
    type: '/problems/not-available',
    detail: expect.stringContaining('newer'),
  })
  // Nothing of it is written down, so that it is judged when the office can read it.
  expect(await base.db.operation.count({ where: { id: outcomes[3]!.id! } })).toBe(0)
})

test('older shapes are read step by step; a field that nobody knows any more is refused by its name', async () => {
  const steps: Steps = {
    1: ({ remark, ...rest }) => ({ ...rest, note: remark }),
    2: ({ note, ...rest }) => ({ ...rest, payload: { note } }),
  }
  expect(inTodaysShape({ remark: 'x' }, steps, 3)).toEqual({ payload: { note: 'x' }, v: 3 })
  expect(inTodaysShape({ v: 2, note: 'x' }, steps, 3)).toEqual({ payload: { note: 'x' }, v: 3 })
  expect(inTodaysShape({ v: 4 }, steps, 3)).toBeNull()
  const old = { ...operation('note-inspection', open.id, { remark: 'x' } as never), v: 1 }
  const [outcome] = await device.send([old])
  expect(outcome!.problem!['detail']).toContain('remark')
})

test('a refused or applied operation sent again gets the same answer, also when only its envelope is newer', async () => {
  const good = operation('note-inspection', open.id, { note: 'Again.' })
  const bad = operation('note-inspection', open.id, { note: 7 as never })
  const first = await device.send([good, bad])
  const again = await device.send([
    { ...good, v: 2 },
    { ...bad, v: 2 },
  ])
  expect(again).toEqual(first.map((each) => ({ ...each, replayed: true })))
  const [tampered] = await device.send([{ ...good, inspectionId: done.id }])
  expect(tampered).toMatchObject({ outcome: 'refused', problem: { type: '/problems/key-reused' } })
})

const hard = fc.constantFrom(
  '',
  '\0',
  '\ud800',
  '💡',
  "' OR 1=1 --",
  '-1',
  '1e999',
  'null',
  '2026-02-30',
  '__proto__',
)
const words = fc.oneof(fc.string({ maxLength: 30 }), hard)
const ids = fc.constantFrom(open.id, done.id, circuit.id, kitchen, findingId, done.findings.alarm, newId())
const value = fc.oneof(
  fc.jsonValue({ maxDepth: 3 }),
  words,
  ids,
  fc.integer(),
  fc.constantFrom(null, true, 2 ** 53),
)
const fields = fc.constantFrom(
  ...new Set(Object.values(GOOD).flatMap((payload) => Object.keys(payload))),
  'id',
  'visitId',
  'base',
  'state',
  'caption',
  'annotations',
  'reason',
  'deviceId',
  'operations',
  'signature',
  'alternativeId',
  'choice',
)
const junk = fc.oneof(value, fc.dictionary(fields, value, { maxKeys: 6 }))

test('junk operations, one after the other: none is a fault, none stops the batch, nothing completed opens', async () => {
  const command = fc.constantFrom(...Object.keys(payloads).filter((name) => name !== 'complete-inspection'))
  const wellMeant = fc.record({
    id: fc.constant(null).map(() => newId()),
    at: fc.constantFrom('2026-06-01T15:00:00Z', '0001-01-01T00:00:00Z', '9999-12-31T23:59:59Z'),
    inspectionId: fc.constantFrom(open.id, done.id, newId()),
    command,
    payload: fc.dictionary(fields, value, { maxKeys: 8 }),
  })
  const wild = fc.dictionary(
    fc.constantFrom('id', 'at', 'inspectionId', 'command', 'payload', 'base', 'v', 'x'),
    fc.oneof(value, command),
    { maxKeys: 7 },
  )
  await fc.assert(
    fc.asyncProperty(
      fc.array(fc.oneof(wellMeant, wild, value as fc.Arbitrary<object>), { minLength: 1, maxLength: 10 }),
      async (operations) => {
        const answer = await technician.call('POST', '/api/v1/field/operations', {
          payload: JSON.stringify({ deviceId: newId(), operations }),
          headers: { 'content-type': 'application/json' },
        })
        // What is no object is no operation: the whole sending is refused, and says which.
        if (answer.statusCode === 400) {
          expect(answer.json().errors[0].pointer).toMatch(/^#\/operations\//)
          return
        }
        expect(answer.statusCode, answer.body).toBe(200)
        for (const [i, outcome] of answer.json().outcomes.entries()) {
          const said = `${JSON.stringify(operations[i])} → ${JSON.stringify(outcome)}`
          const mayWait = Number((operations[i] as { v?: unknown }).v) > 2
          expect(mayWait ? ['later', 'refused'] : ['applied', 'refused'], said).toContain(outcome.outcome)
          if (outcome.outcome === 'refused') expect(outcome.problem.detail, said).toMatch(/\S/)
        }
      },
    ),
    { numRuns: 40 },
  )
  expect((await readInspection(technician, done.id)).state).toBe('completed')
})

const routes = Object.keys(ROUTE_ACCESS)
  .filter((name) => /\/(inspections|findings|photos|reports|field)\b/.test(name))
  .map((name) => name.split(' ') as ['GET' | 'POST' | 'PUT' | 'PATCH' | 'DELETE', string])

test.each(routes)('%s %s answers junk with a problem, never with a fault', async (method, path) => {
  await fc.assert(
    fc.asyncProperty(
      fc.oneof(ids, words),
      fc.oneof(ids, words),
      junk,
      fc.constantFrom('"1"', '"0"', '*', 'junk', undefined),
      async (id, second, body, seen) => {
        const inPath = (text: string) => encodeURIComponent(Buffer.from(text).toString())
        const url = path.replace(':id', inPath(id)).replace(':photoId', inPath(second))
        const hasBody = method !== 'GET' && method !== 'DELETE'
        const answer = await stranger.call(method, url, {
          ...(hasBody && { payload: JSON.stringify(body) ?? 'null' }),
          headers: {
            ...(hasBody && { 'content-type': 'application/json' }),
            ...(seen && { 'if-match': seen }),
          },
        })
        expect(answer.statusCode, `${method} ${url} ${JSON.stringify(body)} → ${answer.body}`).toBeLessThan(
          500,
        )
        if (answer.statusCode >= 400) expect(answer.json().detail).toMatch(/\S/)
      },
    ),
    { numRuns: 12 },
  )
  // Another technician’s junk changes nothing of these.
  expect((await readInspection(technician, done.id)).state).toBe('completed')
  expect((await readInspection(technician, open.id)).state).toBe('open')
})

test('only the office opens a completed inspection again, and junk in the body is refused, not ignored', async () => {
  const own = await technician.call('POST', `/api/v1/inspections/${done.id}/reopen`)
  expect(own.json()).toMatchObject({ type: '/problems/not-allowed' })
  for (const what of ['reopen', 'complete']) {
    const answer = await office.call('POST', `/api/v1/inspections/${done.id}/${what}`, {
      payload: { state: 'open' },
    })
    expect(answer.json(), what).toMatchObject({ type: '/problems/invalid-request' })
  }
  expect((await readInspection(technician, done.id)).state).toBe('completed')
})
