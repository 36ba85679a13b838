import type { FhirResource } from 'fhir/r4'
import type { Source } from '../config.ts'
import { ReportableError } from '../errors.ts'
import { Codes } from '../fhir/codes.ts'
import type { PullNeeds } from './pull-window.ts'

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

/** Facts that the code of an observation of an examination can name. */
const observedFacts: ReadonlySet<string> = new Set([
  'landmark-photograph',
  'extent-reached',
  'intent',
  'ileal-intubation',
  'rectal-retroflexion',
  'withdrawal-time',
  'insertion-time',
  'comfort-one-to-five',
  'comfort-zero-to-four',
  'comfort-scorer',
  'instrument-exchanged',
  'insufflation',
  'dye',
  'computer-aided-detection',
  'distal-attachment',
  'attachment-outcome',
  'attachment-removed-before-caecum',
  'attachment-removal-reason',
  'attachment-reinserted',
  'mucosal-injury',
  'mucosal-injury-treated',
  'inflammatory-activity',
  'inflammatory-bowel-disease',
  'hereditary-syndrome',
  'earlier-resection',
  'stricture',
  'severe-diverticulosis',
  'pelvic-surgery-or-radiotherapy',
  'colorectal-cancer',
  'antithrombotic-use',
  'serrated-polyposis',
  'family-history-of-colorectal-cancer',
  'earlier-adenoma',
  'last-colonoscopy',
  'last-examination-inadequate',
  'chronic-diarrhoea',
  'after-incomplete-examination',
  'positive-test-date',
  'patient-experience',
  'takeover',
  'anaesthetist-led',
  'advice',
  'advised-interval',
  'biopsies-right',
  'biopsies-left',
  'biopsies-rectum',
])

/** Value sets of what the code of such an observation can be. */
const observedSets = [
  'polyp-finding',
  'polyp-size',
  'boston-segment',
  'boston-total',
  'preparation-observation',
  'colonoscopy',
]

/** What a pull must look for by code: colonoscopies, the procedures that are history, earlier colonoscopies among them, and observations. */
export function pullNeeds(codes: Codes): PullNeeds {
  const codesIn = (sets: readonly string[]): string[] => sets.flatMap((set) => codes.codesIn(set))
  const sorted = (list: readonly string[]): string[] => [...new Set(list)].sort()
  return {
    colonoscopyCodes: codes.codesIn('colonoscopy'),
    historyProcedureCodes: sorted(codesIn(['earlier-resection', 'pelvic-surgery-or-radiotherapy', 'colonoscopy'])),
    observationCodes: sorted([...codes.codesOf(observedFacts), ...codesIn(observedSets)]),
  }
}
