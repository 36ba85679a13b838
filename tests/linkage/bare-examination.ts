import { snomed } from '../stories/examination.ts'

type Resource = Record<string, unknown>

/** A colonoscopy of which nothing is told but that it took place, for one hour from nine o'clock; and what is added to it. */
export const bareProcedure = (more: Resource = {}): Resource => ({
  resourceType: 'Procedure',
  id: 'p',
  status: 'completed',
  code: snomed('73761001'),
  subject: { reference: 'Patient/a' },
  performedPeriod: { start: '2026-03-10T09:00:00Z', end: '2026-03-10T10:00:00Z' },
  ...more,
})

let serial = 0

/** A final observation that is part of that colonoscopy. */
export const observationOf = (code: Resource, more: Resource = {}): Resource => ({
  resourceType: 'Observation',
  id: `o${++serial}`,
  status: 'final',
  code,
  subject: { reference: 'Patient/a' },
  partOf: [{ reference: 'Procedure/p' }],
  ...more,
})

/** Every order of a few things. */
export function orders<Thing>(things: readonly Thing[]): Thing[][] {
  if (things.length < 2) return [[...things]]
  return things.flatMap((first, index) =>
    orders(things.filter((_, other) => other !== index)).map((rest) => [first, ...rest]),
  )
}
