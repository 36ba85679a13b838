import type { Bundle, FhirResource } from 'fhir/r4'
import { searchParameters } from '../report/capability-statement.ts'
import { onlyKnown } from './parameters.ts'

interface Searchable {
  readonly id?: string | undefined
  readonly url?: string | undefined
  readonly version?: string | undefined
  readonly name?: string | undefined
}

type Test = (resource: Searchable, value: string) => boolean

/** How each parameter matches one value. Source: FHIR R4 (4.0.1), Search, parameter types token, uri and string. */
const tests = {
  _id: (resource, value) => resource.id === value,
  url: (resource, value) => resource.url === value,
  version: (resource, value) => resource.version === value,
  name: (resource, value) => folded(resource.name ?? '').startsWith(folded(value)),
} as const satisfies Record<(typeof searchParameters)[number]['name'], Test>

/**
 * A searchset of those that match every parameter; several values of one parameter are alternatives.
 * @param url address of the request, which the self link repeats
 * @throws {ReportableError} for a parameter that is unknown, repeated or empty
 */
export function search<Type extends FhirResource & Searchable>(resources: readonly Type[], url: string): Bundle {
  const { origin, pathname, search: query, searchParams } = new URL(url)
  const wanted = [
    ...onlyKnown(
      searchParams,
      searchParameters.map(({ name }) => name),
    ),
  ]
  const found = resources.filter((resource) =>
    wanted.every(([name, value]) =>
      alternatives(value).some((one) => tests[name as keyof typeof tests](resource, one)),
    ),
  )
  return {
    resourceType: 'Bundle',
    type: 'searchset',
    total: found.length,
    link: [{ relation: 'self', url: `${origin}${pathname}${query}` }],
    ...(found.length === 0 ? {} : { entry: found.map((resource) => entry(`${origin}${pathname}`, resource)) }),
  }
}

const entry = (base: string, resource: FhirResource) => ({
  fullUrl: `${base}/${resource.id}`,
  resource,
  search: { mode: 'match' as const },
})

/** Values separated by commas that are not escaped. Source: FHIR R4 (4.0.1), Search, Escaping Search Parameters. */
const alternatives = (value: string): string[] =>
  value.split(/(?<!\\),/).map((one) => one.replace(/\\([,$|\\])/g, '$1'))

/** Without case and accents. */
const folded = (text: string): string => text.normalize('NFD').replace(/\p{M}/gu, '').toLowerCase()
