import { asObject, type Json } from '../fhir/json.ts'
import type { Colonoscopy } from '../record/colonoscopy.ts'
import type { history } from '../record/history.ts'
import { type Belief, type Beliefs, readBeliefs } from './beliefs.ts'
import { onsetOf } from './conditions.ts'
import { type Examination, sawFeed } from './examinations.ts'
import { type HistoryKind, historyKinds } from './history-kinds.ts'
import { readActivity } from './inflammatory-activity.ts'
import type { Reading } from './reading.ts'
import { resectedPart } from './resected-part.ts'
import { isOnTheDay } from './timing.ts'

type History = Pick<
  Colonoscopy,
  Exclude<keyof typeof history, 'monthsSinceLastColonoscopy' | 'lastExaminationInadequate'>
>

/**
 * What was known before the examination. A condition counts when it began or was recorded before the examination date; one
 * first recorded on the day itself was seen during the examination, not known beforehand. One whose dates cannot decide that, or
 * that nobody has confirmed, leaves the fact not recorded, unless another decides it; so do a yes and a no that stand against each other.
 *
 * @param conditions the patient's
 * @param procedures the patient's, of which a completed resection counts from its date
 */
export function readHistory(
  examination: Examination,
  conditions: readonly Json[],
  procedures: readonly Json[],
  reading: Reading,
): History {
  const isComplete = reading.complete('history')
  const beliefs = readBeliefs(examination, conditions, procedures, reading)
  const known = (field: HistoryKind['field']) => weigh(field, beliefOf(field, beliefs), isComplete, examination)
  const disease = beliefOf('inflammatoryBowelDisease', beliefs)
  const resection = beliefOf('earlierResection', beliefs)
  const inflammatoryBowelDisease = known('inflammatoryBowelDisease')
  const earlierResection = known('earlierResection')
  return {
    inflammatoryBowelDisease,
    inflammatoryBowelDiseaseActivity:
      disease && inflammatoryBowelDisease ? readActivity(disease, examination, reading) : undefined,
    inflammatoryBowelDiseaseSeen: seen(disease, isComplete, examination),
    hereditarySyndrome: known('hereditarySyndrome'),
    earlierResection,
    resectedPart: resection && earlierResection ? resectedPart(resection, examination, reading) : undefined,
    strictureKnown: known('strictureKnown'),
    severeDiverticulosis: known('severeDiverticulosis'),
    pelvicSurgeryOrRadiotherapy: known('pelvicSurgeryOrRadiotherapy'),
    earlierColorectalCancer: known('earlierColorectalCancer'),
    antithrombotics: known('antithrombotics'),
    serratedPolyposis: known('serratedPolyposis'),
    familyHistoryOfColorectalCancer: known('familyHistoryOfColorectalCancer'),
    earlierAdenoma: known('earlierAdenoma'),
  }
}

function beliefOf(field: HistoryKind['field'], beliefs: Beliefs): Belief | undefined {
  if (beliefs.size === 0) return undefined
  const kind = historyKinds.find((one) => one.field === field)
  return kind && beliefs.get(kind)
}

/** One yes makes it true, if no no stands against it; a no makes it false, if nothing is open; and so does silence in a complete feed. */
function weigh(
  field: HistoryKind['field'],
  belief: Belief | undefined,
  isComplete: boolean,
  examination: Examination,
): boolean | undefined {
  const { trail } = examination
  if (belief !== undefined) {
    const { yes, no, isOpen } = belief
    if (yes.length + no.length > 0 || isOpen) sawFeed(examination, 'history')
    if (yes.length > 0 && no.length > 0) {
      trail?.contradict('history stated both ways', ...[...yes, ...no].map(({ resource }) => resource))
      return undefined
    }
    if (yes.length > 0 || (no.length > 0 && !isOpen)) {
      for (const { resource, rung, element } of yes.length > 0 ? yes : no) trail?.note(field, resource, rung, element)
      return yes.length > 0
    }
    if (isOpen) return undefined
  }
  if (!isComplete) return undefined
  trail?.note(field, undefined, 'nothing found in a complete feed', 'Condition')
  return false
}

/**
 * Whether the disease was first recorded on the day. Not recorded where one recorded that day may have been known before, so that
 * no single resource decides between yes and no.
 */
function seen(disease: Belief | undefined, isComplete: boolean, examination: Examination): boolean | undefined {
  const { trail } = examination
  const field = 'inflammatoryBowelDiseaseSeen'
  if (disease !== undefined) {
    const { yes, notBefore, isOpen } = disease
    const conditions = [...notBefore, ...yes.map(({ resource }) => resource)]
    const [first] = conditions.filter((condition) => touchesTheDay(condition, examination))
    if (first !== undefined) {
      sawFeed(examination, 'history')
      if (yes.length > 0 || isOpen || !notBefore.some((one) => isFirstOnTheDay(one, examination))) return undefined
      trail?.note(field, first, 'record of the same patient', 'Condition.recordedDate')
      return true
    }
    if (isOpen) return undefined
  }
  if (!isComplete) return undefined
  trail?.note(field, undefined, 'nothing found in a complete feed', 'Condition')
  return false
}

const touchesTheDay = (condition: Json, examination: Examination): boolean =>
  isOnTheDay(onsetOf(condition), examination) || isOnTheDay(condition.recordedDate, examination)

/** Onset and recording are both that day, where both are written. */
function isFirstOnTheDay(condition: Json, examination: Examination): boolean {
  const onset = onsetOf(condition)
  const { recordedDate } = condition
  return (
    asObject(condition) !== undefined &&
    (onset === undefined || isOnTheDay(onset, examination)) &&
    (recordedDate === undefined || isOnTheDay(recordedDate, examination))
  )
}
