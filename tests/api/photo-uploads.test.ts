import { createHash } from 'node:crypto'
import { expect, test } from 'vitest'
import { newId } from '../../server/ids.ts'
import type { UploadView } from '../../server/photos/upload-schema.ts'
import { cleanUp } from '../../server/upkeep/service.ts'
import { buildTestApp } from '../build/app.ts'
import { buildInspection } from '../build/inspection.ts'
import { buildHugePng, buildJpeg } from '../build/picture.ts'

// A picture in parts, by draft-ietf-httpbis-resumable-upload-12: fields, statuses and the problem's members are its own.

const { base, ctx, clock, person } = await buildTestApp()
const technician = await person('technician')
const other = await person('technician')
const inspection = await buildInspection(ctx, technician)
const picture = await buildJpeg(1200, 900)
const third = Math.ceil(picture.length / 3)

const addressOf = (id: string) => `/api/v1/inspections/${inspection.id}/photos/${id}/upload`
const digestOf = (bytes: Buffer) => `sha-256=:${createHash('sha256').update(bytes).digest('base64')}:`

interface First {
  bytes?: Buffer
  type?: string
  query?: string
  by?: typeof technician
  more?: Record<string, string>
  part?: Buffer
}
const begin = (
  id: string,
  { bytes = picture, type = 'image/jpeg', query = '', by = technician, more = {}, part }: First = {},
) =>
  by.call('PUT', `${addressOf(id)}?${query}`, {
    payload: part ?? bytes.subarray(0, third),
    headers: {
      'content-type': type,
      'upload-complete': '?0',
      'upload-length': String(bytes.length),
      ...more,
    },
  })
const append = (id: string, from: number, to: number, { bytes = picture, by = technician } = {}) =>
  by.call('PATCH', addressOf(id), {
    payload: bytes.subarray(from, to),
    headers: {
      'content-type': 'application/partial-upload',
      'upload-offset': String(from),
      'upload-complete': to >= bytes.length ? '?1' : '?0',
    },
  })
const uploads = () => base.db.photoUpload.count()

test('a picture that comes in three parts is the photo that it would have been in one', async () => {
  const id = newId()
  const query = `itemId=panel-cover-off.circuit&subjectId=${inspection.circuit.id}&caption=Lug`
  const first = await begin(id, { query, more: { 'repr-digest': digestOf(picture) } })
  expect(first.statusCode, first.body).toBe(201)
  expect(first.headers).toMatchObject({
    'upload-offset': String(third),
    'upload-complete': '?0',
    location: addressOf(id),
  })
  const second = await append(id, third, 2 * third)
  expect(second.json()).toMatchObject({
    complete: false,
    offset: 2 * third,
    length: picture.length,
    photo: null,
  })
  const last = await append(id, 2 * third, picture.length)
  expect(last.statusCode, last.body).toBe(200)
  expect(last.headers['upload-complete']).toBe('?1')
  const { photo } = last.json<UploadView>()
  expect(photo).toMatchObject({
    id,
    itemId: 'panel-cover-off.circuit',
    subjectId: inspection.circuit.id,
    caption: 'Lug',
    originalSha256: createHash('sha256').update(picture).digest('hex'),
  })
  const whole = await technician.call('PUT', `/api/v1/inspections/${inspection.id}/photos/${newId()}`, {
    payload: picture,
    headers: { 'content-type': 'image/jpeg' },
  })
  expect(whole.json()).toMatchObject({ sha256: photo!.sha256, width: photo!.width })
  expect(await uploads()).toBe(0)
})

test('after a cut it is asked where it stands, and goes on from there', async () => {
  const id = newId()
  expect((await technician.call('HEAD', addressOf(id))).statusCode).toBe(404)
  await begin(id)
  await append(id, third, 2 * third)
  const head = await technician.call('HEAD', addressOf(id))
  expect(head.headers).toMatchObject({
    'upload-offset': String(2 * third),
    'upload-length': String(picture.length),
    'upload-complete': '?0',
    'cache-control': 'no-store',
  })
  expect((await append(id, 2 * third, picture.length)).json<UploadView>().complete).toBe(true)
})

test('a part that comes again, or one too early, changes nothing and says where to go on', async () => {
  const id = newId()
  await begin(id)
  // The first one again: as after an answer that was lost.
  expect((await begin(id)).json()).toMatchObject({ offset: third })
  for (const from of [0, 2 * third]) {
    const answer = await append(id, from, from + 100)
    expect(answer.statusCode).toBe(409)
    expect(answer.json()).toMatchObject({
      type: '/problems/upload-elsewhere',
      'expected-offset': third,
      'provided-offset': from,
    })
  }
  const both = await Promise.all([append(id, third, picture.length), append(id, third, picture.length)])
  expect(both.some((each) => each.json<UploadView>().complete)).toBe(true)
  // Whatever comes late finds the photo.
  for (const answer of [
    await begin(id),
    await append(id, third, picture.length),
    await technician.call('GET', addressOf(id)),
  ])
    expect(answer.json<UploadView>()).toMatchObject({ complete: true, photo: { id } })
  expect(await base.db.photo.count({ where: { id } })).toBe(1)
  expect(await uploads()).toBe(0)
})

test('a server that died after the last part: sent again with nothing more, it becomes the photo', async () => {
  const id = newId()
  await begin(id)
  await base.db
    .$executeRaw`UPDATE photo_upload SET bytes = ${Uint8Array.from(picture)} WHERE id = ${id}::uuid`
  expect((await technician.call('GET', addressOf(id))).json()).toMatchObject({
    complete: false,
    offset: picture.length,
  })
  expect((await append(id, picture.length, picture.length)).json<UploadView>()).toMatchObject({
    complete: true,
  })
})

test('what did not arrive as it was sent begins again', async () => {
  const id = newId()
  await begin(id, { more: { 'repr-digest': digestOf(Buffer.from('another picture')) } })
  const last = await append(id, third, picture.length)
  expect(last.json()).toMatchObject({ type: '/problems/upload-elsewhere', 'expected-offset': 0 })
  expect((await technician.call('GET', addressOf(id))).statusCode).toBe(404)
})

test.each([
  [
    'a page that calls itself a photo',
    Buffer.from(`<html>${'x'.repeat(5000)}`),
    'image/jpeg',
    415,
    'no kind of file',
  ],
  ['a picture of another kind than it says', picture, 'image/png', 415, 'image/jpeg'],
  ['a picture that breaks off', picture.subarray(0, 2 * third), 'image/jpeg', 400, 'damaged'],
  ['40,000 × 40,000 pixels', buildHugePng(40_000), 'image/png', 413, '40000 × 40000'],
])(
  '%s is refused like one that came at once, and its parts go',
  async (_name, bytes, type, status, words) => {
    const id = newId()
    const first = await begin(id, { bytes, type, part: bytes.subarray(0, 1000) })
    expect(first.statusCode, first.body).toBe(201)
    const last = await append(id, 1000, bytes.length, { bytes })
    expect(last.statusCode, last.body).toBe(status)
    expect(JSON.stringify(last.json())).toContain(words)
    expect(await uploads()).toBe(0)
  },
)

test('30 MB are refused by what they say of themselves, more than was said by what comes', async () => {
  const large = await begin(newId(), { more: { 'upload-length': String(30 * 1024 * 1024) } })
  expect(large.json()).toMatchObject({ type: '/problems/too-large', status: 413 })
  const id = newId()
  await begin(id)
  for (const [from, more] of [
    [third, picture.length],
    [0, 2 * 1024 * 1024],
  ] as const) {
    const answer = await append(id, from, from + more, { bytes: Buffer.alloc(3 * 1024 * 1024) })
    expect([400, 413]).toContain(answer.statusCode)
  }
  expect((await technician.call('GET', addressOf(id))).json()).toMatchObject({ offset: third })
  await technician.call('DELETE', addressOf(id))
})

test.each([
  ['no length', { 'upload-length': '' }],
  ['half a byte', { 'upload-length': '1.5' }],
  ['nothing said of what follows', { 'upload-complete': 'no' }],
  ['the whole as a part', { 'upload-length': '10' }],
  ['a digest that is none', { 'repr-digest': 'md5=:abc:' }],
])('%s: refused with what is wrong', async (_name, more) => {
  const answer = await begin(newId(), { more })
  expect(answer.statusCode, answer.body).toBe(400)
  expect(await uploads()).toBe(0)
})

test('one technician’s parts are not another’s; a finding that is not of that home is refused at once', async () => {
  const id = newId()
  await begin(id)
  expect((await begin(id, { by: other })).statusCode).toBe(403)
  expect((await append(id, third, picture.length, { by: other })).statusCode).toBe(403)
  expect((await begin(newId(), { query: `findingId=${newId()}` })).statusCode).toBe(400)
  const json = await technician.call('PATCH', addressOf(id), {
    payload: {},
    headers: { 'upload-offset': '0', 'upload-complete': '?0' },
  })
  expect(json.statusCode).toBe(415)
  expect((await technician.call('DELETE', addressOf(id))).statusCode).toBe(204)
})

test('what is given up goes after a week', async () => {
  const id = newId()
  await begin(id)
  const days = (count: number) => (clock.now = new Date(clock.now.getTime() + count * 86_400_000))
  days(6)
  await cleanUp(ctx)
  expect(await uploads()).toBe(1)
  days(2)
  await cleanUp(ctx)
  expect(await uploads()).toBe(0)
})
