import type { Codes } from '../fhir/codes.ts'
import { asObjects } from '../fhir/json.ts'
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
  const orders = examination.orders.map((key) => resources.byKey.get(key)).filter((order) => order !== undefined)
  const stated = new Set<string>()
  for (const resource of [...examination.all, ...orders]) {
    const concepts = [
      ...asObjects(resource.reasonCode),
      ...asObjects(resource.reasonReference).map((one) => resources.byKey.get(referenceKey(one) ?? '')?.code),
    ]
    for (const concept of concepts) {
      const word = codes.word(concept, 'referral-reason')
      if (isWord(word, referralReasons)) stated.add(word)
    }
  }
  const referralReason = referralReasons.find((reason) => stated.has(reason))
  if (referralReason !== undefined) return { referralReason, reasonCount: stated.size }
  if (!examination.all.some(({ code }) => codes.in(code, 'screening-colonoscopy')))
    return { referralReason: undefined, reasonCount: undefined }
  note(examination, 'referralReason', -1, 'inferred from the procedure code')
  return { referralReason: 'screening', reasonCount: 1 }
}
