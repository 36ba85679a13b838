import type { Colonoscopy } from '../record/colonoscopy.ts'
import { comfortAndSedation } from '../record/comfort-and-sedation.ts'
import type { Examination } from './examinations.ts'
import { isKnownYet } from './known.ts'
import type { Reading } from './reading.ts'
import { type Statement, settle, stated } from './settle.ts'
import { wordOf } from './told-value.ts'

type Experience = NonNullable<Colonoscopy['patientExperience']>

/** How the examination was for the patient, by the patient's own word; of several that differ the latest final one stands. */
export function readPatientExperience(examination: Examination, reading: Reading): Experience | undefined {
  const field = 'patientExperience'
  let said: Statement<Experience>[] | undefined
  for (const told of examination.observations.people)
    if (told.code.fact === 'patient-experience' && isKnownYet(told.resource, reading.asOf, examination.zone)) {
      const word = wordOf(field, told, comfortAndSedation.patientExperience.values, examination, reading)
      said = stated(said, word, told)
    }
  return settle(field, said, examination)
}
