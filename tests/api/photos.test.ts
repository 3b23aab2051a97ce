import { createHash } from 'node:crypto'
import { connect } from 'node:net'
import type { AddressInfo } from 'node:net'
import exifr from 'exifr'
import sharp from 'sharp'
import { expect, test } from 'vitest'
import { newId } from '../../server/ids.ts'
import type { PhotoView } from '../../server/inspections/record-schema.ts'
import { buildTestApp } from '../build/app.ts'
import { buildInspection } from '../build/inspection.ts'
import { buildHugePng, buildJpeg } from '../build/picture.ts'

const { app, base, ctx, nobody, person } = await buildTestApp()
const technician = await person('technician')
const other = await person('technician')
const office = await person('office')
const inspection = await buildInspection(ctx, technician)

const put = (
  bytes: Buffer,
  more: { id?: string; type?: string; query?: string; by?: typeof technician; of?: string } = {},
) =>
  (more.by ?? technician).call(
    'PUT',
    `/api/v1/inspections/${more.of ?? inspection.id}/photos/${more.id ?? newId()}?${more.query ?? ''}`,
    { payload: bytes, headers: { 'content-type': more.type ?? 'image/jpeg' } },
  )

test('a photo is kept upright, smaller, and without where it was taken', async () => {
  const sent = await buildJpeg(3000, 2000)
  // The picture that is sent does carry all this: an independent reader says so.
  expect(await exifr.gps(sent)).toMatchObject({ latitude: expect.closeTo(44.7, 1) })
  expect(await exifr.parse(sent)).toMatchObject({ Make: 'Box', Artist: 'Robin Vale' })

  const answer = await put(sent, {
    query: `itemId=panel-cover-off.circuit&subjectId=${inspection.circuit.id}&caption=Circuit%204&takenAt=2026-06-01T14:58:00Z`,
  })
  expect(answer.statusCode, answer.body).toBe(201)
  const photo = answer.json<PhotoView>()
  expect(photo).toMatchObject({
    caption: 'Circuit 4',
    subjectId: inspection.circuit.id,
    takenAt: '2026-06-01T14:58:00.000Z',
    // Orientation 6 of EXIF 2.32: turned a quarter to the right to be seen upright.
    width: 1365,
    height: 2048,
    originalSha256: createHash('sha256').update(sent).digest('hex'),
  })

  const kept = (await technician.call('GET', `/api/v1/photos/${photo.id}/picture`)).rawPayload
  expect(createHash('sha256').update(kept).digest('hex')).toBe(photo.sha256)
  expect(
    await exifr.parse(kept, { gps: true, xmp: true, iptc: true, icc: false, mergeOutput: true }),
  ).toBeUndefined()
  expect(kept.includes('Robin Vale')).toBe(false)
  expect(await sharp(kept).metadata()).toMatchObject({
    format: 'jpeg',
    width: 1365,
    height: 2048,
  })
  expect(await sharp(kept).metadata()).not.toHaveProperty('exif')
  expect(await sharp(kept).metadata()).not.toHaveProperty('orientation')

  const small = (await office.call('GET', `/api/v1/photos/${photo.id}/thumbnail`)).rawPayload
  expect(await sharp(small).metadata()).toMatchObject({ width: 213, height: 320 })
})

test('the same photo sent again is the same photo; other bytes under its id are refused', async () => {
  const [id, bytes] = [newId(), await buildJpeg(400, 300, 2)]
  const first = await put(bytes, { id })
  const again = await put(bytes, { id })
  expect([first.statusCode, again.statusCode]).toEqual([201, 200])
  expect(again.json()).toEqual(first.json())
  const both = await Promise.all([put(bytes, { id: newId() }), put(bytes, { id })])
  expect(both.map((each) => each.statusCode)).toEqual([201, 200])
  const stolen = await put(await buildJpeg(400, 300, 3), { id })
  expect(stolen.json()).toMatchObject({ type: '/problems/already-exists' })
  expect(await base.db.photo.count({ where: { id } })).toBe(1)
})

test('PNG and WebP become JPEG', async () => {
  const source = sharp(await buildJpeg(300, 200))
  for (const type of ['png', 'webp'] as const) {
    const answer = await put(await source.clone().toFormat(type).toBuffer(), { type: `image/${type}` })
    expect(answer.statusCode, answer.body).toBe(201)
    const picture = (await technician.call('GET', `/api/v1/photos/${answer.json().id}/picture`)).rawPayload
    expect((await sharp(picture).metadata()).format).toBe('jpeg')
  }
})

test.each([
  [
    'a PDF that calls itself a photo',
    Buffer.from('%PDF-1.7\n1 0 obj\n'),
    'image/jpeg',
    415,
    'application/pdf',
  ],
  [
    'a page that calls itself a photo',
    Buffer.from('<html><script>alert(1)</script>'),
    'image/png',
    415,
    'no kind of file',
  ],
  [
    'a drawing that may hold script',
    Buffer.from('<?xml version="1.0"?><svg xmlns="http://www.w3.org/2000/svg"/>'),
    'image/svg+xml',
    415,
    'Send a photo as JPEG',
  ],
  ['nothing', Buffer.alloc(0), 'image/jpeg', 415, 'no kind of file'],
  ['text', Buffer.from('hello'), 'text/plain', 415, ''],
  [
    'the head of a JPEG and no more',
    Buffer.from('ffd8ffe000104a46494600010100000100010000', 'hex'),
    'image/jpeg',
    400,
    'damaged',
  ],
])('%s is refused', async (_name, bytes, type, status, words) => {
  const answer = await put(bytes, { type })
  expect(answer.statusCode, answer.body).toBe(status)
  expect(answer.headers['content-type']).toContain('application/problem+json')
  expect(answer.json().detail).toContain(words)
})

test('a PNG that is sent as a JPEG is refused with what it is', async () => {
  const png = await sharp(await buildJpeg(50, 50))
    .png()
    .toBuffer()
  const answer = await put(png, { type: 'image/jpeg' })
  expect(answer.statusCode).toBe(415)
  expect(answer.json()).toMatchObject({ type: '/problems/unsupported-type', found: 'image/png' })
})

test('a JPEG that breaks off in the middle is refused, and nothing is kept', async () => {
  const whole = await buildJpeg(1200, 900, 9)
  const id = newId()
  const answer = await put(whole.subarray(0, whole.length / 3), { id })
  expect(answer.json()).toMatchObject({ type: '/problems/invalid-request', status: 400 })
  expect(await base.db.photo.count({ where: { id } })).toBe(0)
})

test('a small file that unfolds into 40,000 × 40,000 pixels is refused before it is unfolded', async () => {
  const huge = buildHugePng(40_000)
  expect(huge.length).toBeLessThan(1_000_000)
  const began = performance.now()
  const answer = await put(huge, { type: 'image/png' })
  expect(answer.statusCode, answer.body).toBe(413)
  expect(answer.json().detail).toContain('40000 × 40000')
  // To unfold it takes many seconds; its header alone is read in some milliseconds.
  expect(performance.now() - began).toBeLessThan(2000)
})

test('30 MB are refused by what they say of themselves, before they are sent', async () => {
  await app.listen({ port: 0, host: '127.0.0.1' })
  const { port } = app.server.address() as AddressInfo
  const session = await base.db.session.findFirstOrThrow({ where: { userId: technician.id } })
  const answer = await new Promise<string>((resolve, reject) => {
    const socket = connect(port, '127.0.0.1', () => {
      socket.write(
        `PUT /api/v1/inspections/${inspection.id}/photos/${newId()} HTTP/1.1\r\nhost: localhost\r\n` +
          `origin: http://localhost:3000\r\ncookie: watchlamp=session-of-${session.userId}\r\n` +
          `content-type: image/jpeg\r\ncontent-length: ${30 * 1024 * 1024}\r\n\r\n${'x'.repeat(1000)}`,
      )
    })
    socket.once('data', (data) => {
      resolve(String(data))
      socket.destroy()
    })
    socket.once('error', reject)
  })
  expect(answer).toMatch(/^HTTP\/1\.1 413 /)
  expect(answer).toContain('/problems/too-large')
  expect(answer).toContain('12 MB at most')
})

test('chunk after chunk without a length is cut off at the limit', async () => {
  const answer = await put(Buffer.alloc(12 * 1024 * 1024 + 1))
  expect(answer.json()).toMatchObject({ type: '/problems/too-large', status: 413 })
})

test('photos of one technician are not another’s', async () => {
  const bytes = await buildJpeg(60, 40)
  expect((await put(bytes, { by: other })).statusCode).toBe(403)
  const photo = (await put(bytes)).json<PhotoView>()
  for (const path of ['', '/picture', '/thumbnail']) {
    expect((await other.call('GET', `/api/v1/photos/${photo.id}${path}`)).statusCode).toBe(403)
    expect((await office.call('GET', `/api/v1/photos/${photo.id}${path}`)).statusCode).toBe(200)
    expect((await nobody('GET', `/api/v1/photos/${photo.id}${path}`)).statusCode).toBe(401)
  }
  expect((await other.call('DELETE', `/api/v1/photos/${photo.id}`)).statusCode).toBe(403)
})

test('what it is said to belong to must exist at that home', async () => {
  const bytes = await buildJpeg(60, 40)
  const strange = await buildInspection(ctx, other)
  for (const query of [
    `findingId=${newId()}`,
    `subjectId=${strange.circuit.id}`,
    'itemId=no.such-item',
    'colour=red',
  ]) {
    const answer = await put(bytes, { query })
    expect(answer.statusCode, answer.body).toBe(400)
  }
  expect((await put(bytes, { of: newId() })).statusCode).toBe(404)
  expect((await put(bytes, { id: 'seven' })).statusCode).toBe(400)
})

test('captions and drawings on it are data beside the picture; it can be removed', async () => {
  const photo = (await put(await buildJpeg(60, 40))).json<PhotoView>()
  const annotations = [
    { shape: 'arrow', from: { x: 0.1, y: 0.1 }, to: { x: 0.5, y: 0.5 } },
    { shape: 'circle', centre: { x: 0.5, y: 0.5 }, radius: 0.1 },
    { shape: 'text', at: { x: 0.2, y: 0.9 }, text: 'scorched' },
  ]
  const changed = await technician.call('PATCH', `/api/v1/photos/${photo.id}`, {
    payload: { caption: 'Scorched lug', annotations },
  })
  expect(changed.json()).toMatchObject({ caption: 'Scorched lug', annotations, sha256: photo.sha256 })
  const wrong = await technician.call('PATCH', `/api/v1/photos/${photo.id}`, {
    payload: { annotations: [{ shape: 'arrow', from: { x: 2, y: 0 }, to: { x: 0, y: 0 } }] },
  })
  expect(wrong.statusCode).toBe(400)
  expect((await technician.call('DELETE', `/api/v1/photos/${photo.id}`)).statusCode).toBe(204)
  expect((await technician.call('GET', `/api/v1/photos/${photo.id}`)).statusCode).toBe(404)
})

test('an unchanged picture is not sent twice', async () => {
  const photo = (await put(await buildJpeg(60, 40))).json<PhotoView>()
  const first = await technician.call('GET', `/api/v1/photos/${photo.id}/picture`)
  expect(first.headers['cache-control']).toContain('private')
  const again = await technician.call('GET', `/api/v1/photos/${photo.id}/picture`, {
    headers: { 'if-none-match': String(first.headers.etag) },
  })
  expect(again.statusCode).toBe(304)
})

test('an Idempotency-Key works on a photo as on any other write', async () => {
  const bytes = await buildJpeg(60, 40, 5)
  const url = `/api/v1/inspections/${inspection.id}/photos/${newId()}`
  const headers = { 'content-type': 'image/jpeg', 'idempotency-key': newId() }
  const first = await technician.call('PUT', url, { payload: bytes, headers })
  const again = await technician.call('PUT', url, { payload: bytes, headers })
  expect(again.headers['idempotency-replayed']).toBe('true')
  expect(again.json()).toEqual(first.json())
  const others = await technician.call('PUT', url, { payload: await buildJpeg(60, 40, 6), headers })
  expect(others.json()).toMatchObject({ type: '/problems/key-reused' })
})
