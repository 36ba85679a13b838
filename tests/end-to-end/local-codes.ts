import type { CodeableConcept, Coding, ConceptMap, FhirResource } from 'fhir/r4'

export interface Localised {
  readonly resources: FhirResource[]
  /** From the hospital's codes to those that were replaced. */
  readonly map: ConceptMap
}

/**
 * The same records as a hospital would write them that has nothing but codes of its own: every CodeableConcept is recoded, so
 * that no code of any other system is left in one.
 */
export function localised(resources: readonly FhirResource[], system: string): Localised {
  const localCodes = new Map<string, string>()
  const recode = ({ system: from = '', code = '' }: Coding): Coding => {
    const name = `${from}|${code}`
    const local = localCodes.get(name) ?? `H${localCodes.size + 1}`
    localCodes.set(name, local)
    return { system, code: local }
  }
  const recoded = JSON.parse(JSON.stringify(resources), (name, value: unknown) =>
    name === 'coding' ? (value as NonNullable<CodeableConcept['coding']>).map(recode) : value,
  ) as FhirResource[]
  const group = [...Map.groupBy(localCodes, ([name]) => name.split('|')[0] ?? '')].map(([target, entries]) => ({
    source: system,
    target,
    element: entries.map(([name, code]) => ({
      code,
      target: [{ code: name.split('|')[1] ?? '', equivalence: 'equivalent' as const }],
    })),
  }))
  return { resources: recoded, map: { resourceType: 'ConceptMap', id: 'harrowdale-codes', status: 'active', group } }
}
