import type { Source, Unit } from '../config.ts'
import { asObject, asObjects, type Json } from '../fhir/json.ts'
import { referencedIdentifier, referenceKey } from '../fhir/references.ts'
import type { Examination } from './examinations.ts'
import type { Survey } from './survey.ts'

/** Unit of a procedure and its encounter by the source's rules, the strongest kind first; undefined when none matches. */
export function unitOf(procedure: Json, encounter: Json | undefined, source: Source): Unit | undefined {
  const { units } = source
  if (units.length === 0) return undefined
  return (
    matching(units, 'procedureLocation', procedure.location) ??
    matchingAny(units, 'encounterLocation', asObjects(encounter?.location), 'location') ??
    matching(units, 'serviceProvider', encounter?.serviceProvider) ??
    matchingAny(units, 'onBehalfOf', asObjects(procedure.performer), 'onBehalfOf')
  )
}

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

function matchingAny(
  units: readonly Unit[],
  rule: keyof Unit['match'],
  holders: readonly Json[],
  element: string,
): Unit | undefined {
  for (const holder of holders) {
    const unit = matching(units, rule, holder[element])
    if (unit) return unit
  }
  return undefined
}

/** Unit whose rule names a reference: as `Type/id` or, where it is logical, as `system|value`. */
function matching(units: readonly Unit[], rule: keyof Unit['match'], reference: unknown): Unit | undefined {
  const name = asObject(reference) === undefined ? undefined : nameOf(reference)
  return name === undefined ? undefined : units.find(({ match }) => match[rule]?.includes(name))
}

function nameOf(reference: unknown): string | undefined {
  const key = referenceKey(reference)
  const identifier = key === undefined ? referencedIdentifier(reference) : undefined
  return key ?? (identifier && `${identifier.system}|${identifier.value}`)
}
