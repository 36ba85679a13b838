import type { Definitions } from './definition.ts'
import { removedPolyp, within30 } from './row-facts.ts'

/** Measures of harm, by hand from the published definitions. */
export const harmTruth: Definitions = {
  'perforation-rate-30-day-descriptive': { eligible: () => [], met: (row) => within30(row.perforationDay) },
  'post-polypectomy-bleeding-rate-30-day-descriptive': {
    eligible: (row) => [removedPolyp(row)],
    met: (row) => within30(row.bleedingDay),
  },
}
