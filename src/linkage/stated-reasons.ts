import type { Codes } from '../fhir/codes.ts'
import { isKnownBy } from '../fhir/dates.ts'
import { asObject, asObjects, asText, type Json } from '../fhir/json.ts'
import { referenceKey } from '../fhir/references.ts'
import { isWord, referralReasons } from '../record/words.ts'
import { writtenStart } from './candidates.ts'
import { containedIn } from './contained.ts'
import type { Examination } from './examinations.ts'
import type { Reading } from './reading.ts'
import { reasonOfTest } from './reason-of-test.ts'
import type { Rung } from './rungs.ts'
import { mentionsKnownLesion } from './text/known-lesion.ts'
import { timingOf } from './timing.ts'

export type ReferralReason = (typeof referralReasons)[number]

/** One reason as stated, and where it stands. */
export interface StatedReason {
  readonly reason: ReferralReason
  readonly resource: Json
  readonly rung: Rung
  readonly element: string
}

/** Everything that an examination and its orders say of why it was done. */
export interface StatedReasons {
  readonly reasons: StatedReason[]
  /**
   * Resources whose words speak of a lesion known before, and the element they stand in. Read only where the source has its text
   * read, or contradictions are listed.
   */
  readonly mentions: { readonly resource: Json; readonly element: string; readonly rung: Rung }[]
  /** Codes of ours that say more than the kind of referral. */
  readonly particulars: (Omit<StatedReason, 'reason'> & { readonly particular: string })[]
  /** Positive screening tests that are named as a reason. */
  readonly tests: Json[]
  /** A reason stands there whose meaning is not known: it could be any. */
  isOpen: boolean
}

/** Reads the reasons of an examination: its codes, what they refer to, and those of the orders it is based on. */
export function statedReasons(examination: Examination, reading: Reading): StatedReasons {
  const found: StatedReasons = { reasons: [], mentions: [], particulars: [], tests: [], isOpen: false }
  for (const procedure of examination.all) readReasonsOf(procedure, 'own element', found, examination, reading)
  for (const key of examination.orders) {
    const order = reading.resources.at(key)
    if (order === undefined) reading.survey?.deadEnd('Procedure.basedOn', examination.lead)
    else if (order.status !== 'entered-in-error') readReasonsOf(order, 'direct reference', found, examination, reading)
  }
  return found
}

function readReasonsOf(
  resource: Json,
  rung: Rung,
  found: StatedReasons,
  examination: Examination,
  reading: Reading,
): void {
  const { reasonCode, reasonReference } = resource
  if (reasonCode !== undefined) {
    const element = resource.resourceType === 'Procedure' ? 'Procedure.reasonCode' : 'ServiceRequest.reasonCode'
    for (const concept of asObjects(reasonCode))
      readConcept(concept, { resource, rung, element }, found, examination, reading)
  }
  if (reasonReference === undefined) return
  const element = resource.resourceType === 'Procedure' ? 'Procedure.reasonReference' : 'ServiceRequest.reasonReference'
  for (const reference of asObjects(reasonReference))
    readReference(reference, { resource, rung, element }, found, examination, reading)
}

type Place = Omit<StatedReason, 'reason'>

/** Reasons that are stated beside the kind of referral, or instead of it. */
const particularReasons: ReadonlySet<string> = new Set(['chronic-diarrhoea', 'after-incomplete-examination'])

/** Takes down what the codes of a concept say of them, and whether they say anything. */
function takeParticulars({ coding }: Json, place: Place, { particulars }: StatedReasons, codes: Codes): boolean {
  const before = particulars.length
  for (const one of asObjects(coding)) {
    const particular = codes.fact({ coding: [one] })
    if (particular !== undefined && particularReasons.has(particular)) particulars.push({ ...place, particular })
  }
  return particulars.length > before
}

function readConcept(
  concept: Json,
  place: Place,
  found: StatedReasons,
  { patient, trail }: Examination,
  { codes, source, survey }: Reading,
): void {
  const { resource, rung, element } = place
  const { coding } = concept
  let isKnown = false
  const take = (word: string | undefined) => {
    if (!isWord(word, referralReasons)) return
    isKnown = true
    found.reasons.push({ reason: word, resource, rung, element })
  }
  // Codings of one concept should mean one thing; where a store puts two reasons into one concept, both are stated.
  if (Array.isArray(coding) && coding.length > 1)
    for (const one of coding) take(codes.wordOfCoding(one, 'referral-reason'))
  else take(codes.word(concept, 'referral-reason'))
  if (takeParticulars(concept, place, found, codes)) isKnown = true
  const text = asText(concept.text)
  // Words are read only for those who use them: a source whose text is read, and the list of contradictions.
  if (text !== undefined && (source.readsText === true || trail !== undefined) && mentionsKnownLesion(text))
    found.mentions.push({ resource, element, rung })
  if (isKnown) return
  survey?.missed(element, concept, patient)
  // Words alone leave nothing open where they have been read.
  const isRead = text !== undefined && asObjects(coding).length === 0 && source.readsText === true
  if (!isRead) found.isOpen = true
}

function readReference(
  reference: Json,
  place: Place,
  found: StatedReasons,
  examination: Examination,
  reading: Reading,
): void {
  const { resource, element } = place
  const { asOf, resources, survey } = reading
  const target = containedIn(resource, reference) ?? resources.at(referenceKey(reference))
  if (target === undefined) {
    found.isOpen = true
    if (reference.reference !== undefined) survey?.deadEnd(element, resource)
    else survey?.missedText(element, reference.display, examination.patient)
    return
  }
  if (isVoid(target) || !isKnownBy(target.recordedDate ?? target.issued, asOf, examination.zone)) return
  const there: Place = { resource: target, rung: 'direct reference', element: `${String(target.resourceType)}.code` }
  if (target.status === 'stopped' && isEarlierColonoscopy(target, examination, reading)) {
    found.particulars.push({ ...there, particular: 'after-incomplete-examination', element: 'Procedure.status' })
    return
  }
  if (target.resourceType !== 'Observation') {
    readConcept(asObject(target.code) ?? {}, there, found, examination, reading)
    return
  }
  const told = reasonOfTest(target, reading.codes)
  if (told === 'none') return
  if (told === undefined) {
    found.isOpen = true
    survey?.missed(`${element} (Observation)`, target.valueCodeableConcept ?? target.code, examination.patient)
    return
  }
  found.reasons.push({ ...there, reason: told })
  takeParticulars(asObject(target.valueCodeableConcept) ?? asObject(target.code) ?? {}, there, found, reading.codes)
  if (told === 'positive-screening-test') found.tests.push(target)
}

const isEarlierColonoscopy = (procedure: Json, examination: Examination, { codes }: Reading): boolean =>
  procedure.resourceType === 'Procedure' &&
  codes.in(procedure.code, 'colonoscopy') &&
  timingOf(writtenStart(procedure), undefined, examination) === 'before'

/** Entered by mistake. A diagnosis refuted since was nevertheless the reason, and stays one. */
const isVoid = ({ status, verificationStatus }: Json): boolean =>
  status === 'entered-in-error' ||
  status === 'cancelled' ||
  asObjects(asObject(verificationStatus)?.coding).some(({ code }) => code === 'entered-in-error')
