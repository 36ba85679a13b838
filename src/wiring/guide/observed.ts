import type { Rung } from '../../linkage/rungs.ts'
import type { CodesOn, Way } from './way.ts'

/** How an observation of an examination is linked with it: partOf, order, encounter, the patient's only examination of that day. */
export const asObserved: readonly Rung[] = [
  'direct reference',
  'shared order',
  'shared encounter',
  'same patient within the time window',
]
/** How a drug or a picture is linked: as an observation is, but by no order. */
export const asGiven: readonly Rung[] = ['direct reference', 'shared encounter', 'same patient within the time window']
/** How a sub-procedure is linked: partOf, order, encounter, and what names the colon by patient and day. */
export const asPart: readonly Rung[] = asObserved
/** How a pathology report is linked: specimen, order, encounter, patient and date. */
export const asPathology: readonly Rung[] = [
  'direct reference',
  'shared order',
  'shared encounter',
  'same patient within the time window',
]
export const bySamePatient: readonly Rung[] = ['same patient within the time window']
/** How what is told of a patient, and of no examination, is linked. */
export const asHistory: readonly Rung[] = ['record of the same patient']

interface Observed {
  /** Codes of ours that the observation, or the component, may carry. */
  readonly ours: readonly string[]
  readonly valueSets?: readonly string[]
  /** Words of ours that the value may be. */
  readonly words?: readonly string[]
  /** Concept maps from other codes to those words. */
  readonly conceptMaps?: readonly string[]
  readonly note?: string
}

/** Ways of a fact that an observation, or a component of a panel, states in its value. */
export function observedIn(values: readonly string[], { ours, valueSets, words, conceptMaps, note }: Observed): Way {
  const codes: CodesOn[] = [{ on: 'Observation.code or component.code', ours, ...(valueSets && { valueSets }) }]
  if (words) codes.push({ on: 'valueCodeableConcept', ours: words, ...(conceptMaps && { conceptMaps }) })
  return {
    elements: values.flatMap((value) => [`Observation.${value}`, `Observation.component.${value}`]),
    rungs: asObserved,
    codes,
    ...(note && { note }),
  }
}

/** A word of the record as a coded value. */
export const wordIn = (code: string, words: readonly string[], note?: string): Way =>
  observedIn(['valueCodeableConcept'], { ours: [code], words, ...(note && { note }) })

/** A yes/no answer as a boolean or a code. */
export const answerIn = (code: string, note?: string): Way =>
  observedIn(['valueBoolean', 'valueCodeableConcept'], { ours: [code], words: ['yes', 'no'], ...(note && { note }) })

/** What a complete feed says by silence. */
export const silence = (element: string, note: string): Way => ({
  elements: [element],
  rungs: ['nothing found in a complete feed'],
  note,
})
