import type { Diagnosis } from './diagnoses.ts'
import type { FoundPolyp } from './polyp.ts'
import { bySeverity, villousIn, worstGrade } from './remark.ts'

/**
 * One diagnosis is that of every polyp in the pots; several are all of the only polyp, and of several polyps nobody can say.
 *
 * @param isMore something else is said of the pots than these diagnoses
 */
export function nameHistology(inside: readonly FoundPolyp[], diagnoses: readonly Diagnosis[], isMore: boolean): void {
  if (inside.length === 0 || (inside.length > 1 && (diagnoses.length > 1 || isMore))) return
  const histology = bySeverity.find((one) => diagnoses.some((diagnosis) => diagnosis.histology === one))
  const same = diagnoses.filter((one) => one.histology === histology)
  for (const { polyp } of inside) {
    polyp.histology = histology
    polyp.dysplasia = worstGrade(same)
    polyp.villous = histology === 'conventional-adenoma' ? villousIn(same) : undefined
  }
}
