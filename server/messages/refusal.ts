import { isWanted, type MessageCategory } from './categories.ts'
import type { Receiver } from './store.ts'

const ADDRESS = /^[^\s@<>,;"]{1,64}@[^\s@<>,;"]+\.[^\s@<>,;".]+$/

/** How each refusal for the address's sake ends: what the office does about it. */
export const PHONE_THEM = 'phone them.'

/** Why no message can reach that person, or null. */
export function refusalOfAddress({
  archived,
  email,
  suppressedFor,
}: Pick<Receiver, 'archived' | 'email' | 'suppressedFor'>): string | null {
  if (archived) return 'The customer is archived.'
  if (!email) return `There is no e-mail address; ${PHONE_THEM}`
  if (!ADDRESS.test(email)) return `“${email}” is not an e-mail address; ${PHONE_THEM}`
  if (suppressedFor) return `The address is put aside (${suppressedFor}); ${PHONE_THEM}`
  return null
}

/** Why a message of that category must not go to that person, or null. */
export function refusalOf(receiver: Receiver, category: MessageCategory): string | null {
  const isRefused = !isWanted(category, receiver.allowed)
  return refusalOfAddress(receiver) ?? (isRefused ? 'They do not want messages of this kind.' : null)
}
