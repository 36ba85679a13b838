import type { FhirResource } from 'fhir/r4'
import type { Source } from '../config.ts'
import { ReportableError } from '../errors.ts'
import { Codes } from '../fhir/codes.ts'

/** Faults told one by one; more than these are only counted. */
const toldAtMost = 10

/**
 * What codes mean in the records of one source: the published artefacts, and the source's own concept maps.
 *
 * @throws {ReportableError} configuration, when a concept map leads to codes that nobody knows here: left alone, the site's
 *   codes would count for nothing, and nobody would be told
 */
export function sourceCodes(published: readonly FhirResource[], source: Source): Codes {
  const codes = new Codes(published, source.conceptMaps)
  const { unknownTargets } = codes
  if (unknownTargets.length === 0) return codes
  const told = unknownTargets
    .slice(0, toldAtMost)
    .map(({ map, code, target }) => `concept map ${map} maps ${code} to ${target}`)
  const more = unknownTargets.length - told.length
  throw new ReportableError(
    'configuration',
    `Source ${source.id}: ${told.join('; ')}${more > 0 ? `; and ${more} more` : ''}. These targets are not known here. Map to a code of a published value set, concept map or code system, or set the equivalence to unmatched.`,
  )
}

/** What a pull must look for by code: colonoscopies, and the operations and treatments that are history. */
export function pullNeeds(codes: Codes): {
  readonly colonoscopyCodes: readonly string[]
  readonly historyProcedureCodes: readonly string[]
} {
  const history = ['earlier-resection', 'pelvic-surgery-or-radiotherapy'].flatMap((set) => codes.codesIn(set))
  return { colonoscopyCodes: codes.codesIn('colonoscopy'), historyProcedureCodes: [...new Set(history)].sort() }
}
