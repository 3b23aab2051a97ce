import { createHash } from 'node:crypto'
import { expect, test, vi } from 'vitest'
import { fieldServer } from '../../web/field/offline/server.ts'
import { FieldStore } from '../../web/field/offline/store.ts'
import { synchronise } from '../../web/field/offline/sync.ts'
import { PART_BYTES } from '../../web/field/offline/upload.ts'
import { buildTestApp } from '../build/app.ts'
import { buildJpeg } from '../build/picture.ts'
import { devicesOf, sessionOf } from '../build/device.ts'

// Pictures on their way from one device to the real server, over a link that breaks.
vi.setConfig({ testTimeout: 60_000 })

const world = await buildTestApp()
const { base, clock, person } = world

const { browser, buildOwnedDevice, noted, takenBy, taken } = devicesOf(world)

test('sixty pictures on a link that breaks again and again arrive once each; what is typed goes first', async () => {
  const technician = await person('technician')
  const { store, disk, visit } = await buildOwnedDevice(technician)
  await noted(store, visit.id, 'Before the pictures')
  const pictures = await Promise.all([1, 2, 3].map((seed) => buildJpeg(24, 16, seed)))
  const ids: string[] = []
  while (ids.length < 60) ids.push(await taken(store, visit.id, pictures[ids.length % 3]!))
  const uploads: string[] = []
  const progress: string[] = []
  let tab = store
  let requests = 0
  const slow = browser(
    () => sessionOf(technician),
    ({ method, url }) => {
      // Every seventh request breaks off, on its way there.
      if (++requests % 7 === 0) throw new TypeError('broke off')
      if (method === 'PUT') uploads.push(/photos\/([^?]+)/.exec(url)![1]!)
    },
  )
  for (let tries = 0; tries < 40 && (await tab.unsent()).photos > 0; tries++) {
    await synchronise(tab, (holder) => fieldServer(holder, slow), {
      now: () => clock.now,
      onTheWay: async (picture) => {
        if (picture) progress.push(`${picture.next}/${picture.of}`)
        // Typed while pictures go out: it does not wait for all of them.
        if (picture?.of === 60 && picture.next === 3) await noted(tab, visit.id, 'Typed meanwhile')
      },
    })
    // The phone was off meanwhile.
    tab.close()
    tab = new FieldStore(store.name, disk)
  }
  expect(await base.db.photo.count({ where: { id: { in: ids } } })).toBe(60)
  expect(uploads.toSorted()).toEqual(ids.toSorted())
  expect(progress[0]).toBe('1/60')
  expect(await takenBy(technician.id)).toBe(2)
})

test('a large picture that is cut goes on where it was cut, after a restart and a lost last answer, too', async () => {
  const technician = await person('technician')
  const { store, disk, visit } = await buildOwnedDevice(technician)
  await noted(store, visit.id, 'Before the picture')
  const bytes = await buildJpeg(1500, 1100)
  expect(bytes.byteLength).toBeGreaterThan(PART_BYTES)
  const partBytes = Math.ceil(bytes.byteLength / 5)
  const id = await taken(store, visit.id, bytes)
  const sentParts: string[] = []
  const shown: number[] = []
  let parts = 0
  let answersLost = 0
  const cutting: typeof fetch = async (input, init) => {
    const isPart = String(input).includes('/upload') && init?.method !== undefined
    if (isPart && ++parts % 2 === 0) throw new TypeError('cut')
    const answer = await browser(() => sessionOf(technician))(input, init)
    if (isPart) sentParts.push(new Headers(init.headers).get('upload-offset') ?? '0')
    // The answer to the last part is lost once: the photo is there, and the device does not know.
    if ((await answer.clone().text()).includes('"complete":true') && answersLost++ === 0)
      throw new TypeError('the answer was lost')
    return answer
  }
  let tab = store
  for (let tries = 0; tries < 12 && (await tab.unsent()).photos > 0; tries++) {
    await synchronise(tab, (holder) => fieldServer(holder, cutting, { partBytes }), {
      now: () => clock.now,
      onTheWay: (picture) => void (picture && shown.push(picture.sent)),
    })
    tab.close()
    tab = new FieldStore(store.name, disk)
  }
  expect((await tab.unsent()).photos).toBe(0)
  // Each part reached the office once, although every second request was cut.
  expect(sentParts).toEqual([0, 1, 2, 3, 4].map((part) => String(part * partBytes)))
  expect(shown).toEqual(expect.arrayContaining([0, 1, 2, 3, 4].map((part) => part * partBytes)))
  const photo = await base.db.photo.findUniqueOrThrow({ where: { id } })
  expect(Buffer.from(photo.originalSha256)).toEqual(createHash('sha256').update(bytes).digest())
})
