import { asOfInstant } from './as-of.ts'
import type { Source } from './config.ts'
import type { Configuration } from './env.ts'
import { ReportableError } from './errors.ts'
import type { EvaluateRequest } from './evaluate-request.ts'
import { civilDate } from './fhir/dates.ts'
import type { LeftOut } from './linkage/context.ts'
import { linkWindow } from './linkage/link.ts'
import { compileMeasure } from './measures/compiled-measure.ts'
import type { Definitions } from './measures/definitions.ts'
import { monthsOf } from './months.ts'
import type { FetchSource } from './source/connection.ts'
import { pullWindow } from './source/pull-window.ts'
import { pullNeeds, sourceCodes } from './source/source-codes.ts'
import { type AnswerRow, answerRow } from './tally/answer-row.ts'
import { leftOutCounts } from './tally/left-out-counts.ts'
import type { MeasureResult } from './tally/result.ts'
import { tally } from './tally/tally.ts'

/** What the flow takes from outside. */
export interface EvaluateDependencies {
  readonly definitions: Definitions
  readonly fetchSource: FetchSource
  /** The present. */
  readonly now: () => Date
}

interface Gathered {
  readonly rows: AnswerRow[]
  readonly leftOut: Map<string, LeftOut>
  readonly incomplete: Set<string>
  /** Keys of each practitioner reference, over all sources. */
  readonly people: Map<string, Set<string>>
}

/**
 * The whole flow, source → linkage → record → criteria → answers → counts: one question over one period. Windows are
 * calendar months, read one after the other, so that no more than a month of resources is held at a time.
 *
 * @throws {ReportableError} for a concept map that leads nowhere, an unknown unit, an unknown or ambiguous practitioner, or a
 *   source that fails
 */
export async function evaluate(
  request: EvaluateRequest,
  { sources, asOf: configuredAsOf }: Configuration,
  { definitions, fetchSource, now }: EvaluateDependencies,
): Promise<MeasureResult> {
  const unit = sources.flatMap(({ units }) => units).find(({ id }) => id === request.unit)
  if (request.unit !== undefined && unit === undefined)
    throw new ReportableError('unknown-unit', `No unit ${request.unit} is configured. Known: ${knownUnits(sources)}.`)
  if (request.practitioner !== undefined && request.measure.attribution === 'unit-only')
    throw new ReportableError(
      'not-supported',
      `${request.measure.id} counts for units only: no figure of a person is made. Leave practitioner out.`,
    )
  const zone = sources[0]?.zone ?? 'UTC'
  const asOf = asOfInstant(request.asOf, configuredAsOf, now(), zone)
  const measure = compileMeasure(request.measure)
  const gathered: Gathered = { rows: [], leftOut: new Map(), incomplete: new Set(), people: new Map() }

  for (const source of sources) {
    const codes = sourceCodes(definitions.resources, source)
    const need = pullNeeds(codes)
    for (const window of monthsOf(request.period)) {
      const { resources, incomplete } = await pullWindow(source, window, need, fetchSource)
      const linked = linkWindow(resources, { source, codes, window, period: request.period, asOf })
      for (const colonoscopy of linked.colonoscopies)
        gathered.rows.push(answerRow(colonoscopy, [measure], source, asOf))
      for (const one of linked.leftOut) gathered.leftOut.set(`${source.id}/${one.reference}`, one)
      for (const sentence of incomplete) gathered.incomplete.add(sentence)
      for (const [reference, key] of linked.people) {
        const keys = gathered.people.get(reference) ?? new Set()
        gathered.people.set(reference, keys.add(key))
      }
    }
  }

  const practitioner = request.practitioner === undefined ? undefined : practitionerKey(request.practitioner, gathered)
  const result = tally(
    {
      measure: request.measure,
      index: 0,
      period: request.period,
      asOf: new Date(asOf).toISOString(),
      asOfDate: sources.map((source) => civilDate(asOf, source.zone)).sort()[0] ?? civilDate(asOf, zone),
      ...(unit && { unit }),
      ...(practitioner !== undefined && { practitioner }),
    },
    gathered.rows,
    sources,
  )
  return { ...result, leftOut: leftOutCounts(gathered.leftOut.values()), incomplete: [...gathered.incomplete].sort() }
}

const knownUnits = (sources: readonly Source[]): string =>
  sources.flatMap(({ units }) => units.map(({ id }) => id)).join(', ') || 'none'

/**
 * Key of the practitioner a caller named by `Practitioner/id` or `system|value`.
 *
 * @throws {ReportableError} when nobody of the period, or several people, answer to it
 */
function practitionerKey(asked: string, { rows, people }: Gathered): string {
  if (rows.some(({ operator, supervisor }) => operator === asked || supervisor === asked)) return asked
  const keys = [...(people.get(asked) ?? [])]
  if (keys.length === 1 && keys[0] !== undefined) return keys[0]
  if (keys.length > 1)
    throw new ReportableError(
      'ambiguous-practitioner',
      `${asked} means ${keys.length} different people in the configured sources. Name one by identifier system and value: practitioner=system|value.`,
    )
  if ([...people.values()].some((known) => known.has(asked))) return asked
  throw new ReportableError(
    'unknown-practitioner',
    `No examination of this period is known of ${asked}. Name a practitioner as Practitioner/id or as system|value.`,
  )
}
