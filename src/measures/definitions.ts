import type { FhirResource } from 'fhir/r4'
import type { MeasureDefinition } from './measure.ts'

/** What the build step makes of `measures/`: the content of `build/definitions.json`. */
export interface Definitions {
  readonly measures: readonly MeasureDefinition[]
  /** Every other published artefact: value sets, code systems, concept maps, structure and operation definitions. */
  readonly resources: readonly FhirResource[]
}
