import { asObject, asObjects } from '../fhir/json.ts'
import type { Colonoscopy } from '../record/colonoscopy.ts'
import { history } from '../record/history.ts'
import { isWord } from '../record/words.ts'
import type { Belief } from './beliefs.ts'
import type { Examination } from './examinations.ts'
import { isKnownYet } from './known.ts'
import type { Reading, Told } from './reading.ts'
import { type Statement, settle, stated } from './settle.ts'
import { timingOf } from './timing.ts'
import { wordOf } from './told-value.ts'

const field = 'inflammatoryBowelDiseaseActivity'
const words = history[field].values
type Activity = NonNullable<Colonoscopy[typeof field]>

/**
 * Activity of an inflammatory bowel disease known before: from the conditions that tell of it, and from observations dated before
 * the examination. What was seen on the day is no part of what was known.
 */
export function readActivity(known: Belief, examination: Examination, reading: Reading): Colonoscopy[typeof field] {
  const { codes, survey } = reading
  let said: Statement<Activity>[] | undefined
  for (const { resource, rung } of known.yes) {
    if (resource.resourceType !== 'Condition') continue
    const told: Told = { resource, holder: resource, code: codes.of(resource.code), rung }
    const { severity, clinicalStatus } = resource
    const severe = codes.fact(severity)
    if (isWord(severe, words)) said = stated(said, severe, told, 'Condition.severity')
    else if (severity !== undefined) survey?.missed('Condition.severity', severity, examination.patient)
    const inRemission = asObjects(asObject(clinicalStatus)?.coding).some(({ code }) => code === 'remission')
    if (inRemission) said = stated(said, 'quiescent', told, 'Condition.clinicalStatus')
  }
  for (const told of examination.observations.history) {
    const { resource } = told
    if (told.code.fact !== 'inflammatory-activity' || !isKnownYet(resource, reading.asOf, examination.zone)) continue
    const when = resource.effectiveDateTime ?? asObject(resource.effectivePeriod)?.start
    const timing = timingOf(when, undefined, examination)
    if (timing === 'before') said = stated(said, wordOf(field, told, words, examination, reading), told)
    else if (timing === 'open') examination.trail?.cannotRead(field, resource, 'Observation.effective[x]')
  }
  return settle(field, said, examination)
}
