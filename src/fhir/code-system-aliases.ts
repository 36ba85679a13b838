/** Every spelling of a code system's name that has been met, and the one used here. Matching is exact after this table. */
const spellings: Readonly<Record<string, readonly string[]>> = {
  'http://snomed.info/sct': ['http://snomed.info/id', '2.16.840.1.113883.6.96'],
  'http://loinc.org': ['http://loinc.org/owl', '2.16.840.1.113883.6.1'],
  'http://www.ama-assn.org/go/cpt': ['http://www.ama-assn.org/go/CPT', '2.16.840.1.113883.6.12'],
  'urn:oid:2.16.840.1.113883.6.285': [
    'http://www.cms.gov/Medicare/Coding/HCPCSReleaseCodeSets',
    '2.16.840.1.113883.6.285',
  ],
  'http://hl7.org/fhir/sid/icd-10-cm': ['2.16.840.1.113883.6.90'],
  'http://hl7.org/fhir/sid/icd-10': ['2.16.840.1.113883.6.3'],
  'https://fhir.hl7.org.uk/CodeSystem/OPCS-4': [
    'https://fhir.hl7.org.uk/Id/opcs-4',
    '2.16.840.1.113883.2.1.3.2.4.16.143',
  ],
  'http://terminology.hl7.org/CodeSystem/v2-0074': ['http://hl7.org/fhir/v2/0074', '2.16.840.1.113883.12.74'],
  'http://terminology.hl7.org/CodeSystem/v3-ActCode': ['http://hl7.org/fhir/v3/ActCode', '2.16.840.1.113883.5.4'],
  'http://terminology.hl7.org/CodeSystem/v3-ParticipationType': [
    'http://hl7.org/fhir/v3/ParticipationType',
    '2.16.840.1.113883.5.90',
  ],
}

/** What the same name looks like after the differences that mean nothing: scheme, `urn:oid:`, trailing slash. */
const bare = (system: string): string => system.replace(/^(https?:\/\/|urn:oid:)/, '').replace(/\/+$/, '')

const canonicalByBare = new Map(
  Object.entries(spellings).flatMap(([canonical, aliases]) =>
    [canonical, ...aliases].map((alias): [string, string] => [bare(alias), canonical]),
  ),
)

/** @returns the canonical name of a code system; an unknown one unchanged but for a trailing slash */
export function canonicalSystem(system: string): string {
  return canonicalByBare.get(bare(system)) ?? system.replace(/\/+$/, '')
}
