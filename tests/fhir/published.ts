import { readdirSync, readFileSync } from 'node:fs'
import type { FhirResource } from 'fhir/r4'

const named = (name: string): boolean => /^(CodeSystem|ValueSet|ConceptMap)-.*\.json$/.test(name)

/** The code systems, value sets and concept maps of `measures/`. */
export const published: readonly FhirResource[] = readdirSync('measures')
  .filter(named)
  .map((name) => JSON.parse(readFileSync(`measures/${name}`, 'utf8')) as FhirResource)
