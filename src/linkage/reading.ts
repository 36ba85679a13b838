import type { Source } from '../config.ts'
import type { Codes } from '../fhir/codes.ts'
import type { Json } from '../fhir/json.ts'
import type { Meaning } from '../fhir/meaning.ts'
import type { FeedKind } from '../record/field.ts'
import type { LinkContext, Resources } from './context.ts'
import type { Rung } from './rungs.ts'
import type { Survey } from './survey.ts'
import { WindowResources } from './window-resources.ts'

/** A resource of an examination: what its code means, looked up once, and the rung by which it came. */
export interface Told {
  readonly resource: Json
  /** What holds the value: the resource itself, or one of its components. */
  readonly holder: Json
  readonly code: Meaning
  readonly rung: Rung
}

/** A Procedure with the meaning of its code, looked up once. */
export interface Performed {
  readonly resource: Json
  readonly code: Meaning
}

/** What every reader of a window's examinations is given. */
export interface Reading {
  readonly resources: Resources
  /** Every Procedure of the window, in the order of their ids. */
  readonly procedures: readonly Performed[]
  readonly codes: Codes
  readonly source: Source
  /** Milliseconds since 1970: what became known after this instant is not known yet. */
  readonly asOf: number
  /** Whether the source declares that it sends every fact of a kind. */
  readonly complete: (kind: FeedKind) => boolean
  readonly survey: Survey | undefined
}

/** @param delivered the resources of one window, as they came */
export function readingOf(delivered: readonly unknown[], { source, codes, asOf, survey }: LinkContext): Reading {
  const resources = new WindowResources(delivered)
  return {
    resources,
    procedures: resources.ofType('Procedure').map((resource) => ({ resource, code: codes.of(resource.code) })),
    codes,
    source,
    asOf,
    complete: (kind) => source.completeFeeds.includes(kind),
    survey,
  }
}

/** Element that holds a value, as a trail names it. */
export const elementOf = ({ resource, holder }: Told, value: string): string =>
  `${String(resource.resourceType)}.${holder === resource ? '' : 'component.'}${value}`

/** Element of an observation or component that holds its value, whatever type it has. */
export const valueElementOf = (told: Told): string =>
  // The site of a picture is what an observation of it would state.
  told.resource.resourceType === 'Media'
    ? 'Media.bodySite'
    : elementOf(told, Object.keys(told.holder).find((name) => name.startsWith('value')) ?? 'value[x]')
