import { canonicalSystem } from '../fhir/code-system-aliases.ts'
import type { Codes } from '../fhir/codes.ts'
import { holdsValue } from '../fhir/holds-value.ts'
import { asObjects, asText, type Json } from '../fhir/json.ts'
import { isWord, referralReasons } from '../record/words.ts'

const interpretationSystem = 'http://terminology.hl7.org/CodeSystem/v3-ObservationInterpretation'

/**
 * Reason that a test result states when an examination names it as its reason: by its value's code, else by its own code where
 * the result is positive. Whether a test was one of a screening programme or of somebody with symptoms is in no result: only a code
 * that says so tells.
 *
 * @returns 'none' for a negative test, which is no reason; undefined where its codes do not tell
 */
export function reasonOfTest(observation: Json, codes: Codes): (typeof referralReasons)[number] | 'none' | undefined {
  const byValue = codes.word(observation.valueCodeableConcept, 'referral-reason')
  if (isWord(byValue, referralReasons)) return byValue
  const isPositive = positive(observation)
  if (isPositive === false) return 'none'
  const byCode = codes.word(observation.code, 'referral-reason')
  return isPositive && isWord(byCode, referralReasons) ? byCode : undefined
}

/** Source of the two codes: HL7 Observation Interpretation, POS and NEG. A code without any result names what was found. */
function positive(observation: Json): boolean | undefined {
  const { interpretation, valueBoolean } = observation
  if (typeof valueBoolean === 'boolean') return valueBoolean
  for (const concept of asObjects(interpretation))
    for (const { system, code } of asObjects(concept.coding)) {
      if (canonicalSystem(asText(system) ?? '') !== interpretationSystem) continue
      if (code === 'POS' || code === 'NEG') return code === 'POS'
    }
  return holdsValue(observation) || observation.dataAbsentReason !== undefined ? undefined : true
}
