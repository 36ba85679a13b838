import type { Source } from '../config.ts'
import { asObjects } from '../fhir/json.ts'
import type { Examination } from './examinations.ts'
import type { Survey } from './survey.ts'
import { nameOf } from './unit.ts'

/** Takes down what names the place of an examination, or who it was done for, and matches no unit of the source. */
export function surveyUnit({ all, stays, patient }: Examination, { units }: Source, survey: Survey): void {
  if (units.length === 0) return
  const miss = (element: string, references: unknown) => {
    for (const reference of asObjects(references))
      survey.missed(element, { coding: [{ code: nameOf(reference), display: reference.display }] }, patient)
  }
  for (const { location, performer } of all) {
    miss('Procedure.location', location)
    for (const { onBehalfOf } of asObjects(performer)) miss('Procedure.performer.onBehalfOf', onBehalfOf)
  }
  for (const { location, serviceProvider } of stays) {
    for (const one of asObjects(location)) miss('Encounter.location.location', one.location)
    miss('Encounter.serviceProvider', serviceProvider)
  }
}
