import type { Codes } from '../fhir/codes.ts'
import { asObjects, type Json } from '../fhir/json.ts'
import { ownKey, referenceKey } from '../fhir/references.ts'
import { isRefuted } from './conditions.ts'
import type { Resources } from './context.ts'
import type { Examination } from './examinations.ts'
import type { Ladder } from './ladder.ts'
import type { Performed } from './reading.ts'
import type { Rung } from './rungs.ts'
import type { Survey } from './survey.ts'
import { meantBy } from './suspects.ts'
import { type EventKind, kindsOf, onTheDay, type ToldEvent, tellsOfNoEvent } from './told-event.ts'

interface Means {
  readonly resources: Resources
  readonly procedures: readonly Performed[]
  readonly codes: Codes
  readonly survey: Survey | undefined
  readonly isKnownCondition: (condition: Json, zone: string) => boolean
}

export interface ToldByProcedures {
  /** Examinations of which a condition, by its key, details a complication. */
  readonly detailed: ReadonlyMap<string, readonly Examination[]>
  /** Conditions, by their keys, that detail a complication of another procedure, or of one of which nobody can tell what it is. */
  readonly elsewhere: ReadonlyMap<string, 'another' | 'unclear'>
  /** Examinations that were done for a condition, by its key. */
  readonly reasons: ReadonlyMap<string, readonly Examination[]>
  /** Examinations that were done for an event of a kind, by the code of a reason. */
  readonly reasonKinds: ReadonlyMap<EventKind, readonly Examination[]>
}

/**
 * What procedures themselves tell: complications, the conditions that detail them, reasons.
 *
 * @param told takes the complications of the examinations
 */
export function readTellingProcedures(means: Means, ladder: Ladder, told: ToldEvent[]): ToldByProcedures {
  const { resources, procedures, codes } = means
  const detailed = new Map<string, Examination[]>()
  const elsewhere = new Map<string, 'another' | 'unclear'>()
  const reasons = new Map<string, Examination[]>()
  const reasonKinds = new Map<EventKind, Examination[]>()
  const readReasons = ({ reasonCode, reasonReference }: Json, examination: Examination) => {
    if (reasonCode !== undefined)
      for (const concept of asObjects(reasonCode))
        for (const kind of kindsOf(concept, codes)) add(reasonKinds, kind, examination)
    addAll(reasons, reasonReference, examination)
  }
  const read = (procedure: Json, examination: Examination, rung: Rung) => {
    const { complication, complicationDetail, basedOn } = procedure
    if (complication !== undefined)
      for (const concept of asObjects(complication)) {
        const found = kindsOf(concept, codes)
        for (const kind of found) told.push(complicationOf(procedure, kind, examination, rung))
        if (found.length > 0 || tellsOfNoEvent(concept, codes)) continue
        told.push(complicationOf(procedure, undefined, examination, rung))
        if (examination.owned) means.survey?.missed('Procedure.complication', concept, examination.patient)
      }
    if (complicationDetail !== undefined) {
      addAll(detailed, complicationDetail, examination)
      for (const detail of asObjects(complicationDetail))
        if (!isUnderstood(detail, procedure, examination, means))
          told.push(complicationOf(procedure, undefined, examination, rung))
    }
    readReasons(procedure, examination)
    if (basedOn !== undefined)
      for (const order of asObjects(basedOn)) readReasons(resources.at(referenceKey(order)) ?? {}, examination)
  }
  for (const examination of ladder.examinations) {
    for (const procedure of examination.all) read(procedure, examination, 'own element')
    for (const { resource, rung } of examination.children) read(resource, examination, rung)
  }
  for (const { resource: procedure } of procedures) {
    if (procedure.complicationDetail === undefined || ladder.direct(ownKey(procedure)) !== undefined) continue
    const meant = meantBy(procedure, { resources, codes, ladder })
    for (const detail of asObjects(procedure.complicationDetail)) {
      const key = referenceKey(detail)
      if (key === undefined) continue
      // What is part of an examination, and is not known to have been done, still tells of it.
      if (typeof meant === 'object') add(detailed, key, meant)
      else if (elsewhere.get(key) !== 'unclear') elsewhere.set(key, meant)
    }
  }
  return { detailed, elsewhere, reasons, reasonKinds }
}

const complicationOf = (
  resource: Json,
  kind: EventKind | undefined,
  examination: Examination,
  rung: Rung,
): ToldEvent => ({
  resource,
  element: 'Procedure.complication',
  kind,
  named: [examination],
  other: undefined,
  rung,
  subject: resource.subject,
  encounter: undefined,
  when: onTheDay([examination]),
  minor: false,
  isSuspicion: false,
  severity: undefined,
  reasonFor: [],
})

/**
 * Whether what a detail of a complication leads to can be told: a condition whose kind we know, or one that was ruled out or is
 * not known yet. What cannot be told is listed.
 */
function isUnderstood(detail: Json, procedure: Json, examination: Examination, means: Means): boolean {
  const { resources, codes } = means
  const survey = examination.owned ? means.survey : undefined
  const condition = resources.at(referenceKey(detail))
  if (condition === undefined) {
    if (detail.reference === undefined)
      survey?.missedText('Procedure.complicationDetail.display', detail.display, examination.patient)
    else survey?.deadEnd('Procedure.complicationDetail', procedure)
    return false
  }
  if (isRefuted(condition) || !means.isKnownCondition(condition, examination.zone)) return true
  const { code } = condition
  if (kindsOf(code, codes).length > 0 || tellsOfNoEvent(code, codes)) return true
  survey?.missed('Condition.code (complication of a colonoscopy)', code, examination.patient)
  return false
}

function addAll(map: Map<string, Examination[]>, references: unknown, examination: Examination): void {
  if (references === undefined) return
  for (const reference of asObjects(references)) {
    const key = referenceKey(reference)
    if (key !== undefined) add(map, key, examination)
  }
}

function add<Key>(map: Map<Key, Examination[]>, key: Key, examination: Examination): void {
  const list = map.get(key)
  if (list === undefined) map.set(key, [examination])
  else if (!list.includes(examination)) list.push(examination)
}
