import { beforeEach, describe, expect, test } from 'vitest'
import { day } from '../../trade/dates.ts'
import { notify } from '../../server/follow-ups/notify.ts'
import { planDue } from '../../server/follow-ups/plan.ts'
import { memoryMailer } from '../../server/gateways/mail-memory.ts'
import { newId } from '../../server/ids.ts'
import { MESSAGE_KINDS, type MessageKind } from '../../server/messages/categories.ts'
import { sendMessage } from '../../server/messages/sending.ts'
import { planStaffMessage } from '../../server/messages/service.ts'
import { sourceOf } from '../../server/wording/parts.ts'
import { buildTestApp } from '../build/app.ts'
import { buildAlarm, buildHousehold } from '../build/follow-up.ts'
import { buildConfirmation } from '../build/message.ts'
import { ALL_DUE, GOOD, REFUSED } from '../build/refused-wordings.ts'

const { ctx, clock, person, nobody, rung } = await buildTestApp()
const { db } = ctx
const ada = await person('admin', 'Ada Finch')
const bea = await person('admin', 'Bea Lark')
const office = await person('office')
const technician = await person('technician')
const URL = '/api/v1/wordings'
const BOOKED = `${URL}/visit-booked/en`
const mailer = memoryMailer()

beforeEach(async () => {
  clock.set('2026-06-01T15:00:00Z')
  mailer.letters = []
  rung.length = 0
  await db.wording.deleteMany()
  await db.messageTrouble.deleteMany({ where: { kind: 'wording' } })
})

const save = (url: string, seen: number, words: object, who = ada) =>
  who.call('PUT', url, { headers: { 'if-match': `"${seen}"` }, payload: words })
const revert = (url: string, seen: number, to: number) =>
  ada.call('POST', `${url}/revert`, { headers: { 'if-match': `"${seen}"` }, payload: { to } })
const read = async (url: string) => (await office.call('GET', url)).json()
const saveRow = (kind: MessageKind, source: string, version = 1) =>
  db.wording.create({
    data: { id: newId(), kind, language: 'en', version, source, byId: ada.id, createdAt: clock.now },
  })
const lifeOf = async (id: string): Promise<string[]> =>
  (await office.call('GET', `/api/v1/messages/${id}`)).json().life.map(({ what }: { what: string }) => what)

describe('what can be read', () => {
  test('every letter there is, in both languages, as it came with the program', async () => {
    const list = await read(URL)
    const names = list.map(({ kind, language }: { kind: string; language: string }) => `${kind} ${language}`)
    expect(names).toEqual(Object.keys(MESSAGE_KINDS).flatMap((kind) => [`${kind} en`, `${kind} es`]))
    for (const each of list)
      expect(each).toMatchObject({ version: 0, isOwn: false, changedAt: null, fallbacks: 0 })
  })

  test.each(Object.keys(MESSAGE_KINDS))(
    'the words of %s, which pass their own check in both languages',
    async (kind) => {
      for (const language of ['en', 'es']) {
        const url = `${URL}/${kind}/${language}`
        const { words, versions, fields } = await read(url)
        expect(words.subject).not.toBe('')
        expect(versions).toMatchObject([{ version: 0, isOwn: false }])
        // Every field has an example to stand beside it, or says that it may be empty.
        for (const { name, is, example } of fields) expect(is === 'page' || example, name).toBeTruthy()
        const shown = await office.call('POST', `${url}/preview`, { payload: { words } })
        expect(shown.statusCode, shown.body).toBe(200)
        expect(shown.json()).toMatchObject({ html: expect.stringContaining(`lang="${language}"`) })
      }
    },
  )

  test('what it may tell, each with an example: fields of its lists, too', async () => {
    const { fields, blocks } = await read(`${URL}/unsafe-finding/es`)
    const what = fields.find(({ name }: { name: string }) => name === 'what')
    expect(what).toMatchObject({
      within: 'items',
      example: expect.stringContaining('escrito por el técnico en inglés'),
    })
    expect(blocks.map(({ name }: { name: string }) => name)).toContain('caution')
    expect((await read(BOOKED)).fields).toContainEqual({
      ...{ name: 'visit.day', is: 'words', mayBeEmpty: false, within: null },
      ...{ about: 'Day of the visit', example: 'Thursday, June 4, 2026' },
    })
  })

  test('the office may read and look; only the admin changes and tests; others neither', async () => {
    expect((await office.call('POST', `${BOOKED}/preview`, { payload: {} })).statusCode).toBe(200)
    expect((await save(BOOKED, 0, GOOD, office)).statusCode).toBe(403)
    expect((await office.call('POST', `${BOOKED}/test`, { payload: {} })).statusCode).toBe(403)
    expect((await technician.call('GET', URL)).statusCode).toBe(403)
    expect((await nobody('GET', BOOKED)).statusCode).toBe(401)
    expect((await ada.call('GET', `${URL}/poem/en`)).statusCode).toBe(400)
    expect((await ada.call('GET', `${URL}/visit-booked/fr`)).json().errors[0].detail).toContain(
      'expected en or es',
    )
  })
})

describe('what is refused, on which line, and what to do', () => {
  test.each(REFUSED)('%s', async (_what, kind, words, pointer, line, detail) => {
    const url = `${URL}/${kind}/en`
    const before = (await read(url)).words
    const answer = await save(url, 0, { ...before, ...(kind === 'visit-booked' && GOOD), ...words })
    expect(answer.statusCode, answer.body).toBe(422)
    const { type, errors } = answer.json()
    expect(type).toBe('/problems/wording-refused')
    expect(errors[0]).toMatchObject({ pointer, line, detail: expect.stringMatching(detail) })
    expect(await db.wording.count()).toBe(0)
  })

  test('all faults come in one answer', async () => {
    const answer = await save(BOOKED, 0, {
      subject: '',
      preview: '{{a}}',
      body: `{{#p}}\n{{b}}\n{{c}}\n{{/p}}`,
    })
    expect(answer.json().errors).toMatchObject([
      { pointer: '#/subject', line: 1 },
      { pointer: '#/preview', line: 1 },
      { pointer: '#/body', line: 2 },
      { pointer: '#/body', line: 3, detail: expect.stringContaining('Line 3: there is no field “c”') },
    ])
  })

  test('a field too many, a text that is none, a zero byte', async () => {
    for (const words of [
      { ...GOOD, html: 'x' },
      { ...GOOD, body: 1 },
      { ...GOOD, body: 'a\0b' },
      { ...GOOD, note: 'x'.repeat(301) },
    ])
      expect((await save(BOOKED, 0, words)).statusCode).toBe(400)
  })
})

describe('versions', () => {
  test('each save is one, with who, when and why; earlier ones can be looked at and put back', async () => {
    const saved = await save(BOOKED, 0, { ...GOOD, note: 'Friendlier' })
    expect(saved.statusCode, saved.body).toBe(200)
    expect(saved.headers['etag']).toBe('"1"')
    expect(saved.json()).toMatchObject({
      ...{
        version: 1,
        isOwn: true,
        changedBy: 'Ada Finch',
        changedAt: '2026-06-01T15:00:00.000Z',
        note: 'Friendlier',
      },
      words: GOOD,
    })
    clock.set('2026-06-02T15:00:00Z')
    await save(BOOKED, 1, { ...GOOD, subject: 'Soon: {{visit.day}}' }, bea)
    expect((await revert(BOOKED, 2, 1)).json()).toMatchObject({
      version: 3,
      words: GOOD,
      note: 'Back to version 1',
    })
    const { versions } = await read(BOOKED)
    expect(versions).toMatchObject([
      { version: 3, by: 'Ada Finch', at: '2026-06-02T15:00:00.000Z' },
      { version: 2, by: 'Bea Lark' },
      { version: 1, note: 'Friendlier' },
      { version: 0, by: null },
    ])
    expect((await read(`${BOOKED}/versions/2`)).words.subject).toBe('Soon: {{visit.day}}')
    const came = await read(`${BOOKED}/versions/0`)
    expect((await revert(BOOKED, 3, 0)).json()).toMatchObject({ version: 4, isOwn: false, words: came.words })
    expect((await office.call('GET', `${BOOKED}/versions/9`)).statusCode).toBe(404)
    expect((await revert(BOOKED, 4, 9)).statusCode).toBe(404)
    // The Spanish letter of the same kind has its own.
    expect(await read(`${URL}/visit-booked/es`)).toMatchObject({ version: 0 })
    const audited = (await ada.call('GET', '/api/v1/audit?subjectKind=wording&limit=1')).json().items[0]
    expect(audited).toMatchObject({
      action: 'wording.change',
      actorName: 'Ada Finch',
      before: { words: GOOD },
    })
  })

  test('an earlier version that asks for what is not known any more is not put back', async () => {
    await saveRow('visit-booked', sourceOf({ ...GOOD, preview: '{{visit.weather}}' }))
    await saveRow('visit-booked', sourceOf(GOOD), 2)
    const answer = await revert(BOOKED, 2, 1)
    expect(answer.statusCode).toBe(422)
    expect(answer.json().errors[0].detail).toContain('visit.weather')
  })

  test('two admins at once: the later one is told of the earlier, and nothing is lost', async () => {
    const both = await Promise.all([
      save(BOOKED, 0, GOOD, ada),
      save(BOOKED, 0, { ...GOOD, preview: 'Soon' }, bea),
    ])
    expect(both.map(({ statusCode }) => statusCode).sort()).toEqual([200, 412])
    const late = both.find(({ statusCode }) => statusCode === 412)!.json()
    expect(late).toMatchObject({
      type: '/problems/changed-meanwhile',
      seen: 0,
      current: { version: 1, isOwn: true },
    })
    expect(await db.wording.count()).toBe(1)
    expect((await revert(BOOKED, 0, 0)).statusCode).toBe(412)
    expect((await ada.call('PUT', BOOKED, { payload: GOOD })).statusCode).toBe(428)
  })
})

const sent = async (more: Parameters<typeof buildConfirmation>[1] = {}) => {
  const confirmation = await buildConfirmation(ctx, more)
  expect(await sendMessage(ctx, mailer, confirmation.messageId)).toBe('sent')
  return { ...confirmation, letter: mailer.letters.at(-1)! }
}

describe('what is sent', () => {
  test('the latest words, from the next letter on; head and foot stay; other letters too', async () => {
    expect((await sent()).letter.subject).toBe('Your inspection on Thursday, June 4, 2026')
    await save(BOOKED, 0, GOOD)
    const { letter } = await sent()
    expect(letter.subject).toBe('We come on Thursday, June 4, 2026')
    for (const text of [letter.text, letter.html]) {
      expect(text).toContain('Dear Robin Vale, we come on')
      for (const foot of ['1 Kestrel Row', '555-0100', '/preferences']) expect(text).toContain(foot)
    }
    expect((await sent({ language: 'es' })).letter.subject).toBe(
      'Su inspección del jueves, 4 de junio de 2026',
    )
    await save(BOOKED, 1, { ...GOOD, subject: 'Now on {{visit.day}}' })
    expect((await sent()).letter.subject).toBe('Now on Thursday, June 4, 2026')
    await revert(BOOKED, 2, 0)
    expect((await sent()).letter.subject).toBe('Your inspection on Thursday, June 4, 2026')
    // What the office shows as the letter of a kind is what would be sent.
    await save(BOOKED, 3, GOOD)
    const { subject } = (await office.call('GET', '/api/v1/messages/templates/visit-booked')).json()
    expect(subject).toBe('We come on Thursday, June 4, 2026')
  })

  test('words are words, in both texts: what means something in HTML is only shown', async () => {
    await save(BOOKED, 0, {
      ...GOOD,
      body: `${GOOD.body}\n{{#p}}R&D says: 3 < 4 & "so" it's &lt;fine&gt;{{/p}}`,
    })
    const { letter } = await sent({ name: 'Eve <b>Bold</b> {{to.name}}' })
    expect(letter.text).toContain('R&D says: 3 < 4 & "so" it\'s &lt;fine&gt;')
    expect(letter.html).toContain(
      'R&amp;D says: 3 &lt; 4 &amp; &quot;so&quot; it&#x27;s &amp;lt;fine&amp;gt;',
    )
    expect(letter.html).toContain('Eve &lt;b&gt;Bold&lt;/b&gt; {{to.name}}')
  })

  test.each([
    [
      'asks for a field that has gone',
      sourceOf({ ...GOOD, subject: 'On {{visit.weather}}' }),
      'Line 1: there is no field “visit.weather”',
    ],
    ['was damaged', '{{#subject}}', 'A template begins with its subject and its preview.'],
  ])(
    'saved words that %s: the letter goes out as it came with the program, and its life tells',
    async (_, source, why) => {
      await saveRow('visit-booked', source)
      const { letter, messageId } = await sent()
      expect(letter.subject).toBe('Your inspection on Thursday, June 4, 2026')
      expect(await lifeOf(messageId)).toEqual([
        'Planned: A visit was booked.',
        'Written',
        expect.stringContaining(
          `Written in the words that came with the program, because your own could not be: ${why}`,
        ),
        'Taken by the mail server',
      ])
      expect((await read(URL)).find(({ kind }: { kind: string }) => kind === 'visit-booked')).toMatchObject({
        fallbacks: 1,
      })
    },
  )

  test('words that fit all but one household: that one gets the built-in letter, told once however often it is tried', async () => {
    await saveRow(
      'due-reminder',
      sourceOf({ subject: '{{#if isManyHomes}}Homes{{/if}}', preview: 'a', body: ALL_DUE }),
    )
    const home = await buildHousehold(ctx)
    await buildAlarm(ctx, home, day('2026-08-30'))
    await planDue(ctx, db, { propertyId: home.propertyId })
    const [messageId] = (await notify(ctx, { propertyId: home.propertyId })).messageIds
    mailer.before = () => {
      throw new Error('away')
    }
    expect(await sendMessage(ctx, mailer, messageId!)).toBe('later')
    mailer.before = () => {}
    clock.set('2026-06-01T15:10:00Z')
    expect(await sendMessage(ctx, mailer, messageId!)).toBe('sent')
    expect(mailer.letters.at(-1)!.subject).toMatch(/^Replace an alarm: \d+ Quay Lane$/)
    const told = (await lifeOf(messageId!)).filter((what) => what.includes('The subject is empty'))
    expect(told).toHaveLength(1)
  })
})

describe('looked at and tested', () => {
  const show = (payload: object, url = BOOKED) => ada.call('POST', `${url}/preview`, { payload })

  test('with the data of a stored letter; its private links are not given away', async () => {
    const { messageId, customerId } = await buildConfirmation(ctx, { name: 'Wren Halloway' })
    const { text, html } = (await show({ words: GOOD, like: messageId })).json()
    expect(text).toContain('Dear Wren Halloway, we come on Thursday, June 4, 2026')
    await sendMessage(ctx, mailer, messageId)
    const [link] = /http\S+\/h\/[\w-]+/.exec(mailer.letters.at(-1)!.text)!
    expect(`${text}${html}`).not.toContain(link)
    expect(await db.message.count({ where: { customerId } })).toBe(1)
  })

  test('not with those of another kind, of nobody, of a test, of what is settled, or of a letter to staff', async () => {
    const { messageId, visitId } = await buildConfirmation(ctx)
    expect((await show({ like: messageId }, `${URL}/visit-moved/en`)).json().errors[0].pointer).toBe('#/like')
    expect((await show({ like: newId() })).statusCode).toBe(400)
    await db.visit.update({ where: { id: visitId }, data: { sequence: 3 } })
    const moved = await show({ like: messageId })
    expect([moved.statusCode, moved.json().type]).toEqual([409, '/problems/wrong-state'])
    expect(moved.json().detail).toContain('Choose another letter')
    const invitation = await planStaffMessage(ctx, db, {
      ...{
        kind: 'invitation',
        to: { email: 'new@example.com', name: 'Alex' },
        dedupeKey: newId(),
        reason: 'test',
      },
      context: { tokenId: newId(), hours: 48 },
    })
    const secret = await show({ like: invitation }, `${URL}/invitation/en`)
    expect(secret.statusCode).toBe(400)
    expect(secret.json().errors[0].detail).toContain('made-up data only')
  })

  const testIt = async (payload: object, url = BOOKED) => {
    const answer = await ada.call('POST', `${url}/test`, { payload })
    expect(answer.statusCode, answer.body).toBe(200)
    const { messageId, to } = answer.json()
    expect(to).toBe(`${ada.id}@example.com`)
    expect(rung).toContainEqual({ name: 'send-message', payload: { messageId } })
    expect(await sendMessage(ctx, mailer, messageId)).toBe('sent')
    return { messageId, letter: mailer.letters.at(-1)! }
  }

  test.each(Object.keys(MESSAGE_KINDS))(
    'a test of %s goes to whoever asks, marked, and to no household',
    async (kind) => {
      for (const language of ['en', 'es']) {
        const { messageId, letter } = await testIt({}, `${URL}/${kind}/${language}`)
        expect(letter.to.address).toBe(`${ada.id}@example.com`)
        expect(letter.subject).toMatch(/^\[Test\] ./)
        for (const text of [letter.text, letter.html])
          expect(text.replace(/\s+/g, ' ')).toContain('This is a test, asked for by Ada Finch.')
        expect(letter.unsubscribeUrl).toBeUndefined()
        expect(letter.calendar).toBeUndefined()
        const row = await db.message.findUniqueOrThrow({
          where: { id: messageId },
          include: { followUps: true },
        })
        expect(row).toMatchObject({
          customerId: null,
          propertyId: null,
          visitId: null,
          category: 'account',
          followUps: [],
        })
        // Every link leads to a page that says so, and does nothing.
        for (const [url] of letter.text.matchAll(/http:\/\/localhost:3000\/[hu]\/\S+/g)) {
          expect((await nobody('GET', url.replace('http://localhost:3000', ''))).statusCode).toBe(404)
        }
      }
    },
  )

  test('with words that are not saved, and with the data of a household, which knows nothing of it', async () => {
    const { messageId, customerId } = await buildConfirmation(ctx, { name: 'Wren Halloway' })
    const test = await testIt({ words: GOOD, like: messageId })
    expect(test.letter.subject).toBe('[Test] We come on Thursday, June 4, 2026')
    expect(test.letter.text).toContain('Dear Wren Halloway')
    expect(await db.message.count({ where: { customerId } })).toBe(1)
    expect(await db.wording.count()).toBe(0)
    expect((await show({ like: test.messageId })).statusCode).toBe(400)
    expect(
      (await ada.call('POST', `${BOOKED}/test`, { payload: { words: { ...GOOD, body: '{{x}}' } } }))
        .statusCode,
    ).toBe(422)
  })
})
