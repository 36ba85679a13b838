import type { Definitions } from './definition.ts'

/** Measures of follow-up, by hand from the published definitions. */
export const followUpTruth: Definitions = {}
