import type { CodeableConcept, MeasureGroupPopulation, MeasureReportGroupPopulation } from 'fhir/r4'
import type { MeasureDefinition } from '../measures/measure.ts'
import type { GroupResult } from '../tally/result.ts'
import { concept, type PopulationCode, populationSystem } from './codes.ts'
import { observationSumExtension } from './extensions.ts'

interface Counted {
  readonly code: PopulationCode
  readonly count: number
  /** Of an observation: the sum, and the population whose members it observes. */
  readonly observed?: { readonly sum: number; readonly of: 'numerator' | 'denominator' | 'measure-population' }
}

/**
 * Counts of one group, settled days only, under the populations that R4 allows for the scoring. The denominator (or
 * measure population) is counted before exclusions, so that a client that knows none of our extensions recomputes
 *   proportion = numerator / (denominator − denominator-exclusion − denominator-exception)
 * and, with the sums of the observations,
 *   ratio = sum over the numerator / sum over the denominator, mean = sum / number observed.
 * Source of the allowed populations: FHIR R4 (4.0.1), Clinical Reasoning, "Quality Reporting", population criteria.
 */
export function populations(measure: MeasureDefinition, { settled }: GroupResult): MeasureReportGroupPopulation[] {
  return countsOf(measure, settled).map(({ code, count, observed }) => ({
    ...repeated(measure, code, observed?.of),
    count,
    ...(observed ? { extension: [observationSumExtension(observed.sum)] } : {}),
  }))
}

function countsOf({ scoring, criteria }: MeasureDefinition, settled: GroupResult['settled']): Counted[] {
  const { initialPopulation, denominator, excluded, excepted, met, notMet, valueSum: sum } = settled
  const initial: Counted = { code: 'initial-population', count: initialPopulation }
  const observation = (of: NonNullable<Counted['observed']>['of'], count: number, total: number): Counted[] =>
    sum === undefined ? [] : [{ code: 'measure-observation', count, observed: { sum: total, of } }]
  if (scoring === 'cohort') return [initial]
  if (scoring === 'continuous-variable') {
    return [
      initial,
      { code: 'measure-population', count: denominator },
      { code: 'measure-population-exclusion', count: excluded },
      ...observation('measure-population', met, sum ?? 0),
    ]
  }
  const hasException = scoring === 'proportion' && criteria.exception !== undefined
  const common: Counted[] = [
    initial,
    { code: 'denominator', count: denominator },
    { code: 'denominator-exclusion', count: excluded },
    ...(hasException ? [{ code: 'denominator-exception' as const, count: excepted }] : []),
    { code: 'numerator', count: met },
  ]
  if (scoring === 'proportion') return common
  if (criteria.denominatorObservation) {
    const over = settled.overSum ?? 0
    return [...common, ...observation('numerator', met, sum ?? 0), ...observation('denominator', met, over)]
  }
  // Where nothing is said of it, the denominator of a ratio observes 1 per examination.
  return [
    ...common,
    ...observation('numerator', met, sum ?? 0),
    ...observation('denominator', met + notMet, met + notMet),
  ]
}

/** Id and code of a population as the Measure has them, unaltered; our own coding where it has no such population. */
function repeated(
  { resource }: MeasureDefinition,
  code: PopulationCode,
  of: string | undefined,
): { id?: string; code: CodeableConcept } {
  const population = resource.group?.[0]?.population?.find(
    (candidate) =>
      candidate.code?.coding?.some((coding) => coding.system === populationSystem && coding.code === code) &&
      (of === undefined || observes(candidate) === of),
  )
  return {
    ...(population?.id === undefined ? {} : { id: population.id }),
    code: population?.code ?? concept(populationSystem, code),
  }
}

/** Population whose members an observation observes. */
const observes = ({ extension }: MeasureGroupPopulation): string | undefined =>
  extension?.find(({ url }) => url.endsWith('cqfm-criteriaReference'))?.valueString
