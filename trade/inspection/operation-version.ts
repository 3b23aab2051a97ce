/**
 * The shape in which a device of today writes down what was done (server/field/operation-schema.ts). What lies on a
 * device keeps the number it was written under; the office reads older ones by a table of steps, one a version.
 */
export const OPERATION_VERSION = 2
