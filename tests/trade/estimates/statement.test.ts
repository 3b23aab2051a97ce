import { expect, test } from 'vitest'
import { acceptanceStatement, refusedStatement } from '../../../trade/estimates/statement.ts'

const line = (description: string, priceCents: number, option = '') => ({
  description,
  priceCents,
  option,
  quantityThousandths: 2500,
  taxBasisPoints: 800,
})
const SIGNED = {
  number: 41,
  version: 3,
  company: 'Kestrel Row Electric',
  address: '14 Quay Lane, Port Ansel',
  lines: [
    line('Work by the hour', 10_000),
    line('Surge protector', 40_000, 'Protector'),
    line('Cover', 400, 'Cover'),
  ],
  unsafe: [],
}

test('what is accepted stands there with its sums, and what is left out by name', () => {
  expect(acceptanceStatement(SIGNED, ['Cover'], 'en')).toBe(
    [
      'I accept estimate 41 (version 3) of Kestrel Row Electric for 14 Quay Lane, Port Ansel:',
      '1. Work by the hour (2.5 × $100.00 = $250.00)',
      '2. Cover (2.5 × $4.00 = $10.00)',
      'I leave out: Protector.',
      'Without tax $260.00, tax $20.80, with tax $280.80. I ask for this work to be done at that price.',
    ].join('\n'),
  )
})

test('in Spanish, and with what stays unsafe', () => {
  const unsafe = ['Bare conductor.', 'No cover']
  expect(acceptanceStatement({ ...SIGNED, unsafe }, ['Cover', 'Protector'], 'es')).toBe(
    [
      'Acepto el presupuesto 41 (versión 3) de Kestrel Row Electric para 14 Quay Lane, Port Ansel:',
      '1. Work by the hour (2.5 × $100.00 = $250.00)',
      '2. Surge protector (2.5 × $400.00 = $1,000.00)',
      '3. Cover (2.5 × $4.00 = $10.00)',
      'Sin impuestos $1,260.00, impuestos $100.80, con impuestos $1,360.80. Pido que se haga este trabajo por ese precio.',
      'Me explicaron que lo siguiente es peligroso y puede causar descarga, quemadura o incendio: “Bare conductor”; “No cover”. Me ofrecieron corregirlo y decido no hacerlo. Entiendo que no se debe usar hasta que se corrija.',
    ].join('\n'),
  )
})

test('what is declined', () => {
  expect(refusedStatement(SIGNED, 'en')).toBe(
    'I do not accept estimate 41 (version 3) of Kestrel Row Electric for 14 Quay Lane, Port Ansel.',
  )
  expect(refusedStatement({ ...SIGNED, unsafe: ['Bare conductor'] }, 'en')).toContain(
    'can cause shock, burn or fire: “Bare conductor”. I was offered to have it corrected and decide against it.',
  )
})
