import { z } from 'zod'
import { FUELS, type Fuel, GARAGES, type Garage, TENURES, type Tenure } from '../../trade/property.ts'
import { newCustomerBody } from '../customers/schema.ts'
import { daySchema, dayOut, instantOut, textSchema, yesNoQuery } from '../fields.ts'
import { idSchema } from '../ids.ts'
import { pageOf, pageQuery } from '../paging.ts'
import { isTimeZone } from '../time.ts'
import { newPartySchema } from './party-schema.ts'
import { newSpaceBody } from './space-schema.ts'

export const fuelSchema = z.enum(Object.keys(FUELS) as [Fuel, ...Fuel[]], {
  error: `expected one of ${Object.keys(FUELS).join(', ')}`,
})
export const garageSchema = z.enum(Object.keys(GARAGES) as [Garage, ...Garage[]], {
  error: `expected one of ${Object.keys(GARAGES).join(', ')}`,
})
export const tenureSchema = z.enum(Object.keys(TENURES) as [Tenure, ...Tenure[]], {
  error: `expected one of ${Object.keys(TENURES).join(', ')}`,
})
const yearSchema = z
  .number({ error: 'expected a year from 1600 to 2200' })
  .int({ error: 'expected a year from 1600 to 2200' })
  .min(1600, { error: 'expected a year from 1600 to 2200' })
  .max(2200, { error: 'expected a year from 1600 to 2200' })
const degrees = (limit: number) => z.number().min(-limit).max(limit)
const timeZoneSchema = textSchema(64, 1).refine((zone) => /^[A-Za-z]/.test(zone) && isTimeZone(zone), {
  error: 'expected a time zone of the IANA list, such as America/New_York',
})

const fields = {
  line1: textSchema(200, 1),
  line2: textSchema(200),
  city: textSchema(100, 1),
  region: textSchema(100),
  postcode: textSchema(20),
  latitude: degrees(90).nullable(),
  longitude: degrees(180).nullable(),
  timeZone: timeZoneSchema,
  jurisdictionId: idSchema.nullable(),
  yearBuilt: yearSchema.nullable(),
  yearAltered: yearSchema.nullable(),
  levels: z.number().int().min(1).max(20).nullable(),
  areaSqFt: z.number().int().min(1).max(200_000).nullable(),
  fuels: z.array(fuelSchema).max(5),
  hasGasPiping: z.boolean().nullable(),
  garage: garageSchema.nullable(),
  garageOpensIntoHome: z.boolean().nullable(),
  tenure: tenureSchema.nullable(),
  soldOn: daySchema.nullable(),
  accessNotes: textSchema(2000),
  notes: textSchema(4000),
}

/** A home alone. Without a time zone it is in the company's. */
export const newPropertyFields = {
  id: idSchema.optional(),
  line1: fields.line1,
  line2: fields.line2.default(''),
  city: fields.city,
  region: fields.region.default(''),
  postcode: fields.postcode.default(''),
  latitude: fields.latitude.default(null),
  longitude: fields.longitude.default(null),
  timeZone: fields.timeZone.optional(),
  jurisdictionId: fields.jurisdictionId.default(null),
  yearBuilt: fields.yearBuilt.default(null),
  yearAltered: fields.yearAltered.default(null),
  levels: fields.levels.default(null),
  areaSqFt: fields.areaSqFt.default(null),
  fuels: fields.fuels.default([]),
  hasGasPiping: fields.hasGasPiping.default(null),
  garage: fields.garage.default(null),
  garageOpensIntoHome: fields.garageOpensIntoHome.default(null),
  tenure: fields.tenure.default(null),
  accessNotes: fields.accessNotes.default(''),
  notes: fields.notes.default(''),
  spaces: z.array(newSpaceBody).max(100).default([]),
}
export const newHomeBody = z.strictObject(newPropertyFields)
export type NewHomeBody = z.output<typeof newHomeBody>

/** A home with who has to do with it: people on record (`parties`), and one new one (`customer`). */
export const newPropertyBody = z.strictObject({
  ...newPropertyFields,
  parties: z.array(newPartySchema).max(20).default([]),
  customer: newCustomerBody.extend({ role: newPartySchema.shape.role.default('owner') }).optional(),
})
export type NewPropertyBody = z.output<typeof newPropertyBody>

/** What is left out stays as it is. */
export const changePropertyBody = z.strictObject(fields).partial()
export type ChangePropertyBody = z.output<typeof changePropertyBody>

const filters = {
  /** Address or a person's name, e-mail, phone; typing errors are forgiven. */
  q: textSchema(200).optional(),
  customerId: idSchema.optional(),
  jurisdictionId: idSchema.optional(),
  due: z
    .enum(['overdue', 'soon', 'none'], { error: 'expected overdue, soon or none' })
    .optional()
    .describe('overdue: something open is past its day; soon: within 90 days; none: nothing is open'),
  builtFrom: z.coerce.number().int().min(1600).max(2200).optional(),
  builtTo: z.coerce.number().int().min(1600).max(2200).optional(),
  archived: yesNoQuery.optional().describe('yes: only archived ones; left out or no: only those in use'),
}
export const propertyListQuery = z.strictObject({ ...filters, ...pageQuery })
export const propertyExportQuery = z.strictObject(filters)
export type PropertyFilters = z.output<typeof propertyExportQuery>

export const propertyRow = z.object({
  id: idSchema,
  line1: z.string(),
  line2: z.string(),
  city: z.string(),
  region: z.string(),
  postcode: z.string(),
  yearBuilt: z.number().int().nullable(),
  jurisdictionName: z.string().nullable(),
  contactId: idSchema.nullable(),
  contactName: z.string().nullable(),
  contactPhone: z.string().nullable(),
  lastInspectedOn: dayOut.nullable(),
  /** Earliest day on which something open falls due. */
  nextDueOn: dayOut.nullable(),
  openFollowUps: z.number().int(),
  openFindings: z.number().int(),
  archivedAt: instantOut.nullable(),
})
export type PropertyRow = z.output<typeof propertyRow>
export const propertyPage = pageOf(propertyRow)

export const propertyRecord = z.object({
  id: idSchema,
  line1: z.string(),
  line2: z.string(),
  city: z.string(),
  region: z.string(),
  postcode: z.string(),
  latitude: z.number().nullable(),
  longitude: z.number().nullable(),
  timeZone: z.string(),
  jurisdictionId: idSchema.nullable(),
  yearBuilt: z.number().int().nullable(),
  yearAltered: z.number().int().nullable(),
  levels: z.number().int().nullable(),
  areaSqFt: z.number().int().nullable(),
  fuels: z.array(fuelSchema),
  hasGasPiping: z.boolean().nullable(),
  garage: garageSchema.nullable(),
  garageOpensIntoHome: z.boolean().nullable(),
  tenure: tenureSchema.nullable(),
  lastInspectedOn: dayOut.nullable(),
  soldOn: dayOut.nullable(),
  accessNotes: z.string(),
  notes: z.string(),
  archivedAt: instantOut.nullable(),
  version: z.number().int(),
  createdAt: instantOut,
  updatedAt: instantOut,
})
export type PropertyRecord = z.output<typeof propertyRecord>
