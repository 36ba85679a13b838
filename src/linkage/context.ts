import type { Source } from '../config.ts'
import type { Codes } from '../fhir/codes.ts'
import type { Survey } from './survey.ts'
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
  /** The period that is asked for, of which the window is a part; the window itself where absent. */
  readonly period?: Window
  /** Milliseconds since 1970: what became known after this instant is not known yet. */
  readonly asOf: number
  /** Takes down, where it is given, what every fact rests on and what did not fit. It changes no fact. */
  readonly survey?: Survey
}

/** An examination or resource that is in no figure, and why. */
export interface LeftOut {
  readonly reference: string
  readonly reason: string
}

export type Resources = WindowResources
