import { expect, test } from 'vitest'
import { day } from '../../trade/dates.ts'
import { FOLLOW_UP_KINDS } from '../../trade/follow-ups/kinds.ts'
import { SCRIPT } from '../../server/follow-ups/phone-words.ts'
import { planDue } from '../../server/follow-ups/plan.ts'
import { buildTestApp } from '../build/app.ts'
import { buildAlarm, buildHousehold } from '../build/follow-up.ts'

const { ctx, clock, person } = await buildTestApp()
const office = await person('office')

async function scriptFor(language: 'en' | 'es') {
  clock.set('2026-06-01T15:00:00Z')
  const home = await buildHousehold(ctx, { language, name: 'Ida Fern', line1: '7 Gull Row', email: null })
  await buildAlarm(ctx, home, day('2026-06-20'))
  await buildAlarm(ctx, home, day('2026-06-21'), 'Cellar')
  await planDue(ctx, ctx.db, { propertyId: home.propertyId })
  const { id } = await ctx.db.followUp.findFirstOrThrow({
    where: { propertyId: home.propertyId, dueOn: new Date('2026-06-20') },
  })
  return (await office.call('GET', `/api/v1/follow-ups/${id}`)).json()
}

test('the office sees what the customer speaks, and what to say in that language', async () => {
  const { customerLanguage, script } = await scriptFor('es')
  expect(customerLanguage).toBe('es')
  expect(script[0]).toBe('Buenos días, le llamamos de Kestrel Row Electric. ¿Hablo con Ida Fern?')
  expect(script[1]).toContain('Se trata de 7 Gull Row, en Port Ansel.')
  expect(script[1]).toContain('20 de junio de 2026')
  expect(script).toContain('En una sola visita podríamos ver también esto: Cambiar una alarma (Cellar).')
  expect(script.join(' ')).not.toMatch(/\b(the|you|visit|our)\b/i)
})

test('in English as before', async () => {
  const { customerLanguage, script } = await scriptFor('en')
  expect(customerLanguage).toBe('en')
  expect(script[0]).toBe('Good day, this is Kestrel Row Electric. Am I speaking with Ida Fern?')
  expect(script.at(-1)).toBe('When would a visit suit you?')
})

test('every question is asked in both languages', () => {
  expect(Object.keys(SCRIPT.es.questions)).toEqual(Object.keys(SCRIPT.en.questions))
  for (const kind of Object.keys(SCRIPT.en.questions)) expect(FOLLOW_UP_KINDS).toHaveProperty(kind)
})
