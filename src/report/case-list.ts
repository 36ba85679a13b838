import type { List } from 'fhir/r4'
import type { MeasureResult } from '../tally/result.ts'

/**
 * The examinations that a unit reviews one by one, as references into its own source. Those of days that are not settled yet are
 * among them: a case is to be seen when it is recorded, so the list can be longer than the settled count.
 *
 * @param date instant at which the list is made
 */
export function caseList({ cases, measure }: MeasureResult, date: string): List {
  return {
    resourceType: 'List',
    id: 'cases',
    status: 'current',
    mode: 'snapshot',
    title: measure.title,
    date,
    ...(cases.length === 0
      ? {
          emptyReason: {
            coding: [{ system: 'http://terminology.hl7.org/CodeSystem/list-empty-reason', code: 'nilknown' }],
          },
        }
      : {
          entry: cases.map((name) => ({ item: { reference: name.slice(name.indexOf('/') + 1), type: 'Procedure' } })),
        }),
  }
}
