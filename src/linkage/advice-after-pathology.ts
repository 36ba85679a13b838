import { type Moment, readMoment } from '../fhir/dates.ts'
import type { Json } from '../fhir/json.ts'
import type { Colonoscopy } from '../record/colonoscopy.ts'
import type { Examination } from './examinations.ts'
import type { Histology } from './histology.ts'
import { isLater, type Stated } from './stated-advice.ts'

/** The latest advice, and what it advises where that is one thing. */
export interface LatestAdvice {
  readonly advice: Colonoscopy['advice']
  readonly latest: readonly Stated<unknown>[]
}

/**
 * Whether the latest signed advice was given when pathology was final: not before any final report that stands. Where no
 * pathology was sent there was none to wait for. Not recorded while pathology is open, where it never came, without signed advice,
 * and where dates cannot decide: on one day only times can.
 */
export function readAdviceAfterPathology(
  { trail, zone, span, all }: Examination,
  { advice, latest }: LatestAdvice,
  pathology: Colonoscopy['pathology'],
  { readings }: Histology,
): boolean | undefined {
  const field = 'adviceAfterPathology'
  if (advice === undefined) return undefined
  if (pathology === 'not-sent') {
    trail?.note(field, undefined, 'inferred from pathology', 'DiagnosticReport')
    return true
  }
  if (pathology !== 'final' && pathology !== 'unreadable') return undefined
  // Advice in the procedure itself has the date of the examination, which may be no more than a month.
  const isDated = span.first === span.last || latest.every(({ resource }) => !all.includes(resource))
  const reports = [...new Set(readings.map(({ report }) => report))]
  const issued = reports.map((report) => ({ report, signed: issuedOf(report, zone) }))
  if (!isDated || issued.length === 0) return undefined
  for (const { report, signed } of issued)
    if (signed?.date === undefined) trail?.cannotRead(field, report, issuedElement(report))
  const isNewer = issued.every((report) => latest.every((one) => isNotBefore(one, report)))
  const undated = isNewer ? [] : latest.filter((one) => !isSigned(one))
  for (const { resource } of undated) trail?.cannotRead(field, resource, signedElement(resource))
  const isOlder = undated.length === 0 && issued.some((report) => latest.every((one) => isLater(report, one)))
  if (!isOlder && !isNewer) return undefined
  for (const { report } of issued) trail?.note(field, report, 'inferred from pathology', issuedElement(report))
  return isNewer
}

const issuedOf = ({ issued, effectiveDateTime }: Json, zone: string): Moment | undefined =>
  readMoment(issued ?? effectiveDateTime, zone)

const issuedElement = ({ issued, effectiveDateTime }: Json): string =>
  issued === undefined && effectiveDateTime !== undefined
    ? 'DiagnosticReport.effectiveDateTime'
    : 'DiagnosticReport.issued'

/** What an observation is of lies before its signing: without that date it may have been signed at any time since. */
const isSigned = ({ resource, signed }: Stated<unknown>): boolean =>
  signed?.date !== undefined && (resource.resourceType !== 'Observation' || resource.issued !== undefined)

const signedElement = ({ resourceType }: Json): string =>
  resourceType === 'ServiceRequest' ? 'ServiceRequest.authoredOn' : 'Observation.issued'

interface Signed {
  readonly signed: Moment | undefined
}

/** Whether one is certainly not before another: by time where both have one, else of a later day. */
function isNotBefore(one: Signed, other: Signed): boolean {
  const [mine, theirs] = [one.signed?.instant, other.signed?.instant]
  return isLater(one, other) || (mine !== undefined && mine === theirs)
}
