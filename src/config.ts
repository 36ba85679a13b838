import type { ConceptMap } from 'fhir/r4'
import type { FeedKind } from './record/field.ts'

/** How a resource is recognised as belonging to a unit; the first rule that matches in this order wins. */
export interface UnitMatch {
  readonly procedureLocation?: readonly string[]
  readonly encounterLocation?: readonly string[]
  readonly serviceProvider?: readonly string[]
  readonly onBehalfOf?: readonly string[]
}

export interface Unit {
  readonly id: string
  readonly name: string
  /** IANA zone; the source's zone when absent. */
  readonly zone?: string
  readonly match: UnitMatch
}

/** One FHIR server, what it feeds completely, and how its people, units and codes are recognised. */
export interface Source {
  readonly id: string
  readonly baseUrl: string
  /** IANA zone in which civil dates are decided. */
  readonly zone: string
  readonly units: readonly Unit[]
  /** Identifier system that makes two Practitioner copies of one person one key. */
  readonly practitionerSystem?: string
  /** Kinds of fact of which this source sends every one, so that absence means none. */
  readonly completeFeeds: readonly FeedKind[]
  /** Days after which histology that has not come is missing, not pending. */
  readonly pathologyLagDays: number
  /** Days after the event window within which an event may still reach the record. */
  readonly eventLagDays: number
  /** How events become known here. */
  readonly eventsKnownBy: 'own-hospital' | 'call-back' | 'register' | 'not-stated'
  /** Whether facts may be read from this source's free text; not where absent. */
  readonly readsText?: boolean
  /**
   * What a comfort score from 0 to 4 is on the scale from 1 to 5, by score as text. Steps of one name differ between units, so
   * a score without an entry stays on its own scale.
   */
  readonly comfortMap?: Readonly<Record<string, number>>
  /** The site's own codes, mapped to codes this service knows. */
  readonly conceptMaps: readonly ConceptMap[]
}
