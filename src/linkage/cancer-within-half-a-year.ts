import { addDays, daysBetween, isKnownBy } from '../fhir/dates.ts'
import type { Json } from '../fhir/json.ts'
import { beganIn, conditionDates } from './condition-dates.ts'
import { isRefuted, isUnconfirmed, onsetOf } from './conditions.ts'
import { type Examination, sawFeed } from './examinations.ts'
import { presentWithinDays } from './later-cancer.ts'
import type { PathologyFacts } from './pathology-facts.ts'
import type { PolypFindings } from './polyps.ts'
import type { Reading } from './reading.ts'

const field = 'cancerWithinSixMonths'

/** What else is known of an examination when its patient's cancers are looked for. */
export interface CancerContext {
  readonly findings: PolypFindings
  readonly cancerCount: PathologyFacts['cancerCount']
  /** Civil date of the as-of instant in the unit's zone. */
  readonly asOfDate: string
}

/**
 * Whether colorectal cancer was diagnosed at the examination or within 183 days after it: by its own histology, or by a
 * confirmed condition dated then. Where a cancer was known before, a condition dated then may be of the same disease, and decides
 * nothing; nor does one that is not confirmed, or whose dates reach over either end. That there was none is known only from a
 * complete feed of cancers, once the 183 days are over.
 *
 * @param conditions of the patient
 */
export function readCancerWithinHalfAYear(
  examination: Examination,
  conditions: readonly Json[],
  { findings, cancerCount, asOfDate }: CancerContext,
  { resources, codes, asOf, complete }: Reading,
): boolean | undefined {
  const { span, zone, trail, pathologyReports } = examination
  const isInTissue = findings.polyps.some(({ polyp }) => polyp.histology === 'cancer')
  if (isInTissue || (cancerCount !== undefined && cancerCount > 0)) {
    sawFeed(examination, 'cancers')
    trail?.note(field, pathologyReports[0], 'inferred from pathology', 'DiagnosticReport.result')
    return true
  }
  const within: Json[] = []
  let isKnownBefore = false
  let isOpen = false
  for (const condition of conditions) {
    const { sets } = codes.of(condition.code)
    const isPast = sets.has('past-colorectal-cancer')
    if ((!isPast && !sets.has('colorectal-cancer')) || isRefuted(condition)) continue
    if (!isKnownBy(condition.recordedDate ?? onsetOf(condition), asOf, zone)) continue
    sawFeed(examination, 'cancers')
    const birthDate = resources.at(examination.patient)?.birthDate
    const { by, unread } = conditionDates(condition, birthDate, zone)
    const when = beganIn(condition, birthDate, zone)
    if (unread !== undefined) trail?.cannotRead(field, condition, unread)
    if (by.some(({ last }) => last < span.first)) isKnownBefore = true
    else if (when !== undefined && daysBetween(span.last, when.first) > presentWithinDays && !isPast) continue
    else if (
      isPast ||
      isUnconfirmed(condition) ||
      when === undefined ||
      when.first < span.last ||
      daysBetween(span.first, when.last) > presentWithinDays
    )
      isOpen = true
    else within.push(condition)
  }
  if (isKnownBefore && within.length > 0) return undefined
  const [first] = within
  if (first !== undefined) {
    trail?.note(field, first, 'record of the same patient', 'Condition.code')
    return true
  }
  if (isOpen || !complete('cancers') || asOfDate <= addDays(span.last, presentWithinDays)) return undefined
  trail?.note(field, undefined, 'nothing found in a complete feed', 'Condition.code')
  return false
}
