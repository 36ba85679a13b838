import type { FhirResource } from 'fhir/r4'
import { addDetails } from './details/add-details.ts'
import { addEvents, addReturnBeforeBleeding } from './events.ts'
import type { Plan } from './plan.ts'
import { planExamination } from './plans.ts'
import { createRandom } from './random.ts'
import { writeAdvice } from './resources/advice.ts'
import { writeDetails } from './resources/details.ts'
import { writeDevices } from './resources/devices.ts'
import { writeEvents } from './resources/events.ts'
import { writeExamination } from './resources/examination.ts'
import { writeGastroscopy } from './resources/gastroscopy.ts'
import { writeDrugs, writeMedication } from './resources/medication.ts'
import { writeObservations } from './resources/observations.ts'
import { writePathology } from './resources/pathology.ts'
import { writePatient } from './resources/patient.ts'
import { writePeople } from './resources/people.ts'
import { writePolyps } from './resources/polyps.ts'
import { writeSpecimens } from './resources/specimens.ts'
import { writeVisits } from './resources/visits.ts'
import { fillSchedule } from './schedule.ts'
import type { TruthRow } from './truth-row.ts'
import { writeUncounted } from './uncounted.ts'

export interface Demo {
  readonly resources: readonly FhirResource[]
  readonly truth: readonly TruthRow[]
}

/**
 * The demo network: three units, fourteen endoscopists, eighteen months, about 6,000 colonoscopies, all invented. What
 * happened is decided first, as rows; resources are then written from it. The same every time, on every platform.
 */
export function generateDemo(): Demo {
  const plans = addDetails(planNetwork())
  const uncounted = writeUncounted(createRandom(20260701))
  const patients = [...new Set(plans.map(({ patient }) => patient))]
  return {
    resources: [
      ...writePeople(),
      ...writeDevices(),
      ...writeDrugs(),
      ...patients.flatMap(writePatient),
      ...plans.flatMap(writePlan),
      ...uncounted.resources,
    ].map(asStored),
    truth: [...plans.flatMap(rowsOf), ...uncounted.rows],
  }
}

/** A server gives every resource it stores a version and a time. */
const asStored = (resource: FhirResource): FhirResource => ({
  ...resource,
  meta: { versionId: '1', lastUpdated: '2026-08-14T22:10:00.000Z', ...resource.meta },
})

/** One resource a line, in the order in which they were made. */
export function toNdjson(resources: readonly FhirResource[]): string {
  return `${resources.map((resource) => JSON.stringify(resource)).join('\n')}\n`
}

function planNetwork(): Plan[] {
  const random = createRandom(20250101)
  const plans = fillSchedule(random, 6000).map((slot, position) => planExamination(random, slot, position + 1))
  return addReturnBeforeBleeding(random, addEvents(random, plans), plans.length + 1)
}

function writePlan(plan: Plan): FhirResource[] {
  return [
    ...writeExamination(plan),
    ...writeObservations(plan),
    ...writeDetails(plan),
    ...writeMedication(plan),
    ...writePolyps(plan),
    ...writeSpecimens(plan),
    ...writePathology(plan),
    ...writeGastroscopy(plan),
    ...writeEvents(plan),
    ...writeAdvice(plan),
    ...writeVisits(plan),
  ]
}

function rowsOf({ row, form, key }: Plan): TruthRow[] {
  if (!form.copy) return [row]
  return [row, { ...row, procedure: `Procedure/${key}-copy`, kind: 'copy', copyOf: row.procedure }]
}
