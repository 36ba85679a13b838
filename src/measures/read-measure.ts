import type { Extension, MeasureGroupPopulation, MeasureGroupStratifier, Measure as MeasureResource } from 'fhir/r4'
import type { Criterion } from '../criteria/criterion.ts'
import { structure } from '../fhir/canonical.ts'
import { type FeedKind, feedKinds } from '../record/field.ts'
import { fields } from '../record/fields.ts'
import { dimensionOf, dimensions } from './dimensions.ts'
import {
  type Attribution,
  attributions,
  type Beside,
  type MeasureDefinition,
  type Standard,
  type Stratifier,
} from './measure.ts'

type Parse = (expression: string, want: 'boolean' | 'number') => Criterion

/** A fault in a measure file: which population, and what to do. The build step adds the file's name. */
export class MeasureFault extends Error {
  override name = 'MeasureFault'
  readonly where: string
  constructor(where: string, message: string, options?: { cause: unknown }) {
    super(message, options)
    this.where = where
  }
}

/**
 * Turns one Measure resource into a measure ready to count.
 *
 * @param parse parses and type-checks one expression against the logical model
 * @throws {MeasureFault} naming population and reason when the file is not a measure this service can count
 */
export function readMeasure(resource: MeasureResource, parse: Parse): MeasureDefinition {
  const scoring = readScoring(resource)
  const populations = resource.group?.length === 1 ? (resource.group[0]?.population ?? []) : []
  if (populations.length === 0) throw new MeasureFault('group', 'exactly one group with populations is needed')

  const read = (
    where: string,
    expression: string | undefined,
    language: string | undefined,
    want: 'boolean' | 'number',
  ) => {
    if (language !== 'text/fhirpath' || expression === undefined)
      throw new MeasureFault(where, 'a criterion needs language text/fhirpath and an expression')
    try {
      return parse(expression, want)
    } catch (cause) {
      throw new MeasureFault(where, cause instanceof Error ? cause.message : String(cause), { cause })
    }
  }
  const withCode = (code: string) => populations.filter((population) => codeOf(population) === code)
  const only = (code: string): MeasureGroupPopulation => {
    const [population, ...more] = withCode(code)
    if (!population || more.length > 0) throw new MeasureFault(code, 'exactly one such population is needed')
    return population
  }
  const criterion = (population: MeasureGroupPopulation, want: 'boolean' | 'number') =>
    read(codeOf(population) ?? 'population', population.criteria.expression, population.criteria.language, want)
  const optional = (code: string) => (withCode(code).length === 0 ? undefined : criterion(only(code), 'boolean'))
  const expressionOf = (extension: Extension | undefined, part: string, want: 'boolean' | 'number') => {
    const expression = extension?.extension?.find(({ url }) => url === part)?.valueExpression
    return expression && read(`${extension?.url} ${part}`, expression.expression, expression.language, want)
  }

  const continuous = scoring === 'continuous-variable'
  const cohort = scoring === 'cohort'
  const observationOf = (reference: string) =>
    withCode('measure-observation').find((population) =>
      population.extension?.some(
        ({ url, valueString }) => url.endsWith('cqfm-criteriaReference') && valueString === reference,
      ),
    )
  const observed = observationOf(continuous ? 'measure-population' : 'numerator')
  // A denominator that observes 1 per examination counts examinations.
  const below = scoring === 'ratio' ? observationOf('denominator') : undefined
  const observedBelow = below?.criteria.expression?.trim() === '1' ? undefined : below
  if ((continuous || scoring === 'ratio') && !observed)
    throw new MeasureFault('measure-observation', `a ${scoring} measure needs an observation of its members`)
  const bounds = observed?.extension?.find(({ url }) => url === structure('observation-bounds'))
  const items = observedBelow?.extension?.find(({ url }) => url === structure('items-apart'))

  const exclusion = optional(continuous ? 'measure-population-exclusion' : 'denominator-exclusion')
  const exception = optional('denominator-exception')
  const observationLower = expressionOf(bounds, 'lower', 'number')
  const observationUpper = expressionOf(bounds, 'upper', 'number')
  const itemsNotRecorded = expressionOf(items, 'notRecorded', 'number')
  const itemsUndecided = expressionOf(items, 'eligibilityNotRecorded', 'number')
  const criteria = {
    initialPopulation: criterion(only('initial-population'), 'boolean'),
    ...(!cohort && { denominator: criterion(only(continuous ? 'measure-population' : 'denominator'), 'boolean') }),
    ...(exclusion && { exclusion }),
    ...(exception && { exception }),
    ...(!continuous && !cohort && { numerator: criterion(only('numerator'), 'boolean') }),
    ...(observed && { observation: criterion(observed, 'number') }),
    ...(observationLower && { observationLower }),
    ...(observationUpper && { observationUpper }),
    ...(observedBelow && { denominatorObservation: criterion(observedBelow, 'number') }),
    ...(itemsNotRecorded && { itemsNotRecorded }),
    ...(itemsUndecided && { itemsUndecided }),
  } satisfies MeasureDefinition['criteria']

  const deciding = [
    criteria.initialPopulation,
    criteria.denominator,
    criteria.numerator,
    criteria.observation,
    criteria.denominatorObservation,
  ]
  const feeds = new Set(deciding.flatMap((one) => one?.fields ?? []).map(feedOf))
  const window = named(resource, 'event-window')?.valueDuration
  if (window && (window.code !== 'd' || !Number.isInteger(window.value)))
    throw new MeasureFault('event-window', 'an event window is a whole number of days (UCUM d)')
  const after = feedsAfterwards.filter((kind) => feeds.has(kind))
  if (after.length > 0 && !window)
    throw new MeasureFault(
      'event-window',
      `a measure of ${after.join(' and ')} needs an event window, so that it waits until the window has passed`,
    )
  const standards = readStandards(resource)
  const standard = standards.find(({ stratum }) => stratum === undefined)
  const attribution = readAttribution(resource)
  const besides = (resource.extension ?? [])
    .filter(({ url }) => url === structure('counted-beside'))
    .map((extension): Beside => {
      const told = (part: string) => extension.extension?.find(({ url }) => url === part)
      const read = expressionOf(extension, 'criteria', 'boolean')
      if (!read) throw new MeasureFault('counted-beside', 'a criterion is missing')
      return {
        description: required(told('description')?.valueString, 'counted-beside description'),
        population: readBesidePopulation(told('population')?.valueCode),
        criterion: read,
      }
    })

  return {
    id: required(resource.id, 'id'),
    url: required(resource.url, 'url'),
    version: required(resource.version, 'version'),
    title: required(resource.title, 'title'),
    scoring,
    ...readImprovement(resource),
    criteria,
    ...(continuous && observed && { aggregate: readAggregate(observed) }),
    besides,
    reviewList: named(resource, 'review-list')?.valueBoolean === true,
    stratifiers: readStratifiers(resource, attribution),
    scoreUnit:
      resource.extension?.find(({ url }) => url.endsWith('cqfm-scoringUnit'))?.valueCodeableConcept?.coding?.[0]
        ?.code ?? '1',
    waitsForHistology: feeds.has('pathology'),
    eligibilityWaitsForHistology: [criteria.initialPopulation, criteria.denominator].some((one) =>
      one?.fields.some((field) => feedOf(field) === 'pathology'),
    ),
    ...(window?.value !== undefined && { eventWindowDays: window.value }),
    needs: feedKinds.filter((kind) => kind !== 'history' && feeds.has(kind)),
    ...(standard && { standard }),
    stratumStandards: standards.filter(({ stratum }) => stratum !== undefined),
    attribution,
    resource,
  }
}

/** Kinds of which more may come after the examination: what they tell is settled only when a window has passed. */
const feedsAfterwards: readonly FeedKind[] = ['events', 'visits', 'deaths', 'cancers']

/** Feed that a field of the record depends on; polyp fields are written `polyps.site`. */
function feedOf(name: string): FeedKind | undefined {
  const field = fields[name.split('.')[0] as keyof typeof fields]
  return 'feed' in field ? field.feed : undefined
}

function readScoring(resource: MeasureResource): MeasureDefinition['scoring'] {
  const code = resource.scoring?.coding?.[0]?.code
  if (code === 'proportion' || code === 'ratio' || code === 'continuous-variable' || code === 'cohort') return code
  throw new MeasureFault(
    'scoring',
    `scoring ${code ?? '(none)'} is not counted here: use proportion, ratio, continuous-variable or cohort`,
  )
}

function readStandards(resource: MeasureResource): Standard[] {
  return (resource.extension ?? [])
    .filter(({ url }) => url === structure('measure-standard'))
    .map(({ extension: parts = [] }) => {
      const part = (url: string) => parts.find((one) => one.url === url)
      const minimum = part('minimum')?.valueDecimal
      const aspirational = part('aspirational')?.valueDecimal
      const stratum = part('stratum')?.valueString
      return {
        name: required(part('name')?.valueString, 'measure-standard name'),
        ...(minimum !== undefined && { minimum }),
        ...(aspirational !== undefined && { aspirational }),
        fromMemory: part('fromMemory')?.valueBoolean === true,
        ...(stratum !== undefined && { stratum }),
      }
    })
}

function readImprovement(resource: MeasureResource): Pick<MeasureDefinition, 'improvement'> {
  const code = resource.improvementNotation?.coding?.[0]?.code
  if (code === undefined) return {}
  if (code === 'increase' || code === 'decrease') return { improvement: code }
  throw new MeasureFault('improvementNotation', `improvement is increase or decrease, not ${code}`)
}

function readAttribution(resource: MeasureResource): Attribution {
  const code = named(resource, 'attribution')?.valueCode ?? 'operator'
  const known = attributions.find((attribution) => attribution === code)
  if (known === undefined)
    throw new MeasureFault('attribution', `attribution ${code} is none of ${attributions.join(', ')}`)
  return known
}

function readAggregate({ extension }: MeasureGroupPopulation): 'mean' | 'median' {
  const method = extension?.find(({ url }) => url.endsWith('cqfm-aggregateMethod'))?.valueCode ?? 'average'
  if (method === 'average') return 'mean'
  if (method === 'median') return 'median'
  throw new MeasureFault('measure-observation', `aggregate method ${method} is not counted here: use average or median`)
}

function readBesidePopulation(code = 'denominator'): Beside['population'] {
  if (code === 'numerator' || code === 'denominator' || code === 'denominator-exclusion') return code
  throw new MeasureFault(
    'counted-beside',
    `population ${code} cannot be counted beside: use numerator, denominator or denominator-exclusion`,
  )
}

/** What a file that names no stratifier is divided by. */
const usualStratifiers: readonly Stratifier[] = [
  { id: 'unit', dimensions: ['unit'] },
  { id: 'practitioner', dimensions: ['practitioner'] },
]

function readStratifiers(resource: MeasureResource, attribution: Attribution): Stratifier[] {
  const declared = resource.group?.[0]?.stratifier
  const all = declared === undefined ? usualStratifiers : declared.map(readStratifier)
  if (attribution !== 'unit-only') return [...all]
  const personal = all.find(({ dimensions }) => dimensions.includes('practitioner'))
  if (declared !== undefined && personal)
    throw new MeasureFault(
      `stratifier ${personal.id}`,
      'a measure that counts for the unit only has no stratum of a person',
    )
  return all.filter((stratifier) => stratifier !== personal)
}

function readStratifier({ id, criteria, component }: MeasureGroupStratifier): Stratifier {
  const where = `stratifier ${id ?? '(without id)'}`
  const written = component === undefined ? [criteria] : component.map((part) => part.criteria)
  const divided = written.map((expression) => {
    const dimension = dimensionOf(expression?.expression ?? '')
    if (dimension === undefined)
      throw new MeasureFault(
        where,
        `${expression?.expression ?? '(no expression)'} is nothing to divide by. Known: ${Object.values(dimensions).join('; ')}`,
      )
    return dimension
  })
  return { id: required(id, 'stratifier id'), dimensions: divided }
}

const named = (resource: MeasureResource, name: string): Extension | undefined =>
  resource.extension?.find(({ url }) => url === structure(name))

const codeOf = (population: MeasureGroupPopulation): string | undefined => population.code?.coding?.[0]?.code

function required(value: string | undefined, what: string): string {
  if (value === undefined || value === '') throw new MeasureFault(what, `${what} is missing`)
  return value
}
