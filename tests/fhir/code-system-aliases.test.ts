import { describe, expect, it } from 'vitest'
import { factSystem } from '../../src/fhir/canonical.ts'
import { canonicalSystem } from '../../src/fhir/code-system-aliases.ts'
import { published } from './published.ts'

// URI and OID of each, as printed by HL7: FHIR R4 (4.0.1), "NamingSystem: terminologies", "External Code Systems" and the
// pages of the v2 and v3 tables; ATC, ICD-10-PCS and HCPCS: the HL7 terminology site's list of external code systems.
const registered = [
  ['SNOMED CT', 'http://snomed.info/sct', '2.16.840.1.113883.6.96'],
  ['LOINC', 'http://loinc.org', '2.16.840.1.113883.6.1'],
  ['UCUM', 'http://unitsofmeasure.org', '2.16.840.1.113883.6.8'],
  ['RxNorm', 'http://www.nlm.nih.gov/research/umls/rxnorm', '2.16.840.1.113883.6.88'],
  ['ATC', 'http://www.whocc.no/atc', '2.16.840.1.113883.6.73'],
  ['CPT', 'http://www.ama-assn.org/go/cpt', '2.16.840.1.113883.6.12'],
  ['ICD-10', 'http://hl7.org/fhir/sid/icd-10', '2.16.840.1.113883.6.3'],
  ['ICD-10-CM', 'http://hl7.org/fhir/sid/icd-10-cm', '2.16.840.1.113883.6.90'],
  ['ICD-10-PCS', 'http://www.cms.gov/Medicare/Coding/ICD10', '2.16.840.1.113883.6.4'],
  ['encounter classes', 'http://terminology.hl7.org/CodeSystem/v3-ActCode', '2.16.840.1.113883.5.4'],
  ['participation', 'http://terminology.hl7.org/CodeSystem/v3-ParticipationType', '2.16.840.1.113883.5.90'],
  ['diagnostic sections', 'http://terminology.hl7.org/CodeSystem/v2-0074', '2.16.840.1.113883.12.74'],
] as const

describe.each(registered)('%s', (_, uri, oid) => {
  it.each([
    ['its URI', uri],
    ['its URI with https', uri.replace('http:', 'https:')],
    ['a trailing slash', `${uri}/`],
    ['a version behind it', `${uri}|2024-09`],
    ['blanks around it', ` ${uri} `],
    ['its OID as a URN', `urn:oid:${oid}`],
    ['its OID as an upper-case URN', `URN:OID:${oid}`],
    ['its bare OID', oid],
  ])('is known by %s', (_spelling, system) => {
    expect(canonicalSystem(system)).toBe(uri)
  })
})

describe('names that others have used', () => {
  it.each([
    // "Using SNOMED CT with FHIR" and SNOMED's URI Standard: edition and version are parts of the version, not of the system.
    ['http://snomed.info/sct/900000000000207008', 'http://snomed.info/sct'],
    ['http://snomed.info/sct/900000000000207008/version/20230131', 'http://snomed.info/sct'],
    ['http://snomed.info/sct|http://snomed.info/sct/900000000000207008/version/20230131', 'http://snomed.info/sct'],
    // DSTU2 (1.0.2), "Using Codes": names of ICD-10 and of the v2 and v3 tables.
    ['http://hl7.org/fhir/sid/icd-10-us', 'http://hl7.org/fhir/sid/icd-10-cm'],
    ['http://hl7.org/fhir/v2/0074', 'http://terminology.hl7.org/CodeSystem/v2-0074'],
    ['http://hl7.org/fhir/v3/ActCode', 'http://terminology.hl7.org/CodeSystem/v3-ActCode'],
    ['http://hl7.org/fhir/v3/ActPriority', 'http://terminology.hl7.org/CodeSystem/v3-ActPriority'],
    // US Core 3.1.1, value set of procedure codes.
    ['http://www.icd10data.com/icd10pcs', 'http://www.cms.gov/Medicare/Coding/ICD10'],
    [factSystem.replace('https:', 'http:'), factSystem],
  ])('%s is read as %s', (name, canonical) => {
    expect(canonicalSystem(name)).toBe(canonical)
  })
})

describe('systems that are not the same stay apart', () => {
  it.each([
    // National modifications of ICD-10: other codes than the WHO's.
    ['http://hl7.org/fhir/sid/icd-10', 'http://hl7.org/fhir/sid/icd-10-cm'],
    ['http://hl7.org/fhir/sid/icd-10', 'http://fhir.de/CodeSystem/bfarm/icd-10-gm'],
    ['http://hl7.org/fhir/sid/icd-10', 'http://hl7.org/fhir/sid/icd-10-am'],
    ['http://snomed.info/sct', 'http://snomed.info/sctx'],
    ['urn:oid:2.16.840.1.113883.6.9', 'urn:oid:2.16.840.1.113883.6.90'],
    ['https://hospital.example/Codes', 'https://hospital.example/codes'],
  ])('%s and %s', (one, other) => {
    expect(canonicalSystem(one)).not.toBe(canonicalSystem(other))
  })
})

describe('a hospital’s own system', () => {
  it.each([
    ['1.2.3.4', 'urn:oid:1.2.3.4'],
    ['http://hospital.example/codes/', 'https://hospital.example/codes'],
  ])('is one system as %s and as %s', (one, other) => {
    expect(canonicalSystem(one)).toBe(canonicalSystem(other))
  })

  it('is not an OID because it looks like a version', () => {
    expect(canonicalSystem('9.1')).toBe('9.1')
    expect(canonicalSystem('local')).toBe('local')
  })
})

describe('every system whose codes the published artefacts list', () => {
  const systems = new Set(
    published.flatMap((resource) => {
      if (resource.resourceType === 'ConceptMap') return (resource.group ?? []).map(({ source }) => source)
      if (resource.resourceType !== 'ValueSet') return []
      return (resource.compose?.include ?? [])
        .filter(({ concept }) => concept !== undefined)
        .map(({ system }) => system)
    }),
  )

  it('is written there by its canonical name', () => {
    expect(systems.size).toBeGreaterThan(10)
    for (const system of systems) expect(canonicalSystem(system ?? '')).toBe(system)
  })
})
