import type {
  Extension,
  MeasureReport,
  MeasureReportGroup,
  MeasureReportGroupPopulation,
  MeasureReportGroupStratifierStratum,
} from 'fhir/r4'
import { structure } from '../../src/fhir/canonical.ts'

type Group = MeasureReportGroup | MeasureReportGroupStratifierStratum

/** The one group of a report. */
export function groupOf({ group }: MeasureReport): MeasureReportGroup {
  const [only, ...more] = group ?? []
  if (only === undefined || more.length > 0) throw new Error('exactly one group is expected')
  return only
}

/** Populations by their code, in order; an observation stands under its code, once for each population it observes. */
export const populationsOf = ({ population }: Group): [code: string, count: number, sum: number | undefined][] =>
  (population ?? []).map((one) => [one.code?.coding?.[0]?.code ?? '', one.count ?? Number.NaN, sumOf(one)])

const sumOf = ({ extension }: MeasureReportGroupPopulation): number | undefined =>
  extension?.find(({ url }) => url === structure('observation-sum'))?.valueDecimal

export function countOf(group: Group, code: string): number {
  const found = populationsOf(group).find(([name]) => name === code)
  if (!found) throw new Error(`no population ${code}`)
  return found[1]
}

export const strataOf = (report: MeasureReport, stratifier: string): MeasureReportGroupStratifierStratum[] =>
  groupOf(report).stratifier?.find(({ id }) => id === stratifier)?.stratum ?? []

export const extensionsOf = (holder: { extension?: Extension[] | undefined } | undefined, name: string): Extension[] =>
  (holder?.extension ?? []).filter(({ url }) => url === structure(name))

/** Examinations apart, by reason; a reason that counts none is absent. */
export const apartOf = (group: Group): Map<string, number> =>
  new Map(
    extensionsOf(group, 'apart').map(({ extension: [reason, count] = [] }) => [
      reason?.valueCode ?? '',
      count?.valueInteger ?? Number.NaN,
    ]),
  )

export const settledThrough = (report: MeasureReport): string | undefined =>
  extensionsOf(report, 'settled-through')[0]?.valueDate
export const asOf = (report: MeasureReport): string | undefined => extensionsOf(report, 'as-of')[0]?.valueInstant
