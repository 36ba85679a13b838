import type { Source } from '../config.ts'
import type { Codes } from '../fhir/codes.ts'
import type { WindowResources } from './window-resources.ts'

/** Civil dates, both inclusive: the window owns the examinations that began on them. */
export interface Window {
  readonly start: string
  readonly end: string
}

/** What linkage is told from outside: it reads no clock and no configuration of its own. */
export interface LinkContext {
  readonly source: Source
  readonly codes: Codes
  readonly window: Window
  /** Milliseconds since 1970: what became known after this instant is not known yet. */
  readonly asOf: number
}

/** Rungs of the linkage ladder, strongest first; a fact's trail holds an index into this list. */
export const rungs = [
  'own element',
  'direct reference',
  'shared order',
  'shared encounter',
  'same patient within the time window',
  'final report in a complete feed',
  'completed examination without a report, in a complete feed',
  'inferred from pathology',
  'inferred from the procedure code',
  'default: no limitation stated',
] as const
export type Rung = (typeof rungs)[number]

/** An examination or resource that is in no figure, and why. */
export interface LeftOut {
  readonly reference: string
  readonly reason: string
}

export type Resources = WindowResources
