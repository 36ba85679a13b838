/**
 * How a resource came to an examination, or a fact to the record: rungs of the linkage ladder, strongest first, then
 * inferences, which are named for what they rest on.
 */
export const rungs = [
  'own element',
  'direct reference',
  'shared order',
  'shared encounter',
  'same patient within the time window',
  'record of the same patient',
  'read from free text',
  'final report in a complete feed',
  'completed examination without a report, in a complete feed',
  'nothing found in a complete feed',
  'inferred from pathology',
  'inferred from the procedure code',
  'inferred from the status',
  'inferred from the stop reason',
  'inferred from the extent',
  'inferred from the findings',
  'inferred from the history',
  'inferred from who led the sedation',
  'default: no limitation stated',
] as const
export type Rung = (typeof rungs)[number]
