import type { Extension, MeasureGroupPopulation, Measure as MeasureResource } from 'fhir/r4'
import type { Criterion } from '../criteria/criterion.ts'
import { structure } from '../fhir/canonical.ts'
import { type FeedKind, feedKinds } from '../record/field.ts'
import { fields } from '../record/fields.ts'
import type { MeasureDefinition, Standard } from './measure.ts'

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
  const observed = withCode('measure-observation').find((population) =>
    population.extension?.some(
      ({ url, valueString }) =>
        url.endsWith('cqfm-criteriaReference') && valueString === (continuous ? 'measure-population' : 'numerator'),
    ),
  )
  if (scoring !== 'proportion' && !observed)
    throw new MeasureFault('measure-observation', `a ${scoring} measure needs an observation of its members`)
  const bounds = observed?.extension?.find(({ url }) => url === structure('observation-bounds'))

  const exclusion = optional(continuous ? 'measure-population-exclusion' : 'denominator-exclusion')
  const exception = optional('denominator-exception')
  const observationLower = expressionOf(bounds, 'lower', 'number')
  const observationUpper = expressionOf(bounds, 'upper', 'number')
  const countedBeside = expressionOf(named(resource, 'counted-beside'), 'criteria', 'boolean')
  const criteria = {
    initialPopulation: criterion(only('initial-population'), 'boolean'),
    denominator: criterion(only(continuous ? 'measure-population' : 'denominator'), 'boolean'),
    ...(exclusion && { exclusion }),
    ...(exception && { exception }),
    ...(!continuous && { numerator: criterion(only('numerator'), 'boolean') }),
    ...(observed && { observation: criterion(observed, 'number') }),
    ...(observationLower && { observationLower }),
    ...(observationUpper && { observationUpper }),
    ...(countedBeside && { countedBeside }),
  } satisfies MeasureDefinition['criteria']

  const deciding = [criteria.initialPopulation, criteria.denominator, criteria.numerator, criteria.observation]
  const feeds = new Set(deciding.flatMap((one) => one?.fields ?? []).map(feedOf))
  const window = named(resource, 'event-window')?.valueDuration
  if (window && (window.code !== 'd' || !Number.isInteger(window.value)))
    throw new MeasureFault('event-window', 'an event window is a whole number of days (UCUM d)')
  if (feeds.has('events') && !window)
    throw new MeasureFault(
      'event-window',
      'a measure of events needs an event window, so that it waits until the window has passed',
    )
  const standard = readStandard(resource)

  return {
    id: required(resource.id, 'id'),
    url: required(resource.url, 'url'),
    version: required(resource.version, 'version'),
    title: required(resource.title, 'title'),
    scoring,
    improvement: resource.improvementNotation?.coding?.[0]?.code === 'decrease' ? 'decrease' : 'increase',
    criteria,
    scoreUnit:
      resource.extension?.find(({ url }) => url.endsWith('cqfm-scoringUnit'))?.valueCodeableConcept?.coding?.[0]
        ?.code ?? '1',
    waitsForHistology: feeds.has('pathology'),
    ...(window?.value !== undefined && { eventWindowDays: window.value }),
    needs: feedKinds.filter((kind) => kind !== 'history' && feeds.has(kind)),
    ...(standard && { standard }),
    attribution: 'operator',
    resource,
  }
}

/** Feed that a field of the record depends on; polyp fields are written `polyps.site`. */
function feedOf(name: string): FeedKind | undefined {
  const field = fields[name.split('.')[0] as keyof typeof fields]
  return 'feed' in field ? field.feed : undefined
}

function readScoring(resource: MeasureResource): MeasureDefinition['scoring'] {
  const code = resource.scoring?.coding?.[0]?.code
  if (code === 'proportion' || code === 'ratio' || code === 'continuous-variable') return code
  throw new MeasureFault(
    'scoring',
    `scoring ${code ?? '(none)'} is not counted here: use proportion, ratio or continuous-variable`,
  )
}

function readStandard(resource: MeasureResource): Standard | undefined {
  const parts = named(resource, 'measure-standard')?.extension
  if (!parts) return undefined
  const part = (url: string) => parts.find((one) => one.url === url)
  const minimum = part('minimum')?.valueDecimal
  const aspirational = part('aspirational')?.valueDecimal
  return {
    name: required(part('name')?.valueString, 'measure-standard name'),
    ...(minimum !== undefined && { minimum }),
    ...(aspirational !== undefined && { aspirational }),
    fromMemory: part('fromMemory')?.valueBoolean === true,
  }
}

const named = (resource: MeasureResource, name: string): Extension | undefined =>
  resource.extension?.find(({ url }) => url === structure(name))

const codeOf = (population: MeasureGroupPopulation): string | undefined => population.code?.coding?.[0]?.code

function required(value: string | undefined, what: string): string {
  if (value === undefined || value === '') throw new MeasureFault(what, `${what} is missing`)
  return value
}
