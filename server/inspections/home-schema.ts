import { z } from 'zod'
import { openJson } from '../fields.ts'
import { idSchema } from '../ids.ts'

// The home as an inspection shows it, and as the rules read it.

/** trade/property.ts Space, with its version. */
export const spaceView = z.object({
  id: idSchema,
  kind: z.string(),
  name: z.string(),
  level: z.number(),
  areaSqFt: z.number().nullable(),
  hasSink: z.boolean().nullable(),
  hasTubOrShower: z.boolean().nullable(),
  hasFuelBurner: z.boolean().nullable(),
  sleepingArea: z.string().nullable(),
  version: z.number(),
})
export type SpaceView = z.output<typeof spaceView>

/** trade/equipment.ts Equipment, with the dates that the rules computed and its version. Retired ones are left out. */
export const equipmentView = z.object({
  id: idSchema,
  kind: z.string(),
  label: z.string(),
  spaceId: idSchema.nullable(),
  parentId: idSchema.nullable(),
  details: openJson,
  manufacturedOn: z.string().nullable(),
  installedOn: z.string().nullable(),
  retiredOn: z.string().nullable(),
  replaceBy: z.string().nullable(),
  replaceByAssumed: z.boolean(),
  lastCheckedOn: z.string().nullable(),
  nextCheckOn: z.string().nullable(),
  version: z.number(),
})
export type EquipmentView = z.output<typeof equipmentView>

/** trade/property.ts Property, with its address and how to get in. */
export const propertyView = z.object({
  id: idSchema,
  line1: z.string(),
  line2: z.string(),
  city: z.string(),
  region: z.string(),
  postcode: z.string(),
  latitude: z.number().nullable(),
  longitude: z.number().nullable(),
  timeZone: z.string(),
  yearBuilt: z.number().nullable(),
  yearAltered: z.number().nullable(),
  levels: z.number().nullable(),
  areaSqFt: z.number().nullable(),
  fuels: z.array(z.string()).nullable(),
  hasGasPiping: z.boolean().nullable(),
  garage: z.string().nullable(),
  garageOpensIntoHome: z.boolean().nullable(),
  tenure: z.string().nullable(),
  lastInspectedOn: z.string().nullable(),
  soldOn: z.string().nullable(),
  accessNotes: z.string(),
})
export type PropertyView = z.output<typeof propertyView>

/** trade/whole-home/context.ts Jurisdiction. */
export const jurisdictionView = z.object({
  name: z.string(),
  isUs: z.boolean(),
  adoptions: z.array(openJson),
  amendments: z.array(openJson),
})
