import { beforeEach, describe, expect, test } from 'vitest'
import { day } from '../../trade/dates.ts'
import { planDue } from '../../server/follow-ups/plan.ts'
import type { OfficeAnswer } from '../../server/homeowner/office-schema.ts'
import { newId } from '../../server/ids.ts'
import type { LinkView } from '../../server/links/schema.ts'
import { buildTestApp } from '../build/app.ts'
import { buildAlarm, buildHousehold, buildTechnician, buildVisit } from '../build/follow-up.ts'
import { buildLink } from '../build/link.ts'
import { visitorOf } from '../build/visitor.ts'

const { app, ctx, clock, person } = await buildTestApp()
const { db } = ctx
await buildTechnician(ctx)
const office = await person('office', 'Sam Brook')
const technician = await person('technician')

beforeEach(() => clock.set('2026-06-01T15:00:00Z'))

const { get, post } = visitorOf(app)
const pathOf = (url: string) => new URL(url).pathname

describe('the links of a person', () => {
  const list = async (customerId: string) =>
    (await office.call('GET', `/api/v1/customers/${customerId}/links`)).json<LinkView[]>()

  test('are listed without their secret, withdrawn one by one or all, and made anew', async () => {
    const home = await buildHousehold(ctx)
    const second = await buildHousehold(ctx, { customerId: home.customerId })
    const [one, two] = [await buildLink(ctx, home), await buildLink(ctx, second)]
    const old = await buildLink(ctx, home, { expiresAt: clock.now })
    await get(one)
    const links = await list(home.customerId)
    expect(links.map(({ state }) => state).sort()).toEqual(['open', 'open', 'run-out'])
    expect(links.filter(({ lastSeenAt }) => lastSeenAt)).toHaveLength(1)
    expect(JSON.stringify(links)).not.toContain(one.slice(3))
    expect((await get(old)).statusCode).toBe(410)

    const ofTwo = links.find(({ propertyId, state }) => propertyId === second.propertyId && state === 'open')!
    for (let times = 0; times < 2; times++) {
      const answer = await office.call('POST', `/api/v1/links/${ofTwo.id}/withdraw`)
      expect(answer.json()).toMatchObject({ id: ofTwo.id, state: 'withdrawn' })
    }
    expect((await get(two)).body).toContain('We closed this page')
    expect((await get(one)).statusCode).toBe(200)

    const id = newId()
    const fresh = () => office.call('POST', `/api/v1/customers/${home.customerId}/links`, { payload: { id } })
    const issued = await fresh()
    expect(issued.statusCode).toBe(201)
    expect(issued.headers['cache-control']).toBe('no-store')
    const { url } = issued.json()
    expect((await fresh()).json().url).toBe(url)
    expect((await get(pathOf(url))).statusCode).toBe(200)

    const all = () =>
      office.call('POST', `/api/v1/customers/${home.customerId}/links/withdraw`, { payload: {} })
    expect((await all()).json()).toEqual({ withdrawn: 2 })
    expect((await all()).json()).toEqual({ withdrawn: 0 })
    expect((await get(one)).statusCode).toBe(410)
    expect((await get(pathOf(url))).statusCode).toBe(410)
    const entries = await db.auditEntry.findMany({
      where: { subjectId: home.customerId },
      orderBy: { at: 'asc' },
    })
    expect(entries.map(({ action }) => action).sort()).toEqual([
      'link.issue',
      'link.withdraw',
      'link.withdraw',
    ])
  })

  test('only for a home that is theirs, and only by the office', async () => {
    const [home, other] = [await buildHousehold(ctx), await buildHousehold(ctx)]
    const issue = (payload: object, who = office) =>
      who.call('POST', `/api/v1/customers/${home.customerId}/links`, { payload })
    expect((await issue({ id: newId(), propertyId: other.propertyId })).statusCode).toBe(400)
    expect((await issue({ id: newId(), propertyId: home.propertyId })).statusCode).toBe(201)
    expect((await issue({ id: newId() }, technician)).statusCode).toBe(403)
    expect((await office.call('GET', `/api/v1/customers/${newId()}/links`)).statusCode).toBe(404)
    expect((await office.call('POST', `/api/v1/links/${newId()}/withdraw`)).statusCode).toBe(404)
    // The id of another person's link gives its address to nobody.
    const theirs = newId()
    await buildLink(ctx, other, { id: theirs })
    expect((await issue({ id: theirs })).statusCode).toBe(409)
  })

  test('two people with one e-mail address: each link opens its own homes and nothing of the other', async () => {
    const email = `shared-${newId()}@example.com`
    const [one, two] = [
      await buildHousehold(ctx, { email, name: 'Ida Fern', line1: '1 Lock Street' }),
      await buildHousehold(ctx, { email, name: 'Jon Fern', line1: '2 Mill Street' }),
    ]
    for (const home of [one, two]) await buildAlarm(ctx, home, day('2026-06-20'))
    await planDue(ctx, db, {})
    for (const [home, mine, other] of [
      [one, '1 Lock Street', '2 Mill Street'],
      [two, '2 Mill Street', '1 Lock Street'],
    ] as const) {
      const { body } = await get(await buildLink(ctx, home, { propertyId: null }))
      expect(body).toContain(mine)
      expect(body).not.toContain(other)
    }
    const all = await office.call('POST', `/api/v1/customers/${one.customerId}/links/withdraw`, {
      payload: {},
    })
    expect(all.json()).toEqual({ withdrawn: 1 })
    expect((await list(two.customerId)).map(({ state }) => state)).toEqual(['open'])
  })
})

describe('what people said on their pages', () => {
  const answers = async (query = '') =>
    (await office.call('GET', `/api/v1/homeowner-answers?limit=200${query}`)).json<{
      items: OfficeAnswer[]
    }>().items

  async function said(
    path: string,
    fields: Record<string, string>,
    home: Awaited<ReturnType<typeof buildHousehold>>,
  ) {
    const url = await buildLink(ctx, home)
    const form = /name="form" value="([^"]+)"/.exec((await get(url)).body)![1]!
    const answer = await post(`${url}${path}`, { form, id: newId(), ...fields })
    expect(answer.statusCode, answer.body).toBe(303)
    return { url, answer }
  }

  test('the office sees what to do about it, looks at it, and then it is taken back by telephone only', async () => {
    const home = await buildHousehold(ctx, { name: 'Ida Fern' })
    await buildAlarm(ctx, home, day('2026-06-20'))
    await buildVisit(ctx, home, new Date('2026-06-10T14:00:00Z'))
    await planDue(ctx, db, { propertyId: home.propertyId })
    const { id } = await db.followUp.findFirstOrThrow({ where: { propertyId: home.propertyId } })
    const mine = async (query = '') =>
      (await answers(query)).filter(({ propertyId }) => propertyId === home.propertyId)
    await said(`/items/${id}`, { act: 'snooze', length: 'one-week' }, home)
    expect(await mine()).toEqual([])
    await said(
      `/items/${id}`,
      { act: 'replaced', manufacturedOn: '2026-01-15', replacedOn: '2026-05-30' },
      home,
    )
    const { url } = await said('/not-mine', { property: home.propertyId, why: 'sold' }, home)
    const [replaced, left] = await mine()
    expect(replaced).toMatchObject({
      words: '“Hall alarm” was replaced on May 30, 2026 by one made on January 15, 2026.',
      todo: expect.stringContaining('Check the new date'),
      customerName: 'Ida Fern',
    })
    expect(left).toMatchObject({ words: 'The home is not theirs any more: they sold it.' })
    expect(left!.todo).toContain('A visit is still booked there')
    for (let times = 0; times < 2; times++) {
      const checked = await office.call('POST', `/api/v1/homeowner-answers/${left!.id}/check`)
      expect(checked.json()).toMatchObject({ checkedBy: 'Sam Brook' })
    }
    expect((await mine()).map(({ id: each }) => each)).toEqual([replaced!.id])
    expect((await mine('&checked=yes')).map(({ act }) => act).sort()).toEqual(['not-mine', 'snooze'])
    const form = /name="form" value="([^"]+)"/.exec((await get(url)).body)![1]!
    const back = await post(`${url}/answers/${left!.id}/take-back`, { form })
    expect(back.headers.location).toContain('for=call-to-take-back')
    expect((await office.call('POST', `/api/v1/homeowner-answers/${newId()}/check`)).statusCode).toBe(404)
    expect((await technician.call('GET', '/api/v1/homeowner-answers')).statusCode).toBe(403)
  })
})
