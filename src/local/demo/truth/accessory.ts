import type { Definitions } from './definition.ts'

/** Measures of accessory, by hand from the published definitions. */
export const accessoryTruth: Definitions = {}
