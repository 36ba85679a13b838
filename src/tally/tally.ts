import type { Source, Unit } from '../config.ts'
import { dateOfEpochDay, epochDay } from '../fhir/dates.ts'
import type { MeasureDefinition, Stratifier } from '../measures/measure.ts'
import type { Answer } from './answer.ts'
import type { AnswerRow } from './answer-row.ts'
import { missingFeeds } from './availability.ts'
import { addDetail, addKind, type Count, emptyCount } from './count.ts'
import { groupResult } from './group-result.ts'
import { type Kind, kindOf } from './kind.ts'
import type { Cell, MeasureResult, Stratum } from './result.ts'
import { DividedRows, type Places, personsOf } from './strata.ts'

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
 * Counts one measure over rows: whole, and by each of its stratifiers. Rows come in any order; every examination once.
 *
 * The report has one last settled day for all its groups, so that groups add up to the whole and are compared over the same
 * days.
 *
 * @param divided the same rows as they are divided by stratifiers: made once where several measures are counted over them
 */
export function tally(
  request: TallyRequest,
  rows: readonly AnswerRow[],
  sources: readonly Source[],
  divided: DividedRows = new DividedRows(rows),
): Omit<MeasureResult, 'leftOut' | 'incomplete'> {
  const { measure, index, period, unit, practitioner } = request
  const { attribution } = measure
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
  const isSelected = (row: AnswerRow) =>
    row.day >= first &&
    row.day <= last &&
    (unit === undefined || row.unit === unit.id) &&
    (practitioner === undefined || personsOf(row, attribution).includes(practitioner))
  const selected = inPeriod.filter(isSelected)
  const settledDay = lastSettledDay(request, selected, sources, unavailable)

  const told = rows.map((row): Told | undefined => {
    const answer = row.answers[index]
    if (answer === undefined || !isSelected(row)) return undefined
    const settled = settledDay !== undefined && row.day <= settledDay
    const available = (unavailable.get(row.source) ?? []).length === 0
    const attributed = attribution === 'unit-only' || personsOf(row, attribution).length > 0
    return { answer, settled, available, kind: kindOf(answer, { settled, available, attributed }) }
  })
  const everything = { strata: [[]], places: new Int32Array(rows.length) }
  const [whole = emptyCount(measure)] = countBy([everything], told, measure).map(([, count]) => count)
  const tooLittle = isTooLittle(whole)
  const cellsBy = (stratifier: Stratifier): Cell[] => {
    const isOfTwo = attribution === 'operator-or-supervisor-in-room' && stratifier.dimensions.includes('practitioner')
    const divisions = [
      divided.by(stratifier, attribution),
      ...(isOfTwo ? [divided.by(stratifier, attribution, 1)] : []),
    ]
    const asked = stratifier.dimensions.indexOf('practitioner')
    return countBy(divisions, told, measure)
      .filter(([keys]) => practitioner === undefined || asked < 0 || keys[asked] === practitioner)
      .sort(([one], [other]) => inOrder(one, other))
      .map(([keys, count]) => ({ keys, ...groupResult(count, measure, tooLittle) }))
  }
  const asked = new Set(selected.map(({ source }) => source))

  return {
    measure,
    period,
    asOf: request.asOf,
    ...(settledDay !== undefined && { settledThrough: dateOfEpochDay(settledDay) }),
    scope: { ...(unit && { unit }), ...(practitioner !== undefined && { practitioner }) },
    whole: groupResult(whole, measure, tooLittle),
    units: strata(cellsBy({ id: 'unit', dimensions: ['unit'] })),
    practitioners:
      attribution === 'unit-only' ? [] : strata(cellsBy({ id: 'practitioner', dimensions: ['practitioner'] })),
    divisions: measure.stratifiers
      .filter(({ dimensions: [only, ...more] }) => more.length > 0 || (only !== 'unit' && only !== 'practitioner'))
      .map((stratifier) => ({ stratifier, cells: cellsBy(stratifier) })),
    cases: measure.reviewList ? casesOf(rows, told) : [],
    eventsKnownBy:
      measure.eventWindowDays === undefined
        ? []
        : [...new Set(sources.filter(({ id }) => asked.has(id)).map(({ eventsKnownBy }) => eventsKnownBy))],
    unitNames: Object.fromEntries(sources.flatMap(({ units: list }) => list.map(({ id, name }) => [id, name]))),
  }
}

/** Cells of one dimension, each with its key. */
const strata = (cells: readonly Cell[]): Stratum[] =>
  cells.map(({ keys: [key], ...group }) => ({ ...(key !== undefined && { key }), ...group }))

/** What one row says to the measure, and where it stands in the report. */
interface Told {
  readonly answer: Answer
  readonly settled: boolean
  readonly available: boolean
  readonly kind: Kind
}

/**
 * Counts of each stratum. Examinations of one kind are counted as numbers first and looked at once per stratum: there are many
 * examinations, many strata and many measures, and few kinds.
 */
function countBy(
  divisions: readonly Places[],
  told: readonly (Told | undefined)[],
  measure: MeasureDefinition,
): [keys: Cell['keys'], count: Count][] {
  const counts = new Map<string, [Cell['keys'], Count]>()
  for (const { strata, places } of divisions) {
    const kinds = new Map<Kind, Int32Array>()
    const held: (Count | undefined)[] = []
    const countAt = (place: number): Count => {
      const known = held[place]
      if (known) return known
      const keys = strata[place] ?? []
      const name = JSON.stringify(keys.map((key) => key ?? null))
      const [, count] = counts.get(name) ?? counts.set(name, [keys, emptyCount(measure)]).get(name) ?? []
      const made = count ?? emptyCount(measure)
      held[place] = made
      return made
    }
    for (const [at, one] of told.entries()) {
      const place = places[at] ?? -1
      if (one === undefined || place < 0) continue
      const { kind, answer, available, settled } = one
      let times = kinds.get(kind)
      if (times === undefined) {
        times = new Int32Array(strata.length)
        kinds.set(kind, times)
      }
      times[place] = (times[place] ?? 0) + 1
      if (available && (measure.criteria.observation !== undefined || answer.besides !== undefined))
        addDetail(countAt(place), answer, settled)
    }
    for (const [kind, times] of kinds)
      for (const [place, number] of times.entries()) if (number > 0) addKind(countAt(place), kind, number)
  }
  return [...counts.values()]
}

/** By keys, in the order of the dimensions; what has no key last. */
function inOrder(one: Cell['keys'], other: Cell['keys']): number {
  for (const [at, key] of one.entries()) {
    const against = other[at]
    if (key === against) continue
    return key === undefined ? 1 : against === undefined ? -1 : key < against ? -1 : 1
  }
  return 0
}

/** Examinations of a review list: settled or not, whatever the measure has found. */
const casesOf = (rows: readonly AnswerRow[], told: readonly (Told | undefined)[]): string[] =>
  rows
    .filter((_, at) => {
      const one = told[at]
      return one?.available && (one.answer.code === 'met' || one.answer.alreadyMet === true)
    })
    .sort((one, other) => one.day - other.day || (one.procedure < other.procedure ? -1 : 1))
    .map(({ source, procedure }) => `${source}/${procedure}`)

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
