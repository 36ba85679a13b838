import { Codes } from '../../src/fhir/codes.ts'
import { asObject, type Json } from '../../src/fhir/json.ts'
import type { Examination } from '../../src/linkage/examinations.ts'
import { findExaminations } from '../../src/linkage/examinations.ts'
import { gather } from '../../src/linkage/gather.ts'
import { Ladder } from '../../src/linkage/ladder.ts'
import { patientKeys } from '../../src/linkage/patients.ts'
import { type PersonKey, personKeys } from '../../src/linkage/person-key.ts'
import { type Reading, readingOf } from '../../src/linkage/reading.ts'
import { Survey } from '../../src/linkage/survey.ts'
import type { Trail } from '../../src/linkage/trail.ts'
import { definitions } from '../stories/ask.ts'
import { northmoor } from '../stories/northmoor.ts'

const codesOf = new WeakMap<object, Codes>()

export interface OneExamination {
  readonly examination: Examination
  readonly reading: Reading
  readonly survey: Survey
  readonly trail: Trail
  readonly personKey: PersonKey
  readonly conditions: readonly Json[]
  readonly procedures: readonly Json[]
}

/** The only examination of some resources, gathered and surveyed, for a reader to be asked about. */
export function oneExamination(resources: readonly unknown[], source = northmoor, asOf = '2027-01-01'): OneExamination {
  const codes = codesOf.get(source.conceptMaps) ?? new Codes(definitions.resources, source.conceptMaps)
  codesOf.set(source.conceptMaps, codes)
  const survey = new Survey()
  const instant = Date.parse(`${asOf}T20:00:00Z`)
  const window = { start: '2020-01-01', end: '2030-12-31' }
  const context = { source, codes, window, asOf: instant, survey }
  const reading = readingOf(resources, context)
  const { resources: found } = reading
  const patientKey = patientKeys(found)
  const { examinations } = findExaminations(reading, patientKey, context)
  gather(reading, new Ladder(examinations), patientKey)
  const [examination, ...more] = examinations
  if (examination?.trail === undefined || more.length > 0)
    throw new Error(`one examination expected, ${examinations.length} found`)
  return {
    examination,
    reading,
    survey,
    trail: examination.trail,
    personKey: personKeys(found, source),
    conditions: found.ofType('Condition'),
    procedures: found.ofType('Procedure').filter(({ id }) => asObject(examination.lead)?.id !== id),
  }
}
