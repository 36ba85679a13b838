import { readMoment } from '../fhir/dates.ts'
import { asObject, asObjects, type Json } from '../fhir/json.ts'
import { keysAt, ownKey } from '../fhir/references.ts'
import { identifiersOf } from './same-identifier.ts'

/** R4: the results, the diagnosis or the text of an earlier report are changed by these; an appended one leaves them as they are. */
export const changing: ReadonlySet<unknown> = new Set(['amended', 'corrected'])

/** Reports of which none takes the place of another. */
export interface StandingReports {
  /** The latest first. */
  readonly standing: readonly Json[]
  /** Specimens of a report; one that names none has those of the report whose place it takes. */
  readonly specimensOf: (report: Json) => readonly string[]
  /** Reports of which nobody can tell which stands in whose place. */
  readonly undecided: ReadonlySet<Json>
}

/**
 * Reports that stand: a version of a report takes the place of the one before it. Versions share an identifier; without one, a
 * report that amends or corrects takes the place of an earlier one of the same tissue, or of none, where either names no specimen
 * and only one can be meant. Pot by pot, reports that name specimens are compared where they are read.
 *
 * @param finals reports with a final status of their own
 */
export function standingReports(finals: readonly Json[]): StandingReports {
  const specimens = new Map<Json, readonly string[]>()
  const specimensOf = (report: Json) => specimens.get(report) ?? keysAt([report], 'specimen')
  const undecided = new Set<Json>()
  if (finals.length < 2) return { standing: finals, specimensOf, undecided }
  const standing: Json[] = []
  for (const report of [...finals].sort(inTime)) {
    const own = identifiersOf(report)
    const same = own.length === 0 ? [] : standing.filter((one) => sharesIdentifier(one, own))
    let earlier: readonly Json[] = []
    if (same.length > 0) {
      // What is appended may be sent without what it is appended to.
      if (report.status !== 'appended' || holdsCodes(report)) earlier = same
    } else if (changing.has(report.status)) {
      const mayBe = standing.filter((one) => mayBeVersion(one, report, specimensOf))
      if (mayBe.length > 1) for (const one of [...mayBe, report]) undecided.add(one)
      else earlier = mayBe
    }
    for (const one of earlier) {
      if (timeOf(one) === undefined && !changing.has(report.status)) undecided.add(report)
      standing.splice(standing.indexOf(one), 1)
    }
    if (specimensOf(report).length === 0 && earlier.length > 0)
      specimens.set(report, [...new Set(earlier.flatMap(specimensOf))])
    standing.push(report)
  }
  return { standing: standing.reverse(), specimensOf, undecided }
}

/** Whether a report that is not final is followed by a final one: its own version, or one of the same time or later. */
export function isFollowed(open: Json, finals: readonly Json[]): boolean {
  const own = identifiersOf(open)
  const time = timeOf(open)
  return finals.some((one) => {
    if (own.length > 0 && sharesIdentifier(one, own)) return true
    const closed = timeOf(one)
    return time !== undefined && closed !== undefined && isNotBefore(closed, time)
  })
}

const sharesIdentifier = (one: Json, identifiers: readonly string[]): boolean =>
  identifiersOf(one).some((identifier) => identifiers.includes(identifier))

const holdsCodes = ({ result, conclusionCode }: Json): boolean =>
  asObjects(result).length > 0 || asObjects(conclusionCode).length > 0

/** Whether a later report may amend an earlier one that it does not share an identifier with. */
function mayBeVersion(earlier: Json, later: Json, specimensOf: (report: Json) => readonly string[]): boolean {
  if (specimensOf(earlier).length > 0 && specimensOf(later).length > 0) return false
  const systems = new Set(identifiersOf(later).map(systemIn))
  return !identifiersOf(earlier).some((one) => systems.has(systemIn(one)))
}

const systemIn = (identifier: string): string => identifier.slice(0, identifier.lastIndexOf('|'))

interface Dated {
  readonly date: string
  readonly instant: number | undefined
}

/** When a report was issued, else what it is of; undefined where that is not known to the day. */
function timeOf({ issued, effectiveDateTime, effectivePeriod }: Json): Dated | undefined {
  const { date, instant } = readMoment(issued ?? effectiveDateTime ?? asObject(effectivePeriod)?.start, 'UTC') ?? {}
  return date === undefined ? undefined : { date, instant }
}

/** By instant where both are known, else by civil date. */
const isNotBefore = (one: Dated, other: Dated): boolean =>
  one.instant !== undefined && other.instant !== undefined ? one.instant >= other.instant : one.date >= other.date

/** The earlier first; an undated one comes before every other, unless it amends. Of one time, what amends comes last. */
function inTime(one: Json, other: Json): number {
  const [mine, theirs] = [placeInTime(one), placeInTime(other)]
  if (mine !== theirs) return mine < theirs ? -1 : 1
  const rank = (report: Json) => (changing.has(report.status) ? 1 : 0)
  return rank(one) - rank(other) || ((ownKey(one) ?? '') < (ownKey(other) ?? '') ? 1 : -1)
}

function placeInTime(report: Json): number {
  const time = timeOf(report)
  if (time === undefined) return changing.has(report.status) ? Number.POSITIVE_INFINITY : Number.NEGATIVE_INFINITY
  return time.instant ?? Date.parse(time.date)
}
