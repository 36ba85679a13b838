import { factSystem } from './canonical.ts'

/**
 * Every spelling of a code system's name that has been met, and the one used here: other names and OIDs. Matching is exact
 * after this table. National editions of ICD-10 are systems of their own: their codes differ from those of the WHO.
 *
 * Sources: HL7 FHIR R4 (4.0.1), 4.3.0 "Using Codes in Resources" and "NamingSystem: terminologies", for URIs and OIDs; R4's
 * move of the v2 and v3 tables to terminology.hl7.org for the names before it.
 */
const spellings: Readonly<Record<string, readonly string[]>> = {
  [factSystem]: [],
  'http://snomed.info/sct': ['http://snomed.info/id', '2.16.840.1.113883.6.96'],
  'http://loinc.org': ['http://loinc.org/owl', '2.16.840.1.113883.6.1'],
  'http://unitsofmeasure.org': ['http://www.unitsofmeasure.org', '2.16.840.1.113883.6.8'],
  'http://www.whocc.no/atc': ['2.16.840.1.113883.6.73'],
  'http://www.nlm.nih.gov/research/umls/rxnorm': ['2.16.840.1.113883.6.88'],
  'http://www.ama-assn.org/go/cpt': ['http://www.ama-assn.org/go/CPT', '2.16.840.1.113883.6.12'],
  'urn:oid:2.16.840.1.113883.6.285': [
    'http://www.cms.gov/Medicare/Coding/HCPCSReleaseCodeSets',
    'https://www.cms.gov/Medicare/Coding/HCPCSReleaseCodeSets',
  ],
  'http://hl7.org/fhir/sid/icd-10': ['2.16.840.1.113883.6.3'],
  // DSTU2 called the clinical modification icd-10-us.
  'http://hl7.org/fhir/sid/icd-10-cm': ['http://hl7.org/fhir/sid/icd-10-us', '2.16.840.1.113883.6.90'],
  'http://www.cms.gov/Medicare/Coding/ICD10': ['http://www.icd10data.com/icd10pcs', '2.16.840.1.113883.6.4'],
  'https://fhir.hl7.org.uk/CodeSystem/OPCS-4': [
    'https://fhir.hl7.org.uk/Id/opcs-4',
    '2.16.840.1.113883.2.1.3.2.4.16.143',
  ],
  'http://terminology.hl7.org/CodeSystem/v2-0074': ['2.16.840.1.113883.12.74'],
  'http://terminology.hl7.org/CodeSystem/v3-ActCode': ['2.16.840.1.113883.5.4'],
  'http://terminology.hl7.org/CodeSystem/v3-ParticipationType': ['2.16.840.1.113883.5.90'],
}

const oid = /^[0-2](\.(0|[1-9]\d*))+$/
/** `snomed.info/sct` with a module, or a module and a version, is still SNOMED CT. */
const snomedEdition = /^snomed\.info\/sct\/\d+(\/version\/\d+)?$/
/** Name of a v2 or v3 table before R4. */
const earlierTable = /^hl7\.org\/fhir\/(v[23])\/([A-Za-z0-9]+)$/

/** What the same name looks like after the differences that mean nothing: scheme, `urn:oid:`, version, trailing slash. */
function bare(system: string): string {
  const name = system
    .trim()
    .replace(/\|.*$/, '')
    .replace(/^(https?:\/\/|urn:oid:)/i, '')
    .replace(/\/+$/, '')
  if (snomedEdition.test(name)) return 'snomed.info/sct'
  return name.replace(earlierTable, 'terminology.hl7.org/CodeSystem/$1-$2')
}

const canonicalByBare = new Map(
  Object.entries(spellings).flatMap(([canonical, aliases]) =>
    [canonical, ...aliases].map((alias): [string, string] => [bare(alias), canonical]),
  ),
)

/**
 * @returns the canonical name of a code system. One that is not in the table, such as a hospital's own, is only freed of what
 *   means nothing: an OID becomes `urn:oid:`, an address is written with `http:`.
 */
export function canonicalSystem(system: string): string {
  const name = bare(system)
  const canonical = canonicalByBare.get(name)
  if (canonical !== undefined) return canonical
  if (oid.test(name)) return `urn:oid:${name}`
  return /^\s*https?:/i.test(system) ? `http://${name}` : name
}
