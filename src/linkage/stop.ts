import type { Json } from '../fhir/json.ts'
import type { Colonoscopy } from '../record/colonoscopy.ts'
import { course } from '../record/course.ts'
import { isWord } from '../record/words.ts'
import type { Examination } from './examinations.ts'
import type { Reading, Told } from './reading.ts'
import { type Statement, settle, stated } from './settle.ts'

type StopReason = NonNullable<Colonoscopy['stopReason']>

/** What the examination's procedures say of its end. */
export interface Stopped {
  /** Resource whose status says stopped. */
  readonly stoppedBy: Json | undefined
  readonly reason: StopReason | undefined
  /** Resource whose reason says that the instrument was never inserted. */
  readonly notInserted: Json | undefined
}

/** Whether it was stopped, by which resource, and the reason that is stated; two different reasons are none. */
export function readStop(examination: Examination, reading: Reading): Stopped {
  let stoppedBy: Json | undefined
  let notInserted: Json | undefined
  let reasons: Statement<StopReason>[] | undefined
  for (const procedure of examination.all) {
    const { status, statusReason } = procedure
    if (status === 'stopped') stoppedBy ??= procedure
    if (statusReason === undefined) continue
    const code = reading.codes.of(statusReason)
    const word = code.words.get('stop-reason') ?? code.fact
    const told: Told = { resource: procedure, holder: procedure, code, rung: 'own element' }
    if (word === 'not-inserted') notInserted ??= procedure
    else if (isWord(word, course.stopReason.values)) reasons = stated(reasons, word, told, 'Procedure.statusReason')
    else if (status === 'stopped') {
      examination.trail?.cannotRead('stopReason', procedure, 'Procedure.statusReason')
      reading.survey?.missed('Procedure.statusReason', statusReason, examination.patient)
    }
  }
  return {
    stoppedBy,
    notInserted,
    reason: stoppedBy === undefined ? undefined : settle('stopReason', reasons, examination),
  }
}
