import type { Source, Unit } from '../config.ts'
import { dateOfEpochDay, epochDay } from '../fhir/dates.ts'
import type { MeasureDefinition } from '../measures/measure.ts'
import type { AnswerRow } from './answer-row.ts'
import { missingFeeds } from './availability.ts'
import { add, addCount, type Count, emptyCount } from './count.ts'
import { groupResult } from './group-result.ts'
import type { MeasureResult, Stratum } from './result.ts'

export interface TallyRequest {
  readonly measure: MeasureDefinition
  /** Place of the measure among the answers of each row. */
  readonly index: number
  readonly period: { readonly start: string; readonly end: string }
  /** Instant as of which the rows were answered. */
  readonly asOf: string
  /** Civil date of that instant in the sources' zone; with several zones, the earliest. */
  readonly asOfDate: string
  readonly unit?: Unit
  readonly practitioner?: string
}

/**
 * Counts one measure over rows: whole, by unit and by practitioner. Rows come in any order; every examination once.
 *
 * The report has one last settled day for all its groups, so that groups add up to the whole and are compared over the same
 * days.
 */
export function tally(
  request: TallyRequest,
  rows: readonly AnswerRow[],
  sources: readonly Source[],
): Omit<MeasureResult, 'leftOut' | 'incomplete'> {
  const { measure, index, period, unit, practitioner } = request
  const first = epochDay(period.start)
  const last = epochDay(period.end)
  const inPeriod = rows.filter(({ day }) => day >= first && day <= last)
  const unavailable = new Map(
    sources.map((source) => [
      source.id,
      missingFeeds(
        measure,
        source,
        inPeriod.filter((row) => row.source === source.id),
      ),
    ]),
  )
  const selected = inPeriod.filter(
    (row) =>
      (unit === undefined || row.unit === unit.id) && (practitioner === undefined || row.operator === practitioner),
  )
  const settledDay = lastSettledDay(request, selected, sources, unavailable)

  // Each examination is counted once, in the cell of its unit and operator; everything else is sums of cells.
  const cells = new Map<string | undefined, Map<string | undefined, Count>>()
  for (const row of selected) {
    const answer = row.answers[index]
    if (answer === undefined) continue
    const settled = settledDay !== undefined && row.day <= settledDay
    const available = (unavailable.get(row.source) ?? []).length === 0
    add(cellFor(cells, row), answer, row, measure, settled, available)
  }
  const whole = emptyCount()
  const units = new Map<string | undefined, Count>()
  const practitioners = new Map<string | undefined, Count>()
  for (const [unitKey, byOperator] of cells)
    for (const [operator, count] of byOperator)
      for (const sum of [whole, countFor(units, unitKey), countFor(practitioners, operator)]) addCount(sum, count)
  const tooLittle = isTooLittle(whole)
  const strata = (counts: Map<string | undefined, Count>): Stratum[] =>
    [...counts]
      .sort(([one], [other]) => (one === undefined ? 1 : other === undefined ? -1 : one < other ? -1 : 1))
      .map(([key, count]) => ({ ...(key !== undefined && { key }), ...groupResult(count, measure, tooLittle) }))
  const asked = new Set(selected.map(({ source }) => source))

  return {
    measure,
    period,
    asOf: request.asOf,
    ...(settledDay !== undefined && { settledThrough: dateOfEpochDay(settledDay) }),
    scope: { ...(unit && { unit }), ...(practitioner !== undefined && { practitioner }) },
    whole: groupResult(whole, measure, tooLittle),
    units: strata(units),
    practitioners: strata(practitioners),
    eventsKnownBy:
      measure.eventWindowDays === undefined
        ? []
        : [...new Set(sources.filter(({ id }) => asked.has(id)).map(({ eventsKnownBy }) => eventsKnownBy))],
    unitNames: Object.fromEntries(sources.flatMap(({ units: list }) => list.map(({ id, name }) => [id, name]))),
  }
}

function cellFor(cells: Map<string | undefined, Map<string | undefined, Count>>, { unit, operator }: AnswerRow): Count {
  let byOperator = cells.get(unit)
  if (byOperator === undefined) {
    byOperator = new Map()
    cells.set(unit, byOperator)
  }
  return countFor(byOperator, operator)
}

function countFor(counts: Map<string | undefined, Count>, key: string | undefined): Count {
  const known = counts.get(key)
  if (known) return known
  const count = emptyCount()
  counts.set(key, count)
  return count
}

/**
 * Last day through which nothing is pending: the day before the first pending examination; never later than the end of the
 * period, than yesterday, or, with an event window, than the last day whose window and lag have passed.
 */
function lastSettledDay(
  { measure, index, period, asOfDate }: TallyRequest,
  rows: readonly AnswerRow[],
  sources: readonly Source[],
  unavailable: ReadonlyMap<string, readonly string[]>,
): number | undefined {
  const wait =
    measure.eventWindowDays === undefined
      ? 0
      : measure.eventWindowDays + Math.max(0, ...sources.map(({ eventLagDays }) => eventLagDays))
  let day = Math.min(epochDay(period.end), epochDay(asOfDate) - 1 - wait)
  for (const row of rows)
    if (row.answers[index]?.code === 'pending' && (unavailable.get(row.source) ?? []).length === 0)
      day = Math.min(day, row.day - 1)
  return day >= epochDay(period.start) ? day : undefined
}

/**
 * Whether settled days hold less than half of the period's eligible examinations. Such a handful is no picture of the period:
 * a single early event among three settled examinations would read as a third.
 */
function isTooLittle({ met, notMet, apart }: Count): boolean {
  const settled = met + notMet + (apart['not-recorded'] ?? 0)
  const later =
    (apart['later-met'] ?? 0) +
    (apart['later-not-met'] ?? 0) +
    (apart['later-not-recorded'] ?? 0) +
    (apart.pending ?? 0)
  return settled < later
}
