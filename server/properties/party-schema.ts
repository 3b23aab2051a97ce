import { z } from 'zod'
import { PARTY_ROLES, type PartyRole } from '../../trade/visits.ts'
import { dayOut, daySchema } from '../fields.ts'
import { idSchema } from '../ids.ts'

export const partyRoleSchema = z.enum(Object.keys(PARTY_ROLES) as [PartyRole, ...PartyRole[]], {
  error: `expected one of ${Object.keys(PARTY_ROLES).join(', ')}`,
})

export const newPartySchema = z.strictObject({
  customerId: idSchema,
  role: partyRoleSchema,
  /** Receives the messages about this home; one person at most. */
  isContact: z.boolean().default(false),
})
export type NewParty = z.output<typeof newPartySchema>

/**
 * Who has to do with the home from now on. Whoever is no longer named stays in the history with an end. With `soldOn`
 * the home has new owners: what was planned for the old ones is not sent to the new ones unless they are the contact.
 */
export const changePartiesBody = z
  .strictObject({ parties: z.array(newPartySchema).max(20), soldOn: daySchema.nullable().optional() })
  .refine((body) => body.parties.filter((party) => party.isContact).length <= 1, {
    error: 'expected one contact at most',
    path: ['parties'],
  })
  .refine(
    ({ parties }) =>
      new Set(parties.map((party) => `${party.customerId} ${party.role}`)).size === parties.length,
    { error: 'names the same person twice in the same role', path: ['parties'] },
  )
export type ChangePartiesBody = z.output<typeof changePartiesBody>

export const partyView = z.object({
  customerId: idSchema,
  name: z.string(),
  kind: z.enum(['person', 'firm']),
  phone: z.string().nullable(),
  secondPhone: z.string().nullable(),
  email: z.string().nullable(),
  language: z.enum(['en', 'es']),
  role: partyRoleSchema,
  isContact: z.boolean(),
  since: dayOut,
  until: dayOut.nullable(),
})
export type PartyView = z.output<typeof partyView>

/** Who has to do with the home today; the version is the home's. */
export const partiesView = z.object({
  id: idSchema,
  version: z.number().int(),
  parties: z.array(z.object({ customerId: idSchema, role: partyRoleSchema, isContact: z.boolean() })),
})
export type PartiesView = z.output<typeof partiesView>
