import type { CodeSystem, ConceptMap, FhirResource, ValueSet } from 'fhir/r4'
import { factSystem, structure } from '../../fhir/canonical.ts'
import type { CodesOn } from './way.ts'

/** One code, as published. */
export interface GuideCode {
  readonly system?: string
  readonly code: string
  /** Absent for terminologies whose descriptors may not be shown. */
  readonly display?: string
  /** What a code of ours means, in a sentence. */
  readonly definition?: string
  /** Word of the record that it means, by a concept map. */
  readonly means?: string
  /** How well it is known that it means what the list says: see the extension code-source. */
  readonly source?: string
}

/** A published list of codes. */
export interface CodeList {
  /** Type and id, such as `ValueSet-boston-segment`. */
  readonly id: string
  readonly title: string
  readonly url: string
  readonly description?: string
  readonly codes: readonly GuideCode[]
}

/** Codes that one element may hold, out of one list. */
export interface GuideCodes {
  readonly on: string
  /** Id of the list; absent for FHIR's own vocabularies. */
  readonly list?: string
  readonly codes: readonly GuideCode[]
}

const ownList = 'CodeSystem-colonoscopy-facts'
const codeSource = structure('code-source')
const withoutDescriptors: ReadonlySet<string> = new Set(['http://www.ama-assn.org/go/cpt'])

/** The code lists of the published artefacts, and the codes that they give to an element. */
export class CodeLists {
  readonly #byId = new Map<string, CodeList>()
  readonly #own: ReadonlyMap<string, GuideCode>

  constructor(published: readonly FhirResource[]) {
    for (const resource of published) {
      const list = listOf(resource)
      if (list) this.#byId.set(list.id, list)
    }
    this.#own = new Map(this.at(ownList).codes.map((one) => [one.code, one]))
  }

  /** @throws {Error} where the guide names a list that is not published */
  at(id: string): CodeList {
    const list = this.#byId.get(id)
    if (list === undefined) throw new Error(`The wiring guide names ${id}, which is not published.`)
    return list
  }

  /** Codes of one element, list by list. */
  of({ on, valueSets = [], conceptMaps = [], ours, fhir }: CodesOn): GuideCodes[] {
    const lists = [...valueSets.map((id) => `ValueSet-${id}`), ...conceptMaps.map((id) => `ConceptMap-${id}`)]
    return [
      ...lists.map((id): GuideCodes => ({ on, list: id, codes: this.at(id).codes })),
      ...(ours ? [{ on, list: ownList, codes: ours.map((code) => this.#ownCode(code)) }] : []),
      ...(fhir ? [{ on, codes: fhir }] : []),
    ]
  }

  /** One code of ours; its definition stands in the list. */
  #ownCode(code: string): GuideCode {
    const known = this.#own.get(code)
    if (known === undefined) throw new Error(`The wiring guide names ${code}, which is no code of ours.`)
    const { definition: _, ...rest } = known
    return rest
  }
}

function listOf(resource: FhirResource): CodeList | undefined {
  if (resource.resourceType === 'ValueSet') return asList(resource, codesOfValueSet(resource))
  if (resource.resourceType === 'ConceptMap') return asList(resource, codesOfConceptMap(resource))
  if (resource.resourceType === 'CodeSystem' && resource.url === factSystem)
    return asList(resource, codesOfCodeSystem(resource))
  return undefined
}

function asList(resource: ValueSet | ConceptMap | CodeSystem, codes: readonly GuideCode[]): CodeList {
  const { resourceType, id = '', title = id, url = '', description } = resource
  return { id: `${resourceType}-${id}`, title, url, ...(description && { description }), codes }
}

const shown = (system: string, display: string | undefined) =>
  display === undefined || withoutDescriptors.has(system) ? {} : { display }

const codesOfValueSet = ({ compose }: ValueSet): GuideCode[] =>
  (compose?.include ?? []).flatMap(({ system = '', concept = [] }) =>
    concept.map(({ code, display, extension = [] }): GuideCode => {
      const source = extension.find(({ url }) => url === codeSource)?.valueCode
      return { system, code, ...shown(system, display), ...(source && { source }) }
    }),
  )

const codesOfConceptMap = ({ group = [] }: ConceptMap): GuideCode[] =>
  group.flatMap(({ source = '', element }) =>
    element.map(({ code = '', display, target = [], extension = [] }): GuideCode => {
      const means = target[0]?.code
      const known = extension.find(({ url }) => url === codeSource)?.valueCode
      return {
        system: source,
        code,
        ...shown(source, display),
        ...(means && { means }),
        ...(known && { source: known }),
      }
    }),
  )

const codesOfCodeSystem = ({ concept = [] }: CodeSystem): GuideCode[] =>
  concept.map(
    ({ code, display, definition }): GuideCode => ({
      system: factSystem,
      code,
      ...(display && { display }),
      ...(definition && { definition }),
    }),
  )
