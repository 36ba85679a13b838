import type { ConceptMap, DiagnosticReport, Encounter, FhirResource, Patient, Procedure } from 'fhir/r4'
import type { Unit } from '../../../config.ts'
import type { Colonoscopy } from '../../../record/colonoscopy.ts'
import type { FeedKind } from '../../../record/field.ts'

/** Settings of a source, as in SOURCES, that an example needs beside those of the base. */
export interface ExampleSettings {
  readonly completeFeeds?: readonly FeedKind[]
  readonly comfortMap?: Readonly<Record<string, number>>
  readonly readsText?: boolean
  readonly units?: readonly Unit[]
  readonly practitionerSystem?: string
  readonly conceptMaps?: readonly ConceptMap[]
}

/** Elements that an example adds to resources of the base, or has instead of theirs. */
export interface ExampleChanges {
  readonly procedure?: Partial<Procedure>
  readonly encounter?: Partial<Encounter>
  readonly patient?: Partial<Patient>
  readonly report?: Partial<DiagnosticReport>
}

/** A few resources of FHIR R4 that fill some facts when they stand beside the base. */
export interface Example {
  readonly id: string
  readonly title: string
  readonly changes?: ExampleChanges
  readonly resources?: readonly FhirResource[]
  readonly settings?: ExampleSettings
  /** What the record then says. */
  readonly gives: Partial<Colonoscopy>
}
