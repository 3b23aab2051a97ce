import { expect, test } from 'vitest'
import { newId } from '../../server/ids.ts'
import type { PhotoView } from '../../server/inspections/record-schema.ts'
import { buildTestApp } from '../build/app.ts'
import { buildDevice, buildInspection, operation, readInspection } from '../build/inspection.ts'
import { buildJpeg } from '../build/picture.ts'

const { base, ctx, person } = await buildTestApp()
const technician = await person('technician')
const inspection = await buildInspection(ctx, technician)
const picture = await buildJpeg(400, 300)

const put = (id: string, of = inspection.id) =>
  technician.call('PUT', `/api/v1/inspections/${of}/photos/${id}?caption=as%20taken`, {
    payload: picture,
    headers: { 'content-type': 'image/jpeg' },
  })
const arrow = { shape: 'arrow', from: { x: 0.2, y: 0.2 }, to: { x: 0.5, y: 0.4 } } as const
const describe = (
  photoId: string,
  said: { caption?: string; annotations?: (typeof arrow)[] },
  of = inspection.id,
) => operation('describe-photo', of, { photoId, ...said })

test('words and marks are kept beside a photo, and the picture stays as it was sent', async () => {
  const id = newId()
  const before = (await put(id)).json<PhotoView>()
  const [outcome] = await inspection.device.apply([
    describe(id, { caption: 'Burnt lug', annotations: [arrow] }),
  ])
  expect(outcome!.superseded).toBeNull()
  const after = (await readInspection(technician, inspection.id)).photos.find((each) => each.id === id)!
  expect(after).toEqual({ ...before, caption: 'Burnt lug', annotations: [arrow] })
})

test('what is said of a photo before it arrives waits for it, the later words over the earlier ones', async () => {
  const id = newId()
  await inspection.device.apply([
    describe(id, { caption: 'first words' }),
    describe(id, { annotations: [arrow] }),
    describe(id, { caption: 'second words' }),
  ])
  expect((await put(id)).json()).toMatchObject({ caption: 'second words', annotations: [arrow] })
  // Sent again, it is the same photo with the same words.
  expect((await put(id)).json()).toMatchObject({ caption: 'second words', annotations: [arrow] })
})

test('a photo that was taken back is gone, also when it arrives only afterwards', async () => {
  const [there, late] = [newId(), newId()]
  await put(there)
  await inspection.device.apply([
    operation('remove-photo', inspection.id, { photoId: there }),
    operation('remove-photo', inspection.id, { photoId: late }),
  ])
  const refused = await put(late)
  expect(refused.json()).toMatchObject({ type: '/problems/wrong-state' })
  expect(await base.db.photo.count({ where: { id: { in: [there, late] } } })).toBe(0)
  expect(await base.db.auditEntry.count({ where: { action: 'photo.remove', subjectId: there } })).toBe(1)
})

test('two devices that describe one photo: the later one stands, the earlier one is offered', async () => {
  const id = newId()
  await put(id)
  await inspection.device.apply([describe(id, { caption: 'from the phone' })])
  const tablet = buildDevice(technician)
  const [outcome] = await tablet.apply([describe(id, { caption: 'from the tablet' })])
  expect(outcome!.superseded).toEqual({
    kind: 'photo',
    record: { id, caption: 'from the phone', annotations: [] },
  })
})

test('a photo of another inspection is not reached', async () => {
  const id = newId()
  const other = await buildInspection(ctx, technician)
  await put(id, other.id)
  const outcomes = await inspection.device.send([
    describe(id, { caption: 'not mine' }),
    operation('remove-photo', inspection.id, { photoId: id }),
  ])
  for (const outcome of outcomes) expect(outcome.problem).toMatchObject({ type: '/problems/not-found' })
  expect(await base.db.photo.findUnique({ where: { id } })).toMatchObject({ caption: 'as taken' })
})

test.each([
  ['nothing said', {}],
  ['a place outside the picture', { annotations: [{ ...arrow, to: { x: 1.2, y: 0 } }] }],
  ['a shape that is not drawn', { annotations: [{ shape: 'star', at: { x: 0, y: 0 } }] }],
  ['text without words', { annotations: [{ shape: 'text', at: { x: 0, y: 0 }, text: '' }] }],
  ['more marks than a picture bears', { annotations: Array(41).fill(arrow) }],
  ['a caption that is no text', { caption: 7 }],
])('%s is refused, and the rest of the batch goes through', async (_what, said) => {
  const id = newId()
  await put(id)
  const outcomes = await inspection.device.send([
    describe(id, said as never),
    describe(id, { caption: 'the next one' }),
  ])
  expect(outcomes.map((each) => each.outcome)).toEqual(['refused', 'applied'])
  expect(outcomes[0]!.problem).toMatchObject({ type: '/problems/invalid-request', status: 400 })
})
