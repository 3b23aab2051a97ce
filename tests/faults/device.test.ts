import { expect, test, vi } from 'vitest'
import { newId } from '../../server/ids.ts'
import type { DeviceView } from '../../server/people/device-schema.ts'
import { alone, AnotherTab } from '../../web/field/offline/alone.ts'
import { change } from '../../web/field/offline/change.ts'
import { fetchDays } from '../../web/field/offline/days.ts'
import { keepPhoto, keepStep, resend, setAside } from '../../web/field/offline/outbox.ts'
import { fieldServer } from '../../web/field/offline/server.ts'
import { FieldStore } from '../../web/field/offline/store.ts'
import { synchronise } from '../../web/field/offline/sync.ts'
import { handOver } from '../../web/field/offline/whose-store.ts'
import { buildTestApp } from '../build/app.ts'
import { buildInspectableHome, buildVisit } from '../build/inspection.ts'
import { buildJpeg } from '../build/picture.ts'
import { devicesOf, sessionOf } from '../build/device.ts'

// One device against the real server: who holds it, whose it was, and what two tabs do.
vi.setConfig({ testTimeout: 60_000 })

const world = await buildTestApp()
const { base, ctx, clock, person } = world
const admin = await person('admin')

const { browser, sendAll, buildOwnedDevice, noted, takenBy } = devicesOf(world)

test('a device holds its technician’s own visits and nobody else’s', async () => {
  const [mine, theirs] = [await person('technician'), await person('technician')]
  const other = await buildInspectableHome(ctx)
  await buildVisit(ctx, theirs.id, other.property, { startsAt: clock.now })
  const { store, visit } = await buildOwnedDevice(mine)
  expect((await store.visits.toArray()).map((each) => each.id)).toEqual([visit.id])
})

test('a log-in that ran out deletes nothing; after the next one everything is sent', async () => {
  const technician = await person('technician')
  const { store, visit } = await buildOwnedDevice(technician)
  await noted(store, visit.id, 'Kept over the night')
  await base.db.session.updateMany({
    where: { userId: technician.id },
    data: { expiresAt: new Date(clock.now.getTime() - 1000) },
  })
  expect(
    await sendAll(
      store,
      browser(() => sessionOf(technician)),
    ),
  ).toBe('log-in')
  expect(await store.unsent()).toMatchObject({ operations: 2 })
  await base.db.session.updateMany({
    where: { userId: technician.id },
    data: { expiresAt: new Date('2100-01-01') },
  })
  expect(
    await sendAll(
      store,
      browser(() => sessionOf(technician)),
    ),
  ).toBe('ok')
  expect(await takenBy(technician.id)).toBe(1)
})

test('who may not enter any more: the device deletes all it holds, and the office learns what was unsent', async () => {
  const technician = await person('technician')
  const { store, visit } = await buildOwnedDevice(technician)
  await noted(store, visit.id, 'Never sent')
  await keepStep(store, visit.id, 'arrive', clock.now)
  const disabled = await admin.call('PATCH', `/api/v1/people/${technician.id}`, {
    payload: { disabled: true },
    headers: { 'if-match': '"1"' },
  })
  expect(disabled.statusCode, disabled.body).toBe(200)
  // The first contact tells it; the answer to its own word is lost, so it says so once more.
  const cut = browser(
    () => sessionOf(technician),
    ({ url }) => {
      if (url.endsWith('/field/wiped')) throw new TypeError('lost')
    },
  )
  expect(await sendAll(store, cut)).toBe('revoked')
  const device = await store.setting('device')
  const left = await Promise.all(store.tables.map(async (table) => [table.name, await table.count()]))
  expect(Object.fromEntries(left)).toEqual({
    visits: 0,
    operations: 0,
    sent: 0,
    steps: 0,
    photos: 0,
    settings: 2,
  })
  expect(
    await sendAll(
      store,
      browser(() => sessionOf(technician)),
    ),
  ).toBe('revoked')
  expect(
    await sendAll(
      store,
      browser(() => sessionOf(technician)),
    ),
  ).toBe('revoked')
  const told = await base.db.auditEntry.findMany({
    where: { action: 'device.wipe', subjectId: technician.id },
  })
  expect(told.map((each) => each.after)).toEqual([
    { deviceId: device, operations: 2, photos: 0, steps: 1, sessionId: expect.any(String) },
  ])
})

test('an admin removes a lost device: it is wiped at its next contact, and the admin reads what was unsent', async () => {
  const technician = await person('technician')
  const { store, visit } = await buildOwnedDevice(technician)
  await noted(store, visit.id, 'Never sent')
  const url = `/api/v1/people/${technician.id}/devices`
  const [device] = (await admin.call('GET', url)).json<DeviceView[]>()
  expect(device).toMatchObject({ state: 'in-use', current: false, unsent: null })
  const remove = () => admin.call('DELETE', `${url}/${device!.sessionId}`)
  expect((await remove()).statusCode).toBe(200)
  expect((await remove()).statusCode).toBe(200)
  expect((await admin.call('GET', url)).json()).toMatchObject([{ state: 'removing' }])
  // Nothing of what it had is taken any more: the screen of the admin says so.
  expect(
    await sendAll(
      store,
      browser(() => sessionOf(technician)),
    ),
  ).toBe('revoked')
  expect(await store.visits.count()).toBe(0)
  expect(await takenBy(technician.id)).toBe(0)
  expect((await admin.call('GET', url)).json()).toMatchObject([
    { state: 'removed', unsent: { changes: 2, photos: 0 } },
  ])
  const removals = await base.db.auditEntry.count({
    where: { action: 'device.remove', subjectId: technician.id },
  })
  expect(removals).toBe(1)
})

test('an admin cannot remove the browser they are in, nor a device of somebody else', async () => {
  const mine = `/api/v1/people/${admin.id}/devices`
  const [own] = (await admin.call('GET', mine)).json<DeviceView[]>()
  expect(own).toMatchObject({ current: true })
  expect((await admin.call('DELETE', `${mine}/${own!.sessionId}`)).json()).toMatchObject({
    type: '/problems/wrong-state',
  })
  const [one, another] = [await person('technician'), await person('technician')]
  const [device] = (await admin.call('GET', `/api/v1/people/${one.id}/devices`)).json<DeviceView[]>()
  const crossed = `/api/v1/people/${another.id}/devices/${device!.sessionId}`
  expect((await admin.call('DELETE', crossed)).statusCode).toBe(404)
})

test('a session that its owner ends elsewhere wipes that device; logging out does not', async () => {
  const technician = await person('technician')
  const { store } = await buildOwnedDevice(technician)
  const elsewhere = newId()
  const token = `elsewhere-${elsewhere}`
  const { hashToken } = await import('../../server/accounts/secrets.ts')
  await base.db.session.create({
    data: {
      id: elsewhere,
      userId: technician.id,
      tokenHash: hashToken(token),
      userAgent: '',
      ip: '',
      createdAt: clock.now,
      lastSeenAt: clock.now,
      expiresAt: new Date('2100-01-01'),
    },
  })
  const ended = await technician.call('DELETE', `/api/v1/me/sessions/${elsewhere}`)
  expect(ended.statusCode).toBe(200)
  expect(
    await sendAll(
      store,
      browser(() => token),
    ),
  ).toBe('revoked')
  const stays = await buildOwnedDevice(technician, new Date(clock.now.getTime() + 7_200_000))
  await technician.call('POST', '/api/v1/log-out')
  expect(
    await sendAll(
      stays.store,
      browser(() => sessionOf(technician)),
    ),
  ).toBe('log-in')
  expect(await stays.store.visits.count()).toBeGreaterThan(0)
})

test('nobody can say for another device that it was wiped', async () => {
  const technician = await person('technician')
  const payload = { deviceId: newId(), operations: 0, photos: 0, steps: 0 }
  const answer = await technician.call('POST', '/api/v1/field/wiped', { payload })
  expect(answer.statusCode).toBe(401)
})

test('another technician on the same device: nothing of the one before is sent in their name, or shown', async () => {
  const [ana, ben] = [await person('technician', 'Ana Reyes'), await person('technician', 'Ben Tully')]
  const { store, disk, visit } = await buildOwnedDevice(ana)
  await noted(store, visit.id, 'By Ana')
  const photoBytes = new Uint8Array(await buildJpeg(24, 16)).buffer
  const { inspectionId } = (await store.operations.toCollection().first())!
  await keepPhoto(store, {
    id: newId(),
    inspectionId,
    visitId: visit.id,
    itemId: 'receptacles.opened',
    subjectId: null,
    findingId: null,
    caption: '',
    takenAt: clock.now.toISOString(),
    bytes: photoBytes,
  })
  // Ben logs in: the browser now sends his cookie.
  expect(
    await sendAll(
      store,
      browser(() => sessionOf(ben)),
    ),
  ).toBe('other-person')
  expect(await takenBy(ben.id)).toBe(0)
  const bens = new FieldStore(await handOver(store, ben.id, disk), disk)
  expect(bens.name).not.toBe(store.name)
  expect(
    await sendAll(
      bens,
      browser(() => sessionOf(ben)),
    ),
  ).toBe('ok')
  expect(await bens.visits.count()).toBe(0)
  // Ana comes back: her own store is found again, and goes out under her name.
  const anas = new FieldStore(await handOver(bens, ana.id, disk), disk)
  expect(anas.name).toBe(store.name)
  expect(
    await sendAll(
      anas,
      browser(() => sessionOf(ana)),
    ),
  ).toBe('ok')
  expect(await takenBy(ana.id)).toBe(1)
  // Ben had nothing left to send: his is gone.
  expect((await disk.indexedDB.databases()).map((each) => each.name)).toEqual([anas.name])
})

test('somebody else logs in between two requests of one sending', async () => {
  const [ana, ben] = [await person('technician'), await person('technician')]
  const { store, visit } = await buildOwnedDevice(ana)
  await noted(store, visit.id, 'By Ana')
  await keepStep(store, visit.id, 'arrive', clock.now)
  let cookie = sessionOf(ana)
  const swapping = browser(
    () => cookie,
    ({ url }) => {
      if (url.endsWith('/arrive')) cookie = sessionOf(ben)
    },
  )
  expect(await sendAll(store, swapping)).toBe('other-person')
  expect(await store.unsent()).toMatchObject({ operations: 0, steps: 1 })
})

test.each(['locks', 'turns'] as const)(
  'two tabs send by turns (%s): nothing goes out twice',
  async (kind) => {
    const technician = await person('technician')
    const { store, disk, visit } = await buildOwnedDevice(technician)
    const second = new FieldStore(store.name, disk)
    for (let i = 0; i < 5; i++) await noted(store, visit.id, `Note ${i}`)
    const sent: string[] = []
    const watched = browser(
      () => sessionOf(technician),
      ({ url, body }) => {
        if (!url.endsWith('/field/operations')) return
        sent.push(...JSON.parse(String(body)).operations.map((each: { id: string }) => each.id))
      },
    )
    const locks = kind === 'locks' ? lockManager() : undefined
    const inTab = (of: FieldStore) =>
      alone(
        of,
        (renew) =>
          synchronise(of, (holder) => fieldServer(holder, watched), {
            now: () => clock.now,
            onTheWay: renew,
          }),
        locks,
      ).catch((error: unknown) => {
        if (!(error instanceof AnotherTab)) throw error
      })
    await Promise.all([inTab(store), inTab(second)])
    expect(sent.length).toBe(6)
    expect(new Set(sent).size).toBe(6)
    expect(await takenBy(technician.id)).toBe(5)
  },
)

/** Web Locks as far as they are used here: one holder at a time, in the order of asking. */
function lockManager(): LockManager {
  let last: Promise<unknown> = Promise.resolve()
  const request = (_name: string, work: () => Promise<unknown>) => {
    const next = last.then(work, work)
    last = next.catch(() => {})
    return next
  }
  return { request } as unknown as LockManager
}

test('a tab that was closed while it was sending does not keep the others waiting for ever', async () => {
  const { store } = await buildOwnedDevice(await person('technician'))
  await store.settings.put({ key: 'lease', value: { tab: newId(), until: Date.now() + 1000 } })
  await expect(alone(store, async () => 'sent', undefined)).rejects.toBeInstanceOf(AnotherTab)
  await store.settings.put({ key: 'lease', value: { tab: newId(), until: Date.now() - 1 } })
  await expect(alone(store, async () => 'sent', undefined)).resolves.toBe('sent')
})

test('a connection that dies without a word does not hold up the sending for ever', async () => {
  const technician = await person('technician')
  const { store, visit } = await buildOwnedDevice(technician)
  await noted(store, visit.id, 'Kept')
  // Never answers; gives up only when it is told to, as a browser does.
  const dead: typeof fetch = (_input, init) =>
    new Promise((_resolve, reject) => {
      init!.signal!.addEventListener('abort', () => reject(init!.signal!.reason as Error))
    })
  const sent = synchronise(store, (holder) => fieldServer(holder, dead, { patienceMs: 50 }), {
    now: () => clock.now,
  })
  expect(await sent).toBe('no-answer')
  expect(
    await sendAll(
      store,
      browser(() => sessionOf(technician)),
    ),
  ).toBe('ok')
  expect(await takenBy(technician.id)).toBe(1)
})

test.each(['operation', 'step', 'photo'] as const)(
  'a visit that the office moved away stays on the device while a %s of it is unsent',
  async (what) => {
    const technician = await person('technician')
    const { store, visit } = await buildOwnedDevice(technician)
    if (what === 'step') await keepStep(store, visit.id, 'arrive', clock.now)
    else await noted(store, visit.id, 'Before it was moved')
    if (what === 'photo') {
      await sendAll(
        store,
        browser(() => sessionOf(technician)),
      )
      const inspection = await base.db.inspection.findFirstOrThrow({ where: { visitId: visit.id } })
      await keepPhoto(store, {
        id: newId(),
        inspectionId: inspection.id,
        visitId: visit.id,
        itemId: 'receptacles.opened',
        subjectId: null,
        findingId: null,
        caption: '',
        takenAt: clock.now.toISOString(),
        bytes: new Uint8Array(await buildJpeg(24, 16)).buffer,
      })
    }
    await base.db.visit.update({
      where: { id: visit.id },
      data: { technicianId: (await person('technician')).id },
    })
    // The days arrive, and nothing else passes.
    const onlyDays = browser(
      () => sessionOf(technician),
      ({ method }) => {
        if (method !== 'GET') throw new TypeError('lost')
      },
    )
    await fetchDays(store, fieldServer(technician.id, onlyDays))
    expect(await store.visits.count()).toBe(1)
    const { operations, photos, steps } = await store.unsent()
    expect(operations + photos + steps).toBeGreaterThan(0)
  },
)

test('what is refused stays, can be mended and sent in its place, or set aside with a reason', async () => {
  const technician = await person('technician')
  const { store, visit, circuit } = await buildOwnedDevice(technician)
  const bad = (ratingAmps: number) =>
    change(
      store,
      visit.id,
      'change-equipment',
      { equipmentId: circuit.id, changes: { details: { ratingAmps } } },
      { now: clock.now },
    )
  await bad(-20)
  await bad(-30)
  const fetcher = browser(() => sessionOf(technician))
  expect(await sendAll(store, fetcher)).toBe('ok')
  const refused = await store.operations.where('state').equals('refused').sortBy('seq')
  expect(refused.map((each) => each.problem!.detail)).toEqual([
    expect.stringContaining('rating'),
    expect.stringContaining('rating'),
  ])
  const { mended } = await import('../../web/field/sync/mending.ts')
  await resend(
    store,
    refused[0]!.seq!,
    mended(refused[0]!.operation, ['changes', 'details', 'ratingAmps'], 20),
    clock.now,
  )
  await setAside(store, refused[1]!.seq!, 'Typed twice', clock.now)
  expect(await sendAll(store, fetcher)).toBe('ok')
  expect(await base.db.equipment.findUnique({ where: { id: circuit.id } })).toMatchObject({
    details: { ratingAmps: 20 },
  })
  expect(await store.operations.toArray()).toMatchObject([
    { state: 'aside', aside: { reason: 'Typed twice' } },
  ])
  // Nobody sends it by accident; taken up again it is judged anew.
  await resend(store, refused[1]!.seq!, undefined, clock.now)
  await sendAll(store, fetcher)
  expect(await store.operations.toArray()).toMatchObject([{ state: 'refused' }])
})
