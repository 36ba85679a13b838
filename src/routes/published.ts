import type { FhirResource } from 'fhir/r4'
import { ReportableError } from '../errors.ts'
import type { Definitions } from '../measures/definitions.ts'
import type { MeasureDefinition } from '../measures/measure.ts'
import { servedTypes } from '../report/capability-statement.ts'
import { quoted } from './parameters.ts'

type Served = Extract<FhirResource, { resourceType: (typeof servedTypes)[number] }>

/**
 * Everything of one type that is published.
 * @throws {ReportableError} `not-found` for a type that is not served
 */
export function publishedOf({ measures, resources }: Definitions, type: string): readonly Served[] {
  if (!servedTypes.some((served) => served === type)) {
    throw new ReportableError('not-found', `${quoted(type)} is not served here. Served: ${servedTypes.join(', ')}.`)
  }
  if (type === 'Measure') return measures.map(({ resource }) => resource)
  return resources.filter((resource): resource is Served => resource.resourceType === type)
}

/** @throws {ReportableError} `not-found` */
export function publishedWithId(definitions: Definitions, type: string, id: string): Served {
  const found = publishedOf(definitions, type).find((resource) => resource.id === id)
  if (!found) throw new ReportableError('not-found', `There is no ${type} with the id ${quoted(id)}.`)
  return found
}

/**
 * The measure meant by an id, a url, or url|version.
 * @throws {ReportableError} `unknown-measure`, naming the measures there are or the version served
 */
export function measureNamed({ measures }: Definitions, name: string): MeasureDefinition {
  const [canonical = '', version] = name.split('|', 2)
  const found = measures.find(({ id, url }) => id === canonical || url === canonical)
  if (!found) {
    const ids = measures.map(({ id }) => id).join(', ')
    throw new ReportableError('unknown-measure', `There is no measure ${quoted(name)}. There are: ${ids}.`)
  }
  if (version !== undefined && (version !== found.version || canonical !== found.url)) {
    throw new ReportableError('unknown-measure', `${quoted(name)} is not served; ${found.url}|${found.version} is.`)
  }
  return found
}
