import type { Codes } from '../fhir/codes.ts'
import { asObjects, type Json } from '../fhir/json.ts'
import { referenceKey } from '../fhir/references.ts'
import { isRefuted } from './conditions.ts'
import type { Resources } from './context.ts'
import type { Examination } from './examinations.ts'
import type { Ladder } from './ladder.ts'
import type { Rung } from './rungs.ts'
import type { Survey } from './survey.ts'
import { type EventKind, kindsOf, onTheDay, type ToldEvent, tellsOfNoEvent } from './told-event.ts'

interface Means {
  readonly resources: Resources
  readonly codes: Codes
  readonly survey: Survey | undefined
  readonly isKnownCondition: (condition: Json) => boolean
}

/**
 * What the examinations' procedures themselves tell: complications, the conditions that detail them, reasons.
 *
 * @param told takes the complications
 */
export function readTellingProcedures(means: Means, ladder: Ladder, told: ToldEvent[]) {
  const { resources, codes } = means
  const detailed = new Map<string, Examination[]>()
  const reasons = new Map<string, Examination[]>()
  const unknown = new Set<Examination>()
  const read = (procedure: Json, examination: Examination, rung: Rung) => {
    const { complication, complicationDetail, reasonReference, basedOn } = procedure
    if (complication !== undefined)
      for (const concept of asObjects(complication)) {
        const found = kindsOf(concept, codes)
        for (const kind of found) told.push(complicationOf(procedure, kind, examination, rung))
        if (found.length > 0 || tellsOfNoEvent(concept, codes)) continue
        unknown.add(examination)
        if (examination.owned) means.survey?.missed('Procedure.complication', concept, examination.patient)
      }
    if (complicationDetail !== undefined) {
      addAll(detailed, complicationDetail, examination)
      for (const detail of asObjects(complicationDetail))
        if (!isUnderstood(detail, procedure, examination, means)) unknown.add(examination)
    }
    addAll(reasons, reasonReference, examination)
    for (const order of asObjects(basedOn))
      addAll(reasons, resources.at(referenceKey(order))?.reasonReference, examination)
  }
  for (const examination of ladder.examinations) {
    for (const procedure of examination.all) read(procedure, examination, 'own element')
    for (const { resource, rung } of examination.children) read(resource, examination, rung)
  }
  return { detailed, reasons, unknown }
}

const complicationOf = (resource: Json, kind: EventKind, examination: Examination, rung: Rung): ToldEvent => ({
  resource,
  element: 'Procedure.complication',
  kind,
  named: [examination],
  rung,
  subject: resource.subject,
  when: onTheDay([examination]),
  minor: false,
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
  if (isRefuted(condition) || !means.isKnownCondition(condition)) return true
  const { code } = condition
  if (kindsOf(code, codes).length > 0 || tellsOfNoEvent(code, codes)) return true
  survey?.missed('Condition.code (complication of a colonoscopy)', code, examination.patient)
  return false
}

function addAll(map: Map<string, Examination[]>, references: unknown, examination: Examination): void {
  if (references === undefined) return
  for (const reference of asObjects(references)) {
    const key = referenceKey(reference)
    if (key === undefined) continue
    const list = map.get(key)
    if (list === undefined) map.set(key, [examination])
    else if (!list.includes(examination)) list.push(examination)
  }
}
