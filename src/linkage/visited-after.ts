import { daysBetween, isKnownBy, type Moment, readMoment, spanOf } from '../fhir/dates.ts'
import type { Examination } from './examinations.ts'

/** Days after an examination within which a visit belongs to it. */
const visitDays = 30

interface VisitedAfter {
  /** The one examination that it certainly came after, and within the days. */
  readonly after: Examination | undefined
  /** Every examination that it may belong to. */
  readonly may: readonly Examination[]
  /** Days from that examination; absent where either date is too coarse. */
  readonly day: number | undefined
}

const nowhere: VisitedAfter = { after: undefined, may: [], day: undefined }

/**
 * The patient's latest examination before something began, if it was at most 30 days ago. On the day of the examination itself
 * the clock decides; without it nothing does.
 *
 * @param start FHIR dateTime as written; what began after the as-of instant has not begun
 */
export function visitedAfter(start: unknown, examinations: readonly Examination[], asOf: number): VisitedAfter {
  const zone = examinations[0]?.zone ?? 'UTC'
  if (readMoment(start, zone) === undefined) return { after: undefined, may: examinations, day: undefined }
  if (!isKnownBy(start, asOf, zone)) return nowhere
  const candidates = examinations.flatMap((examination) => {
    const came = cameAfter(examination, readMoment(start, examination.zone))
    return came !== undefined && came.earliest <= visitDays ? [{ examination, ...came }] : []
  })
  // Whatever certainly came before one that certainly came before the visit is not the latest.
  const latest = candidates.filter(
    (one) =>
      !candidates.some((other) => other.isCertain && one !== other && isBefore(one.examination, other.examination)),
  )
  const may = latest.map(({ examination }) => examination)
  const [only] = latest
  if (only === undefined || latest.length > 1 || !only.isCertain || only.latest > visitDays)
    return { after: undefined, may, day: undefined }
  return { after: only.examination, may, day: only.earliest === only.latest ? only.earliest : undefined }
}

/** Fewest and most days after an examination; undefined for what certainly did not come after it. */
function cameAfter({ span, start }: Examination, moment: Moment | undefined) {
  if (moment === undefined) return undefined
  const { first, last } = spanOf(moment)
  if (last < span.first) return undefined
  const sameDay = first === last && span.first === span.last && first === span.first
  const byClock =
    sameDay && start !== undefined && moment.instant !== undefined ? Math.sign(moment.instant - start) : undefined
  if (byClock === -1) return undefined
  return {
    isCertain: byClock === 1 || first > span.last,
    earliest: Math.max(0, daysBetween(span.last, first)),
    latest: daysBetween(span.first, last),
  }
}

const isBefore = (one: Examination, other: Examination): boolean =>
  one.span.last < other.span.first ||
  (one.date === other.date && one.start !== undefined && other.start !== undefined && one.start < other.start)
