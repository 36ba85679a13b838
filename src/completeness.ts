import { asOfInstant } from './as-of.ts'
import type { Configuration } from './env.ts'
import type { EvaluateDependencies } from './evaluate.ts'
import { linkWindow } from './linkage/link.ts'
import { monthsOf } from './months.ts'
import type { Colonoscopy, Polyp } from './record/colonoscopy.ts'
import { pullWindow } from './source/pull-window.ts'
import { pullNeeds, sourceCodes } from './source/source-codes.ts'

/** How often one fact is recorded. */
export interface FieldCompleteness {
  /** Name of the fact; `polyps.site` for one of each polyp. */
  readonly field: string
  readonly recorded: number
  /** Examinations, or polyps, of which it could be recorded. */
  readonly of: number
}

export interface Completeness {
  readonly period: { readonly start: string; readonly end: string }
  readonly examinations: number
  readonly fields: readonly FieldCompleteness[]
}

/**
 * How complete some facts are in the records of every configured source over a period.
 *
 * @param fields names of facts, as the criteria of a measure list them
 * @throws {ReportableError} for a concept map that leads nowhere, or a source that fails
 */
export async function completenessOf(
  fields: readonly string[],
  period: Completeness['period'],
  { sources, asOf: configuredAsOf }: Configuration,
  { definitions, fetchSource, now }: EvaluateDependencies,
): Promise<Completeness> {
  const asOf = asOfInstant(undefined, configuredAsOf, now(), sources[0]?.zone ?? 'UTC')
  const counts = new Map(fields.map((field) => [field, { recorded: 0, of: 0 }]))
  let examinations = 0
  for (const source of sources) {
    const codes = sourceCodes(definitions.resources, source)
    const need = pullNeeds(codes)
    for (const window of monthsOf(period)) {
      const { resources } = await pullWindow(source, window, need, fetchSource)
      const { colonoscopies } = linkWindow(resources, { source, codes, window, period, asOf })
      examinations += colonoscopies.length
      for (const { record } of colonoscopies)
        for (const [field, count] of counts) {
          const values = valuesOf(record, field)
          count.of += values.length
          count.recorded += values.filter((value) => value !== undefined).length
        }
    }
  }
  return { period, examinations, fields: [...counts].map(([field, count]) => ({ field, ...count })) }
}

function valuesOf(record: Colonoscopy, field: string): readonly unknown[] {
  const [name = '', part] = field.split('.')
  if (part === undefined) return [record[name as keyof Colonoscopy]]
  const elements = record[name as 'polyps'] ?? []
  return elements.map((element) => element[part as keyof Polyp])
}
