import type { Source, Unit } from '../config.ts'
import { dateOfEpochDay, epochDay } from '../fhir/dates.ts'
import type { MeasureDefinition, Stratifier } from '../measures/measure.ts'
import type { Answer } from './answer.ts'
import type { AnswerRow } from './answer-row.ts'
import { missingFeeds } from './availability.ts'
import { addDetail, addKind, type Count, emptyCount, hasDetail } from './count.ts'
import { groupResult } from './group-result.ts'
import { type Kind, kindCount, kindOf, type Standing } from './kind.ts'
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
  const isOfPeriod = ({ day }: AnswerRow) => day >= first && day <= last
  const unavailable = new Set(
    sources
      .filter((source) => {
        if (measure.needs.length === 0) return false
        const theirs = rows.filter((row) => row.source === source.id && isOfPeriod(row))
        return missingFeeds(measure, source, theirs).length > 0
      })
      .map(({ id }) => id),
  )
  const isSelected = (row: AnswerRow) =>
    isOfPeriod(row) &&
    (unit === undefined || row.unit === unit.id) &&
    (practitioner === undefined || personsOf(row, attribution).includes(practitioner))
  const selected = rows.filter(isSelected)
  const settledDay = lastSettledDay(request, selected, sources, unavailable)

  const told = tellAll(rows, index, measure.criteria.observation !== undefined, (row): Standing | undefined =>
    isSelected(row)
      ? {
          settled: settledDay !== undefined && row.day <= settledDay,
          available: !unavailable.has(row.source),
          attributed: attribution === 'unit-only' || personsOf(row, attribution).length > 0,
        }
      : undefined,
  )
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
    cases: measure.reviewList ? casesOf(rows, told, index) : [],
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

/** What rows say to one measure. */
interface Told {
  /** By row: the kind of its answer; -1 where it is not asked. */
  readonly kinds: Int16Array
  /** The kinds that there are. */
  readonly present: readonly Kind[]
  /** Answers of available sources that hold more than their kind says: values, or what is counted beside. */
  readonly details: readonly { readonly at: number; readonly answer: Answer; readonly settled: boolean }[]
}

/**
 * @param isValued the measure observes values
 * @param standingOf where the answer of a row stands; undefined where the row is not asked
 */
function tellAll(
  rows: readonly AnswerRow[],
  index: number,
  isValued: boolean,
  standingOf: (row: AnswerRow) => Standing | undefined,
): Told {
  const kinds = new Int16Array(rows.length).fill(-1)
  const present = new Set<Kind>()
  const details: { at: number; answer: Answer; settled: boolean }[] = []
  for (const [at, row] of rows.entries()) {
    const answer = row.answers[index]
    const standing = answer && standingOf(row)
    if (standing === undefined) continue
    const kind = kindOf(answer as Answer, standing)
    kinds[at] = kind
    present.add(kind)
    if (standing.available && hasDetail(answer as Answer, isValued))
      details.push({ at, answer: answer as Answer, settled: standing.settled })
  }
  return { kinds, present: [...present], details }
}

/**
 * Counts of each stratum. Answers of one kind are counted as numbers first and looked at once per stratum: there are many
 * examinations, many strata and many measures, and few kinds.
 */
function countBy(divisions: readonly Places[], told: Told, measure: MeasureDefinition): [Cell['keys'], Count][] {
  const { kinds, present, details } = told
  const width = present.length
  const columnOf = new Int16Array(kindCount)
  for (const [column, kind] of present.entries()) columnOf[kind] = column
  const all = new Map<string, [Cell['keys'], Count]>()
  for (const { strata, places } of divisions) {
    const times = new Int32Array(strata.length * width)
    for (let at = 0; at < kinds.length; at++) {
      const kind = kinds[at] ?? -1
      const place = places[at] ?? -1
      if (kind < 0 || place < 0) continue
      const cell = place * width + (columnOf[kind] ?? 0)
      times[cell] = (times[cell] ?? 0) + 1
    }
    const counts = strata.map((keys, place): Count | undefined => {
      const counted = times.subarray(place * width, (place + 1) * width)
      if (counted.every((number) => number === 0)) return undefined
      const count = countOf(all, keys, measure)
      for (const [column, number] of counted.entries()) if (number > 0) addKind(count, present[column] ?? 0, number)
      return count
    })
    for (const { at, answer, settled } of details) {
      const count = counts[places[at] ?? -1]
      if (count) addDetail(count, answer, settled)
    }
  }
  return [...all.values()]
}

/** The count of a stratum: the same one where two divisions have it. */
function countOf(all: Map<string, [Cell['keys'], Count]>, keys: Cell['keys'], measure: MeasureDefinition): Count {
  // Keys hold no line breaks, which no code, key of a person or id of a unit may have.
  const name = keys.map((key) => (key === undefined ? '' : `=${key}`)).join('\n')
  const known = all.get(name)
  if (known) return known[1]
  const count = emptyCount(measure)
  all.set(name, [keys, count])
  return count
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

/** Examinations of a review list: settled or not, and even where the measure has no rate because its feed is not complete. */
function casesOf(rows: readonly AnswerRow[], { kinds }: Told, index: number): string[] {
  return rows
    .filter(({ answers }, at) => {
      const kind = kinds[at] ?? -1
      const isFound = answers[index]?.code === 'met' || answers[index]?.alreadyMet === true
      return kind >= 0 && isFound
    })
    .sort((one, other) => one.day - other.day || (one.procedure < other.procedure ? -1 : 1))
    .map(({ source, procedure }) => `${source}/${procedure}`)
}

/**
 * Last day through which nothing is pending: the day before the first pending examination; never later than the end of the
 * period, than yesterday, or, with an event window, than the last day whose window and lag have passed.
 */
function lastSettledDay(
  { measure, index, period, asOfDate }: TallyRequest,
  rows: readonly AnswerRow[],
  sources: readonly Source[],
  unavailable: ReadonlySet<string>,
): number | undefined {
  const wait =
    measure.eventWindowDays === undefined
      ? 0
      : measure.eventWindowDays + Math.max(0, ...sources.map(({ eventLagDays }) => eventLagDays))
  let day = Math.min(epochDay(period.end), epochDay(asOfDate) - 1 - wait)
  for (const row of rows)
    if (row.answers[index]?.code === 'pending' && !unavailable.has(row.source)) day = Math.min(day, row.day - 1)
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
