import type { Codes } from '../fhir/codes.ts'
import { asObjects, type Json } from '../fhir/json.ts'
import { referenceKey } from '../fhir/references.ts'
import type { Colonoscopy } from './colonoscopy.ts'
import type { Resources } from './context.ts'
import { type Examination, note } from './examinations.ts'
import { referralReasons } from './fields.ts'
import { isWord } from './polyps.ts'

/**
 * All stated reasons, and the one referral reason among them by the precedence in which `referralReasons` are listed. Only
 * where nothing is stated does a procedure code that itself says screening count.
 */
export function readReasons(
  examination: Examination,
  resources: Resources,
  codes: Codes,
): Pick<Colonoscopy, 'referralReason' | 'reasonCount'> {
  const stated: string[] = []
  const read = (concept: unknown) => {
    const word = codes.word(concept, 'referral-reason')
    if (isWord(word, referralReasons) && !stated.includes(word)) stated.push(word)
  }
  const readAll = (resource: Json) => {
    for (const concept of asObjects(resource.reasonCode)) read(concept)
    for (const reference of asObjects(resource.reasonReference)) read(resources.at(referenceKey(reference))?.code)
  }
  for (const procedure of examination.all) readAll(procedure)
  for (const key of examination.orders) {
    const order = resources.at(key)
    if (order) readAll(order)
  }
  const referralReason = referralReasons.find((reason) => stated.includes(reason))
  if (referralReason !== undefined) return { referralReason, reasonCount: stated.length }
  if (!examination.all.some(({ code }) => codes.in(code, 'screening-colonoscopy')))
    return { referralReason: undefined, reasonCount: undefined }
  note(examination, 'referralReason', -1, 'inferred from the procedure code')
  return { referralReason: 'screening', reasonCount: 1 }
}
