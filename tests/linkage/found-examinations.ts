import { Codes } from '../../src/fhir/codes.ts'
import type { Window } from '../../src/linkage/context.ts'
import { findExaminations } from '../../src/linkage/examinations.ts'
import { patientKeys } from '../../src/linkage/patients.ts'
import { readingOf } from '../../src/linkage/reading.ts'
import { definitions } from '../stories/ask.ts'
import { snomed } from '../stories/examination.ts'
import { northmoor } from '../stories/northmoor.ts'

type Resource = Record<string, unknown>

/** A colonoscopy of patient p, for the sake of when and where it was. */
export const colonoscopy = (id: string, more: Resource): Resource => ({
  resourceType: 'Procedure',
  id,
  status: 'completed',
  code: snomed('73761001'),
  subject: { reference: 'Patient/p' },
  ...more,
})

/** Performed on 10 March from one time to another, in UTC, which is London's time then. */
export const from = (start: string, end?: string): Resource => ({
  performedPeriod: {
    start: `2026-03-10T${start}:00Z`,
    ...(end !== undefined && { end: `2026-03-10T${end}:00Z` }),
  },
})

export const on = (performedDateTime: string): Resource => ({ performedDateTime })

/** Elements that say nothing of who, when or where: they only make a resource fuller. */
export const full: Resource = { note: [], category: {}, bodySite: [], complication: [], followUp: [] }

const codes = new Codes(definitions.resources, [])

/**
 * Ids of the resources of each examination that the window owns, the leading one first, and what is left out, by id.
 *
 * @param period of which the window is a part
 */
export function found(
  resources: readonly unknown[],
  window: Window = { start: '2020-01-01', end: '2030-12-31' },
  period: Window = window,
  source = northmoor,
) {
  const context = { source, codes, window, period, asOf: Date.parse('2031-01-01') }
  const reading = readingOf(resources, context)
  const { examinations, leftOut } = findExaminations(reading, patientKeys(reading.resources), context)
  const owned = examinations.filter((one) => one.owned)
  return {
    examinations: owned,
    groups: owned.map(({ all }) => all.map(({ id }) => String(id))).sort(byText),
    leftOut: leftOut
      .map(({ reference, reason }) => [reference.replace('Procedure/', ''), reason] as const)
      .sort(byText),
  }
}

const byText = (one: readonly string[], other: readonly string[]): number => (one.join() < other.join() ? -1 : 1)
