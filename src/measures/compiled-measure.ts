import { compile } from '../criteria/compile.ts'
import type { Ast, Criterion, Scalar } from '../criteria/criterion.ts'
import type { Colonoscopy } from '../record/colonoscopy.ts'
import type { Beside, MeasureDefinition } from './measure.ts'

type Test = (record: Colonoscopy) => boolean | undefined
type Observe = (record: Colonoscopy) => number | undefined

/** A measure with its criteria as functions of a record. Made once per process, then only called. */
export interface CompiledMeasure {
  readonly definition: MeasureDefinition
  readonly initialPopulation: Test
  /** Absent for a cohort. */
  readonly denominator: Test | undefined
  readonly exclusion: Test | undefined
  readonly exception: Test | undefined
  readonly numerator: Test | undefined
  readonly observation: Observe | undefined
  readonly observationLower: Observe | undefined
  readonly observationUpper: Observe | undefined
  readonly denominatorObservation: Observe | undefined
  readonly itemsNotRecorded: Observe | undefined
  readonly itemsUndecided: Observe | undefined
  readonly besides: readonly { readonly population: Beside['population']; readonly test: Test }[]
}

type Run = (record: Colonoscopy) => Scalar | undefined
/** How a criterion becomes a function: by itself, or shared with other measures. */
type Compile = (ast: Ast) => Run

/** The build step has checked that tests yield booleans and observations numbers; the narrowing here only restates it. */
export function compileMeasure(definition: MeasureDefinition, made: Compile = compile): CompiledMeasure {
  const { criteria } = definition
  const test = (criterion: Criterion): Test => made(criterion.ast) as Test
  const observe = (criterion: Criterion | undefined): Observe | undefined =>
    criterion && (made(criterion.ast) as Observe)
  return {
    definition,
    initialPopulation: test(criteria.initialPopulation),
    denominator: criteria.denominator && test(criteria.denominator),
    exclusion: criteria.exclusion && test(criteria.exclusion),
    exception: criteria.exception && test(criteria.exception),
    numerator: criteria.numerator && test(criteria.numerator),
    observation: observe(criteria.observation),
    observationLower: observe(criteria.observationLower),
    observationUpper: observe(criteria.observationUpper),
    denominatorObservation: observe(criteria.denominatorObservation),
    itemsNotRecorded: observe(criteria.itemsNotRecorded),
    itemsUndecided: observe(criteria.itemsUndecided),
    besides: definition.besides.map(({ population, criterion }) => ({ population, test: test(criterion) })),
  }
}
