import type { Codes } from '../fhir/codes.ts'
import { asObjects, type Json } from '../fhir/json.ts'
import type { Meaning } from '../fhir/meaning.ts'
import { ownKey, referenceKey } from '../fhir/references.ts'
import { hang } from './examinations.ts'
import { type Gathering, keysIn, type Matter, ofAnotherStay, type Place, voided, wholeOf } from './gathering.ts'
import type { Ties } from './ladder.ts'
import { isPartOnly, type Topic, topicOf } from './topics.ts'

/** Components of these are read with the observation they belong to. */
const readWhole: ReadonlySet<Topic> = new Set(['polyp', 'preparation', 'comfort', 'attachment', 'advice'])

/**
 * Hangs every observation on its examination by what it tells of. A panel may carry facts in its components: those are hung as
 * if they stood alone.
 */
export function gatherObservations(gathering: Gathering): void {
  const {
    reading: { resources, codes, survey },
    ladder,
  } = gathering
  for (const observation of resources.ofType('Observation')) {
    const code = codes.of(observation.code)
    const { component } = observation
    // Most observations of a patient are of something else; a code we know is in a value set or is one of ours.
    const isKnown = code.fact !== undefined || code.sets.size > 0
    if (!isKnown && component === undefined && survey === undefined) continue
    if (voided.has(observation.status)) continue
    const topic = topicOf(code)
    const placed = placeObservation(observation, topic, gathering)
    if (!placed) {
      // What no topic is for, such as a result of pathology, comes by other ways.
      if (survey && isForUs(code, component, codes)) survey.unlinked('Observation', observation)
      continue
    }
    const { examination, rung } = placed
    survey?.linked(observation)
    if (isKnown) hang(examination, topic, { resource: observation, holder: observation, code, rung })
    if (examination.owned && (isKnown ? isPartOnly(code) : !isOfPathology(code)))
      survey?.missed('Observation.code', observation.code, examination.patient)
    if (component !== undefined && !readWhole.has(topic)) gatherComponents(observation, placed, gathering)
    if (topic !== 'polyp') continue
    // A polyp, and the pot it went into, lead to the examination too.
    ladder.attach(referenceKey(observation.specimen), examination)
    ladder.attach(ownKey(observation), examination)
  }
}

/** Whether an observation, or a component of it, has a topic. */
const isForUs = (code: Meaning, component: unknown, codes: Codes): boolean =>
  topicOf(code) !== 'other' || asObjects(component).some((one) => topicOf(codes.of(one.code)) !== 'other')

function placeObservation(observation: Json, topic: Topic, gathering: Gathering): Place | undefined {
  const { partOf, encounter, subject } = observation
  if (partOf !== undefined) {
    const whole = wholeOf(partOf, gathering)
    if (whole !== undefined) return whole === 'another' ? undefined : whole
  }
  const ties: Ties = {
    orders: keysIn(observation.basedOn),
    encounter: referenceKey(encounter),
    patient: gathering.patientKey(subject),
    when: observation.effectiveDateTime ?? observation.effectivePeriod ?? observation.effectiveInstant,
    // What is written up a day later, in a visit that was for the examination alone, is still of the examination.
    isLate: true,
    isOfAnother: ofAnotherStay(encounter, gathering),
  }
  return gathering.place(observation, ties, mattersOf[topic] ?? nothing)
}

const nothing: readonly Matter[] = []
/** What an observation of a topic tells of, whose silence would otherwise mean something. */
const mattersOf: Readonly<Partial<Record<Topic, readonly Matter[]>>> = {
  polyp: ['polyps'],
  'polyp-size': ['polyps'],
  course: ['course', 'photographs'],
  history: ['history'],
  biopsies: ['polyps'],
}

function gatherComponents(resource: Json, { examination, rung }: Place, { reading }: Gathering): void {
  for (const holder of asObjects(resource.component)) {
    const code = reading.codes.of(holder.code)
    const topic = topicOf(code)
    if (topic !== 'other') hang(examination, topic, { resource, holder, code, rung })
    else if (examination.owned && code.fact === undefined && code.sets.size === 0)
      reading.survey?.missed('Observation.component.code', holder.code, examination.patient)
  }
}

/** A code that names a class of histology is pathology's, which is read from its report. */
const isOfPathology = ({ words }: Meaning): boolean => words.has('histology')
