import { readFileSync } from 'node:fs'
import type { CodeSystem, ConceptMap, ValueSet } from 'fhir/r4'
import { describe, expect, it } from 'vitest'
import { factSystem, structure } from '../../src/fhir/canonical.ts'
import type { Field } from '../../src/record/field.ts'
import { fields } from '../../src/record/fields.ts'
import { published } from './published.ts'

const ofType = <Type extends 'CodeSystem' | 'ValueSet' | 'ConceptMap'>(type: Type) =>
  published.filter((one) => one.resourceType === type)
const valueSets = ofType('ValueSet') as ValueSet[]
const conceptMaps = ofType('ConceptMap') as ConceptMap[]
const facts = (ofType('CodeSystem') as CodeSystem[]).find(({ url }) => url === factSystem)
const factCodes = new Set(facts?.concept?.map(({ code }) => code))

interface Listed {
  readonly system: string
  readonly code: string
  readonly display: string | undefined
  /** How the code is known: word of the extension `code-source`. */
  readonly known: string | undefined
}

const listedIn = (resource: ValueSet | ConceptMap): Listed[] =>
  resource.resourceType === 'ValueSet'
    ? (resource.compose?.include ?? []).flatMap(({ system = '', concept = [] }) =>
        concept.map(({ code, display, extension }) => ({
          system,
          code,
          display,
          known: extension?.find(({ url }) => url === structure('code-source'))?.valueCode,
        })),
      )
    : (resource.group ?? []).flatMap(({ source = '', element }) =>
        element.map(({ code = '', display }) => ({ system: source, code, display, known: undefined })),
      )

const holders = [...valueSets, ...conceptMaps].map((one) => [`${one.resourceType} ${one.id}`, one] as const)
const all = holders.flatMap(([holder, one]) => listedIn(one).map((listed) => ({ holder, ...listed })))

/** Whose terms each system is used under, in words that the notice must hold. */
const owners: readonly [system: string, owner: string][] = [
  ['http://snomed.info/sct', 'SNOMED International'],
  ['http://www.ama-assn.org/go/cpt', 'American Medical Association'],
  // The notice that the LOINC licence asks for, https://loinc.org/license, section 10.
  ['http://loinc.org', 'This material contains content from LOINC (http://loinc.org)'],
  ['http://www.nlm.nih.gov/research/umls/rxnorm', 'courtesy of the U.S. National Library of Medicine'],
  ['http://www.whocc.no/atc', 'WHO Collaborating Centre for Drug Statistics Methodology'],
  ['http://hl7.org/fhir/sid/icd-10', 'World Health Organization'],
  ['https://fhir.hl7.org.uk/CodeSystem/OPCS-4', 'Crown copyright'],
]

describe.each(holders)('%s', (_, resource) => {
  const listed = listedIn(resource)

  it('carries the notice of every terminology it holds codes of, and of no other', () => {
    const systems = new Set(listed.map(({ system }) => system))
    for (const [system, owner] of owners)
      expect((resource.copyright ?? '').includes(owner), owner).toBe(systems.has(system))
  })

  it('holds no code twice', () => {
    const names = listed.map(({ system, code }) => `${system}|${code}`)
    expect(new Set(names).size).toBe(names.length)
  })
})

describe('NOTICE', () => {
  it.each(owners)('speaks of %s', (_, owner) => {
    const notice = readFileSync('NOTICE', 'utf8').replace(/\s+/g, ' ')
    expect(notice.toLowerCase()).toContain(owner.toLowerCase())
  })
})

describe('licensed codes', () => {
  it('of CPT are listed without descriptors', () => {
    const cpt = all.filter(({ system }) => system === 'http://www.ama-assn.org/go/cpt')
    expect(cpt.length).toBeGreaterThan(20)
    expect(cpt.filter(({ display }) => display !== undefined)).toEqual([])
  })
})

describe('how a code is known', () => {
  const inSets = all.filter(({ holder }) => holder.startsWith('ValueSet'))

  it('is stated of every code of a value set, by a published word; no code is there from memory', () => {
    expect(inSets.length).toBeGreaterThan(150)
    const words = ['standard', 'open-record', 'third-party', 'ours']
    expect(inSets.filter(({ known }) => known === undefined || !words.includes(known))).toEqual([])
  })

  it('is ours for our own codes, and only for them', () => {
    expect(inSets.filter(({ system, known }) => (system === factSystem) !== (known === 'ours'))).toEqual([])
  })

  // Codes that the project knew from memory, or with doubt, when its code list was drawn up, and has not found published.
  it.each([
    ['http://snomed.info/sct', ['72900001', '35917007', '55237006 as a grade', '310634005', '387575000', '395739004']],
    ['http://loinc.org', ['22637-3', '60568-3', '77353-1', '77354-9']],
    ['http://hl7.org/fhir/sid/icd-10-cm', ['D12.1', 'K62.1', 'K91.71', 'K91.840', 'K92.2', 'R19.5', 'Z80.0']],
    ['http://hl7.org/fhir/sid/icd-10-cm', ['Z86.010', 'Z86.0100', 'Z86.0101', 'Z86.0102', 'Z86.0109', 'K50', 'K51']],
    ['http://hl7.org/fhir/sid/icd-10', ['T81.0', 'T81.2', 'K50', 'K51']],
    ['https://fhir.hl7.org.uk/CodeSystem/OPCS-4', ['H21']],
  ])('from memory, in %s: %j are in no default set or map', (system, codes) => {
    expect(all.filter((one) => one.system === system && codes.includes(one.code))).toEqual([])
  })

  it('severe dysplasia is a diagnosis, but no grade until it is confirmed to mean high grade', () => {
    const holding = all.filter(({ code }) => code === '55237006').map(({ holder }) => holder)
    expect(holding.sort()).toEqual(['ConceptMap histology', 'ValueSet dysplasia'])
  })
})

describe('the code system of facts', () => {
  it('defines every concept in a sentence, once', () => {
    const concepts = facts?.concept ?? []
    expect(facts?.count).toBe(concepts.length)
    expect(factCodes.size).toBe(concepts.length)
    expect(concepts.filter(({ definition }) => !/^[A-Z].*\.$/.test(definition ?? ''))).toEqual([])
  })

  it('has every code of ours that a value set or map names', () => {
    const named = all.filter(({ system }) => system === factSystem).map(({ code }) => code)
    expect(named.filter((code) => !factCodes.has(code))).toEqual([])
  })

  it('has every word to which a map leads', () => {
    const targets = conceptMaps.flatMap(({ group }) =>
      (group ?? []).flatMap(({ target, element }) =>
        element.flatMap(({ target: to }) => (to ?? []).map(({ code }) => ({ system: target, code: code ?? '' }))),
      ),
    )
    expect(targets.length).toBeGreaterThan(50)
    expect(targets.filter(({ system, code }) => system !== factSystem || !factCodes.has(code))).toEqual([])
  })

  // Words that never come as a code of ours: elements of FHIR with words of their own, and what linkage concludes.
  const elsewhere = new Set([
    'sex',
    'operatorRole',
    'report',
    'completion',
    'extentEvidence',
    'comfortScale',
    'preparationScale',
    'pathology',
    'histologySource',
    'severity',
    'kind',
    'perforationSeverity',
    'bleedingSeverity',
  ])

  it('has the words of every coded fact of the record', () => {
    const absent: string[] = []
    const check = (record: Readonly<Record<string, Field>>): void => {
      for (const [name, { values = [], of }] of Object.entries(record)) {
        if (of) check(of)
        if (!elsewhere.has(name))
          absent.push(...values.filter((word) => !factCodes.has(word)).map((word) => `${name}: ${word}`))
      }
    }
    check(fields)
    expect(absent).toEqual([])
  })
})
