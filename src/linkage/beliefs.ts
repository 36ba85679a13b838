import { isKnownBy } from '../fhir/dates.ts'
import { asObject, asObjects, type Json } from '../fhir/json.ts'
import { type Meaning, unknownMeaning } from '../fhir/meaning.ts'
import { conditionDates } from './condition-dates.ts'
import { isRefuted, isUnconfirmed } from './conditions.ts'
import type { Examination } from './examinations.ts'
import { type HistoryKind, historyKinds, kindOfSet } from './history-kinds.ts'
import { isKnownYet } from './known.ts'
import type { Reading, Told } from './reading.ts'
import { valueElementOf } from './reading.ts'
import type { Rung } from './rungs.ts'
import { type Timing, timingOf, timingOfCondition } from './timing.ts'
import { yesOrNo } from './told-value.ts'

/** What holds a yes or a no: a resource, or an observation's component. */
export interface Evidence {
  readonly resource: Json
  readonly holder: Json
  readonly rung: Rung
  readonly element: string
}

/** All that is said of one kind of history, before any of it is weighed. */
export interface Belief {
  readonly yes: Evidence[]
  readonly no: Evidence[]
  /** Conditions of the kind that came on the examination's day or later, or may have. */
  readonly notBefore: Json[]
  /** Something of the kind is recorded, and whether it was there before cannot be told. */
  isOpen: boolean
}

export type Beliefs = ReadonlyMap<HistoryKind, Belief>

const nothingSaid: Beliefs = new Map()

const bySamePatient = 'record of the same patient'

/** Gathers what conditions, procedures and yes/no observations say of the time before an examination. */
export function readBeliefs(
  examination: Examination,
  conditions: readonly Json[],
  procedures: readonly Json[],
  reading: Reading,
): Beliefs {
  if (conditions.length + procedures.length + examination.observations.history.length === 0) return nothingSaid
  const beliefs = new Map<HistoryKind, Belief>()
  const beliefIn = (kind: HistoryKind): Belief => {
    const known = beliefs.get(kind) ?? { yes: [], no: [], notBefore: [], isOpen: false }
    beliefs.set(kind, known)
    return known
  }
  for (const condition of conditions) {
    const code = reading.codes.of(condition.code)
    // Most of a patient's conditions have nothing to do with the bowel; which of them have is for people to say.
    if (code === unknownMeaning) reading.survey?.missed('Condition.code', condition.code, examination.patient)
    for (const set of code.sets) {
      const kind = kindOfSet.get(set)
      if (kind === undefined || isRefuted(condition)) continue
      if (isKnownBy(condition.recordedDate, reading.asOf, examination.zone))
        believeCondition(condition, kind, set, beliefIn(kind), examination, reading)
    }
  }
  for (const procedure of procedures)
    for (const set of reading.codes.of(procedure.code).sets) {
      const kind = kindOfSet.get(set)
      if (kind?.byProcedure) believeProcedure(procedure, beliefIn(kind), examination)
    }
  for (const told of examination.observations.history)
    if (isKnownYet(told.resource, reading.asOf, examination.zone)) {
      const kind = historyKinds.find((one) => one.set === told.code.fact)
      if (kind !== undefined) believeObservation(told, kind, beliefIn(kind), examination, reading)
      const wider = historyKinds.find((one) => one.narrower !== undefined && one.narrower === told.code.fact)
      if (kind !== undefined && wider !== undefined) {
        const { yes } = beliefIn(kind)
        beliefIn(wider).yes.push(...yes.filter(({ holder }) => holder === told.holder))
      }
    }
  return beliefs
}

function believeCondition(
  condition: Json,
  kind: HistoryKind,
  set: string,
  belief: Belief,
  examination: Examination,
  { resources }: Reading,
): void {
  const { trail, zone, patient } = examination
  const dates = conditionDates(condition, resources.at(patient)?.birthDate, zone)
  let timing: Timing = timingOfCondition(dates, examination)
  // That it is past does not say since when.
  if (timing === 'not-before' && set === kind.pastSet) timing = 'open'
  if (timing === 'before' && kind.suspected !== true && isUnconfirmed(condition)) timing = 'open'
  if (timing === 'before' && kind.mustLast) timing = lastedUntil(condition, examination)
  if (timing === 'not-before') belief.notBefore.push(condition)
  else if (timing === 'open') {
    belief.isOpen = true
    belief.notBefore.push(condition)
    trail?.doubt('condition that does not say whether it was there before the examination', condition)
    if (dates.unread !== undefined) trail?.cannotRead(kind.field, condition, dates.unread)
  } else belief.yes.push({ resource: condition, holder: condition, rung: bySamePatient, element: 'Condition.code' })
}

/** Whether what began before still was there: `not-before` where it had ended, `open` where that cannot be told. */
function lastedUntil(condition: Json, examination: Examination): Timing {
  const { abatementDateTime, abatementPeriod, clinicalStatus } = condition
  const ended = abatementDateTime ?? asObject(abatementPeriod)?.end
  if (ended !== undefined) {
    const end = timingOf(ended, undefined, examination)
    return end === 'before' ? 'not-before' : end === 'not-before' ? 'before' : 'open'
  }
  const isOver = asObjects(asObject(clinicalStatus)?.coding).some(
    ({ code }) => code === 'inactive' || code === 'resolved' || code === 'remission',
  )
  return isOver || condition.abatementString !== undefined || condition.abatementAge !== undefined ? 'open' : 'before'
}

const neverDone: ReadonlySet<unknown> = new Set(['entered-in-error', 'not-done'])

function believeProcedure(procedure: Json, belief: Belief, examination: Examination): void {
  const { status, performedDateTime, performedPeriod } = procedure
  if (neverDone.has(status)) return
  const timing = timingOf(performedDateTime ?? asObject(performedPeriod)?.start, undefined, examination)
  if (timing === 'not-before') return
  if (timing === 'before' && status === 'completed')
    belief.yes.push({ resource: procedure, holder: procedure, rung: bySamePatient, element: 'Procedure.code' })
  else {
    belief.isOpen = true
    examination.trail?.doubt('operation that does not say whether it was done before the examination', procedure)
  }
}

/** An answer of yes or no, or a code of the kind as the value: an earlier resection that says which. */
function believeObservation(
  told: Told,
  kind: HistoryKind,
  belief: Belief,
  examination: Examination,
  reading: Reading,
): void {
  const { resource, holder, rung } = told
  const value: Meaning = reading.codes.of(holder.valueCodeableConcept)
  const answer =
    value.sets.has(kind.set) && holder.dataAbsentReason === undefined
      ? true
      : value.fact === 'none'
        ? false
        : yesOrNo(kind.field, told, examination, reading)
  if (answer === undefined) return
  const evidence: Evidence = { resource, holder, rung, element: valueElementOf(told) }
  if (answer) belief.yes.push(evidence)
  else belief.no.push(evidence)
}
