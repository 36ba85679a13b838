import type { FhirResource } from 'fhir/r4'
import { examination, fact, pathology, tubularAdenoma } from '../stories/examination.ts'

interface Sitting {
  readonly id: string
  readonly date: string
  readonly polyps?: number
}

const june = (day: number): string => `2026-06-${String(day).padStart(2, '0')}`

/**
 * Patients who come twice within days, invented so that every cut of June 2026 between two days has such a pair near it:
 * for each, a bleeding that names no examination, histology that comes late and names only the patient, and a report that
 * fits two examinations equally well.
 */
export function writeRivals(): FhirResource[] {
  return [
    ...[3, 6, 9, 12, 15, 18, 21, 24, 27].flatMap(nearby),
    ...[4, 7, 10].flatMap(farApart),
    ...[5, 8, 11].flatMap(merged),
  ]
}

const nearby = (day: number): FhirResource[] => [
  ...pair(`bleeds-later-${day}`, day, 2, (patient) => [event(patient, 'bleeding', june(day + 3))]),
  ...pair(`perforates-${day}`, day, 1, (patient) => [event(patient, 'perforation', june(day + 3))]),
  ...pair(`report-for-either-${day}`, day, 2, (patient) => pathologyOf(patient, june(day + 3), '2026-07-20T10:00:00Z')),
  ...pair(`late-report-${day}`, day, 4, (patient) => pathologyOf(patient, june(day), '2026-08-20T10:00:00Z')),
  ...copied(`copied-${day}`, day),
]

/** So far apart that no window but the whole month holds both. */
const farApart = (day: number): FhirResource[] => [
  ...pair(`perforates-late-${day}`, day, 17, (patient) => [event(patient, 'perforation', june(day + 19))]),
  ...pair(`late-report-for-either-${day}`, day, 17, (patient) =>
    pathologyOf(patient, june(day + 18), '2026-07-20T10:00:00Z'),
  ),
]

/** A patient with two records since merged, the second examination filed under the one that no longer stands. */
function merged(day: number): FhirResource[] {
  const name = `merged-${day}`
  const former = `${name}-former`
  const [kept, given] = [{ reference: `Patient/${name}` }, { reference: `Patient/${former}` }]
  const told = pair(name, day, 17, (patient) => [event(patient, 'perforation', june(day + 19))])
  return [
    { resourceType: 'Patient', id: former, link: [{ other: kept, type: 'replaced-by' }] },
    ...told.map((one): FhirResource => {
      if (one.resourceType === 'Patient') return { ...one, link: [{ other: given, type: 'replaces' }] }
      return one.resourceType === 'Procedure' && one.id === `${name}-second` ? { ...one, subject: given } : one
    }),
  ]
}

/** Two examinations of one patient, some days apart, and what else is known of the patient. */
function pair(
  name: string,
  day: number,
  apart: number,
  more: (patient: string) => readonly FhirResource[],
): FhirResource[] {
  return [
    ...sitting(name, { id: `${name}-first`, date: june(day), polyps: 1 }),
    ...sitting(name, { id: `${name}-second`, date: dayAfter(day, apart) }).filter(
      ({ resourceType }) => resourceType !== 'Patient',
    ),
    ...more(name),
  ]
}

const dayAfter = (day: number, apart: number): string =>
  day + apart <= 30 ? june(day + apart) : `2026-07-${String(day + apart - 30).padStart(2, '0')}`

function sitting(patient: string, { id, date, polyps = 0 }: Sitting): FhirResource[] {
  const told = examination({
    id,
    date,
    patient,
    operator: 'practitioner-HM-1101',
    withdrawalMinutes: 8,
    polyps: Array.from({ length: polyps }, () => ({ site: 'sigmoid', millimetres: 6, handling: 'removed' as const })),
  }) as unknown as FhirResource[]
  return told.map((resource) =>
    resource.resourceType === 'Procedure' && resource.id === id
      ? { ...resource, location: { reference: 'Location/room-ellenby' } }
      : resource,
  )
}

/** An examination told by two resources on the two sides of midnight in UTC, which is one day in London. */
function copied(name: string, day: number): FhirResource[] {
  const told = sitting(name, { id: name, date: june(day) })
  const copy: FhirResource = {
    resourceType: 'Procedure',
    id: `${name}-copy`,
    status: 'completed',
    code: { coding: [{ system: 'http://snomed.info/sct', code: '73761001' }] },
    subject: { reference: `Patient/${name}` },
    performedDateTime: `${june(day - 1)}T23:30:00Z`,
    location: { reference: 'Location/room-ellenby' },
  }
  const start = { performedPeriod: { start: `${june(day - 1)}T23:30:00Z`, end: `${june(day)}T00:10:00Z` } }
  return [
    ...told.map((one) => (one.resourceType === 'Procedure' && one.id === name ? { ...one, ...start } : one)),
    copy,
  ]
}

const pathologyOf = (patient: string, effective: string, issued: string): FhirResource[] =>
  (
    pathology(`${patient}-pathology`, {
      issued,
      patient,
      results: [{ code: tubularAdenoma }],
    }) as unknown as FhirResource[]
  ).map((resource) =>
    resource.resourceType === 'DiagnosticReport' ? { ...resource, effectiveDateTime: effective } : resource,
  )

const event = (patient: string, kind: 'bleeding' | 'perforation', date: string): FhirResource =>
  ({
    resourceType: 'Condition',
    id: `${patient}-event`,
    code: fact(kind),
    subject: { reference: `Patient/${patient}` },
    onsetDateTime: date,
    recordedDate: date,
  }) as FhirResource
