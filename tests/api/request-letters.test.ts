import { beforeEach, expect, test } from 'vitest'
import { day } from '../../trade/dates.ts'
import { planDue } from '../../server/follow-ups/plan.ts'
import { memoryMailer } from '../../server/gateways/mail-memory.ts'
import { sendMessage } from '../../server/messages/sending.ts'
import { buildTestApp } from '../build/app.ts'
import { buildDueHome } from '../build/due-home.ts'
import { buildAlarm, buildFinding, buildHousehold, buildTechnician, buildVisit } from '../build/follow-up.ts'
import { buildLink } from '../build/link.ts'
import { fieldsOf, visitorOf } from '../build/visitor.ts'

// Whoever asks for something on their page gets a letter that says what was asked, in their language and in the words
// of their page, and what holds until somebody from the office has answered.

const { app, ctx, clock } = await buildTestApp()
const { db } = ctx
await buildTechnician(ctx)
beforeEach(() => clock.set('2026-06-01T15:00:00Z'))

async function letterTo(customerId: string): Promise<string> {
  const mailer = memoryMailer()
  const { id } = await db.message.findFirstOrThrow({
    where: { customerId, kind: 'request-received', state: 'planned' },
  })
  expect(await sendMessage(ctx, mailer, id)).toBe('sent')
  return mailer.letters[0]!.text.replace(/\s+/g, ' ')
}

test('what it is about and when, in Spanish: no English words but quoted ones, times as people say them', async () => {
  const home = await buildHousehold(ctx, { language: 'es' })
  await buildAlarm(ctx, home, day('2026-06-20'))
  const foundOn = day('2026-05-20')
  await buildFinding(ctx, home, { severity: 'unsafe', text: 'Outlet loose in its box', foundOn })
  await planDue(ctx, db, { propertyId: home.propertyId })
  const url = await buildLink(ctx, home)
  const { body } = await visitorOf(app).get(url)
  expect(body).toMatch(
    /name="about"[^>]*> Algo que encontramos: [^<]*«Outlet loose in its box», escrito por el técnico en inglés/,
  )
  expect(body).not.toContain('Ya pasó la fecha')
  const about = [...body.matchAll(/name="about" value="([^"]+)"/g)].map(([, id]) => id!)
  const window = /name="window" value="(2026-06-02 [\d: ]+)"/.exec(body)![1]!
  const form = new URLSearchParams({ ...fieldsOf(body, `${url}/request`), window })
  for (const id of about) form.append('about', id)
  const answer = await app.inject({
    method: 'POST',
    url: `${url}/request`,
    headers: { 'content-type': 'application/x-www-form-urlencoded' },
    payload: form.toString(),
  })
  expect(answer.statusCode).toBe(303)
  const letter = await letterTo(home.customerId)
  expect(letter).toContain('Cambiar una alarma: Hall alarm')
  expect(letter).toContain('Cuándo le conviene: martes, 2 de junio de 2026')
  expect(letter).toMatch(/Hora del día: 8:00 a\. ?m\. – 10:00 a\. ?m\./)
  expect(letter).toContain('hasta entonces no hay nada reservado')
  expect(letter).not.toMatch(/Asked on|Asks to/)
})

test('in their own words: when it suits them, and no time of day', async () => {
  const { at, url, customerId } = await buildDueHome(app, ctx)
  const form = { ...fieldsOf((await at.get(url)).body, `${url}/request`), days: 'Tuesdays after 5' }
  expect((await at.post(`${url}/request`, form)).statusCode).toBe(303)
  const letter = await letterTo(customerId)
  expect(letter).toContain('When it suits you: Tuesdays after 5')
  expect(letter).not.toContain('Time of day')
})

test.each([
  ['cancel', 'en', 'To cancel the visit on Wednesday, June 10, 2026', 'until then your visit stands.'],
  ['cancel', 'es', 'Cancelar la visita del miércoles, 10 de junio de 2026', 'su visita sigue en pie.'],
  ['move', 'en', 'To move the visit on Wednesday, June 10, 2026', 'until then your visit stands as it is.'],
  ['move', 'es', 'Cambiar la visita del miércoles, 10 de junio de 2026', 'su visita sigue como está.'],
] as const)(
  'asked to %s a visit (%s): the letter does not say that nothing is booked',
  async (act, language, about, until) => {
    const home = await buildHousehold(ctx, { language })
    const visitId = await buildVisit(ctx, home, new Date('2026-06-10T14:00:00Z'))
    const url = await buildLink(ctx, home, { purpose: 'visit', subjectId: visitId })
    const at = visitorOf(app)
    const { body } = await at.get(url)
    const answer =
      act === 'cancel'
        ? await at.post(`${url}/visit`, { ...fieldsOf(body, `${url}/visit`, 'cancel'), reason: 'Ill' })
        : await at.post(`${url}/request`, { ...fieldsOf(body, `${url}/request`), days: 'Friday' })
    expect(answer.statusCode).toBe(303)
    const letter = await letterTo(home.customerId)
    expect(letter).toContain(about)
    expect(letter).toContain(until)
    expect(letter).not.toMatch(/nothing is booked|nada reservado|: –/)
    await db.visit.update({ where: { id: visitId }, data: { state: 'cancelled' } })
  },
)

test('free times of many days are offered, one of a morning and one of an afternoon each', async () => {
  const { at, url } = await buildDueHome(app, ctx)
  const offered = [...(await at.get(url)).body.matchAll(/name="window" value="(\S+) (\d\d):\d\d/g)]
  const days = new Set(offered.map(([, day]) => day))
  expect(offered).toHaveLength(12)
  expect(days.size).toBeGreaterThanOrEqual(6)
})
