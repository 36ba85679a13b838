import type { Codes } from '../fhir/codes.ts'
import { type CivilSpan, readMoment, spanOf } from '../fhir/dates.ts'
import type { Json } from '../fhir/json.ts'
import { eventKinds } from '../record/afterwards.ts'
import { severities } from '../record/words.ts'
import type { Examination } from './examinations.ts'
import type { Rung } from './rungs.ts'

export type EventKind = (typeof eventKinds)[number]
export type Severity = (typeof severities)[number]

/** The civil days on which something may have happened, and the instant where one is written. */
export interface When extends CivilSpan {
  readonly instant?: number
}

/** An event as the record tells it, before it is given to an examination. */
export interface ToldEvent {
  /** The resource that tells it, and the element that says what it was. */
  readonly resource: Json
  readonly element: string
  /** Undefined where no code that we know says it: it may have been of any kind. */
  readonly kind: EventKind | undefined
  /** Examinations that it names, or that name it. */
  readonly named: readonly Examination[]
  /** Where that is none: whether it names, or is named by, another procedure, or one of which nobody can tell what it is. */
  readonly other: 'another' | 'unclear' | undefined
  /** How it came to the examination it names; an event that names none is placed by encounter, or by patient and time. */
  readonly rung: Rung
  readonly subject: unknown
  /** Key of the encounter in which it was recorded. */
  readonly encounter: string | undefined
  /** Absent where no date that can be read is written. */
  readonly when: When | undefined
  /** Said not to be serious. */
  readonly minor: boolean
  /** Suspected only, and neither confirmed nor ruled out. */
  readonly isSuspicion: boolean
  readonly severity: Severity | undefined
  /** Examinations that were done because of it: it came before them. */
  readonly reasonFor: readonly Examination[]
}

/** Kinds of event that a concept names. */
export function kindsOf(concept: unknown, codes: Codes): readonly EventKind[] {
  const { sets } = codes.of(concept)
  return sets.size === 0 ? [] : eventKinds.filter((kind) => sets.has(kind))
}

/** Said to be none, none of the kinds, or an injury of the mucosa, which is a fact of its own. */
export function tellsOfNoEvent(concept: unknown, codes: Codes): boolean {
  const fact = codes.fact(concept)
  return fact === 'none' || fact === 'other' || fact === 'mucosal-injury'
}

/** Severity that a concept states, by the map of severities and outcomes. */
export function severityOf(concept: unknown, codes: Codes): Severity | undefined {
  const word = concept === undefined ? undefined : codes.word(concept, 'event-severity')
  return severities.find((severity) => severity === word)
}

/** The worst of what is stated. */
export const worst = (stated: readonly (Severity | undefined)[]): Severity | undefined =>
  severities.findLast((severity) => stated.includes(severity))

/** A complication without any date happened at or right after its examination. */
export const onTheDay = ([examination]: readonly Examination[]): When | undefined => examination?.span

/**
 * The first of some written dates that can be read. Where it is only a month or a year, a later one that is a day within it
 * says more.
 */
export function whenOf(written: readonly unknown[], zone: string): When | undefined {
  let coarse: CivilSpan | undefined
  for (const value of written) {
    const moment = readMoment(value, zone)
    if (moment === undefined) continue
    const span = spanOf(moment)
    if (moment.date === undefined) coarse ??= span
    else if (coarse === undefined || (coarse.first <= moment.date && moment.date <= coarse.last))
      return moment.instant === undefined ? span : { ...span, instant: moment.instant }
  }
  return coarse
}
