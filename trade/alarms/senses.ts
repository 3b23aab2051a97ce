import type { Senses } from './life-figures.ts'

export function sensesSmoke(senses: Senses | undefined): boolean {
  return senses === 'smoke' || senses === 'smoke-and-co'
}

export function sensesCarbonMonoxide(senses: Senses | undefined): boolean {
  return senses === 'co' || senses === 'smoke-and-co'
}
