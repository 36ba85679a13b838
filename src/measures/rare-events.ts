import type { MeasureDefinition } from './measure.ts'

/**
 * Whether a measure counts events that are rare among examinations: those have exact intervals and are read per 1,000. Later
 * cancers are counted among cancers, and are not rare there.
 */
export const countsRareEvents = ({ eventWindowDays, needs }: MeasureDefinition): boolean =>
  eventWindowDays !== undefined && !needs.includes('cancers')
