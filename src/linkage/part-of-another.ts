import { spanOf } from '../fhir/dates.ts'
import { keysAt } from '../fhir/references.ts'
import { beganAt, type Candidate, isCoarse, isKnown, lastDayOf, refusalOf } from './candidates.ts'
import type { LinkContext } from './context.ts'

/**
 * The candidates that are part of another colonoscopy: a polypectomy may carry a colonoscopy's code of its own. What it names
 * must itself count, and be of the same patient and day; what is part of nothing but itself, of something that does not count
 * or of another day stands on its own.
 */
export function partsOfOthers(candidates: readonly Candidate[], { asOf, period, window }: LinkContext): Set<Candidate> {
  const parts = new Set<Candidate>()
  const naming = candidates.filter(({ procedure }) => procedure.partOf !== undefined)
  if (naming.length === 0) return parts
  const { start, end } = period ?? window
  const byKey = new Map(candidates.map((one) => [one.key, one]))
  const counts = (one: Candidate): boolean =>
    one.span !== undefined &&
    (!isCoarse(one.span) || (one.span.first >= start && one.span.last <= end)) &&
    refusalOf(one) === undefined &&
    isKnown(one, asOf)
  const wholes = new Map<Candidate, Candidate[]>()
  for (const one of naming) {
    const named = keysAt([one.procedure], 'partOf').flatMap((key) => byKey.get(key) ?? [])
    const found = named.filter((other) => other !== one && counts(other) && isOfDay(one, other))
    if (found.length > 0) wholes.set(one, found)
  }
  // Two that are part of each other are part of nothing that stands.
  const standsIn = (one: Candidate, met: Set<Candidate>): boolean =>
    (wholes.get(one) ?? []).some((whole) => {
      if (met.has(whole)) return false
      met.add(whole)
      return !wholes.has(whole) || standsIn(whole, met)
    })
  for (const one of wholes.keys()) if (standsIn(one, new Set([one]))) parts.add(one)
  return parts
}

/** Whether one may have been done to the other's patient and on its day; what has no date may have. */
function isOfDay({ procedure, patient }: Candidate, other: Candidate): boolean {
  const { span, zone, times } = other
  if (patient === undefined || patient !== other.patient || span === undefined) return false
  const moment = beganAt(procedure, zone)
  if (moment === undefined) return true
  const { first, last } = spanOf(moment)
  return first <= lastDayOf(span.last, times, zone) && last >= span.first
}
