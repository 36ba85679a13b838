import type { ConceptMap } from 'fhir/r4'
import { describe, expect, it } from 'vitest'
import { factSystem } from '../../src/fhir/canonical.ts'
import { canonicalSystem } from '../../src/fhir/code-system-aliases.ts'
import { Codes } from '../../src/fhir/codes.ts'
import { published } from './published.ts'

const concept = (system: string, code: string) => ({ coding: [{ system, code }] })
const local: ConceptMap = {
  resourceType: 'ConceptMap',
  status: 'active',
  group: [
    {
      source: 'https://codes.northmoor.example/procedures',
      target: 'http://snomed.info/sct',
      element: [
        { code: 'KOLO', target: [{ code: '73761001', equivalence: 'equivalent' }] },
        { code: 'GASTRO', target: [{ equivalence: 'unmatched' }] },
      ],
    },
    {
      source: 'https://codes.northmoor.example/reasons',
      target: factSystem,
      element: [{ code: '7', target: [{ code: 'surveillance', equivalence: 'equivalent' }] }],
    },
  ],
}

describe('a code means what the published artefacts say', () => {
  const codes = new Codes(published, [local])

  // OIDs: HL7's registry of code systems, as printed in the FHIR R4 terminology pages.
  it.each([
    'http://snomed.info/sct',
    'https://snomed.info/sct',
    'http://snomed.info/sct/',
    'urn:oid:2.16.840.1.113883.6.96',
    '2.16.840.1.113883.6.96',
  ])('SNOMED CT written %s', (system) => {
    expect(codes.in(concept(system, '73761001'), 'colonoscopy')).toBe(true)
    expect(canonicalSystem(system)).toBe('http://snomed.info/sct')
  })

  it('needs system and code, exactly', () => {
    expect(codes.in(concept('http://loinc.org', '73761001'), 'colonoscopy')).toBe(false)
    expect(codes.in(concept('http://snomed.info/sct', '7376100'), 'colonoscopy')).toBe(false)
    expect(codes.in({ text: 'Colonoscopy', coding: [{ display: 'Colonoscopy' }] }, 'colonoscopy')).toBe(false)
  })

  it('a site’s own code means what it is mapped to, without a change of code', () => {
    expect(codes.in(concept('https://codes.northmoor.example/procedures', 'KOLO'), 'colonoscopy')).toBe(true)
    expect(codes.in(concept('https://codes.northmoor.example/procedures', 'GASTRO'), 'colonoscopy')).toBe(false)
    expect(codes.word(concept('https://codes.northmoor.example/reasons', '7'), 'referral-reason')).toBe('surveillance')
    expect(codes.codesIn('colonoscopy')).toContain('KOLO')
  })

  it('a site’s code may be sent by another spelling of its system than the map has', () => {
    const map = structuredClone(local)
    for (const group of map.group ?? []) group.source = '2.999.42.1'
    const spelled = new Codes(published, [map])
    expect(spelled.in(concept('urn:oid:2.999.42.1', 'KOLO'), 'colonoscopy')).toBe(true)
    expect(spelled.in(concept('urn:oid:2.999.42.10', 'KOLO'), 'colonoscopy')).toBe(false)
  })

  // FHIR R4, value set concept-map-equivalence: with "unmatched" there is no such concept, with "disjoint" it is another.
  it.each(['unmatched', 'disjoint'] as const)('%s is no translation, whatever target is named', (equivalence) => {
    const target = [{ code: '73761001', equivalence }]
    const group = [{ source: 'urn:x', target: 'http://snomed.info/sct', element: [{ code: 'A', target }] }]
    const spelled = new Codes(published, [{ resourceType: 'ConceptMap', status: 'active', group }])
    expect(spelled.in(concept('urn:x', 'A'), 'colonoscopy')).toBe(false)
    expect(spelled.unknownTargets).toEqual([])
  })

  it('names the targets of a site’s map that nobody knows here', () => {
    const map = structuredClone(local)
    map.id = 'northmoor'
    map.group?.[1]?.element.push({ code: '8', target: [{ code: 'curiosity', equivalence: 'equivalent' }] })
    expect(codes.unknownTargets).toEqual([])
    expect(new Codes(published, [map]).unknownTargets).toEqual([
      { map: 'northmoor', code: 'https://codes.northmoor.example/reasons|8', target: `${factSystem}|curiosity` },
    ])
  })

  it('any coding of a concept may be the one that is known', () => {
    const several = {
      coding: [
        { system: 'https://elsewhere.example', code: 'x' },
        { system: 'http://snomed.info/sct', code: '73761001' },
      ],
    }
    expect(codes.in(several, 'colonoscopy')).toBe(true)
  })

  it.each<[string, string, string, string | undefined]>([
    // SNOMED CT: 51342009 right colon, 32713005 caecum, 9040008 ascending colon. The map calls the right colon ascending.
    ['right colon and caecum', '51342009', '32713005', undefined],
    ['right and ascending colon', '51342009', '9040008', 'ascending'],
  ])('%s as codings of one site say one word or none, in any order', (_, one, other, site) => {
    const codings = [one, other, one].map((code) => ({ system: 'http://snomed.info/sct', code }))
    for (const coding of [codings, codings.slice(0, 2), codings.slice(1)]) {
      expect(codes.word({ coding }, 'bowel-site')).toBe(site)
      expect(codes.speaks({ coding }, 'bowel-site')).toBe(true)
      // All of them are of the right segment.
      expect(codes.word({ coding }, 'boston-segment-site')).toBe('right-segment')
    }
  })

  it('what codings dispute stays disputed, however many agree with either', () => {
    const of = (...all: [string, string][]) => ({ coding: all.map(([system, code]) => ({ system, code })) })
    const snomed = 'http://snomed.info/sct'
    const three: [string, string][] = [
      [snomed, '51342009'],
      [snomed, '32713005'],
      [factSystem, 'caecum'],
    ]
    for (const first of three)
      for (const second of three)
        for (const third of three) {
          const different = new Set([first, second, third].map(([, code]) => code)).size
          const word = codes.word(of(first, second, third), 'bowel-site')
          const hasRight = [first, second, third].some(([, code]) => code === '51342009')
          expect(word).toBe(different > 1 && hasRight ? undefined : hasRight ? 'ascending' : 'caecum')
        }
  })

  it('two different codes of ours on one concept are none, and each still says its word where maps know it', () => {
    const both = {
      coding: ['conventional-adenoma', 'high-grade'].map((code) => ({ system: factSystem, code })),
    }
    for (const one of [both, { coding: both.coding.toReversed() }]) {
      expect(codes.fact(one)).toBeUndefined()
      expect(codes.word(one, 'histology')).toBe('conventional-adenoma')
      expect(codes.word(one, 'dysplasia')).toBe('high-grade')
    }
    const yesAndNo = { coding: ['yes', 'no'].map((code) => ({ system: factSystem, code })) }
    expect(codes.fact(yesAndNo)).toBeUndefined()
  })

  it('a site’s code with two targets means both together, in any order of targets', () => {
    const mapped = (...targets: string[]) => {
      const target = targets.map((code) => ({ code, equivalence: 'equivalent' as const }))
      const group = [{ source: 'urn:x', target: 'http://snomed.info/sct', element: [{ code: 'A', target }] }]
      return new Codes(published, [{ resourceType: 'ConceptMap', status: 'active', group }])
    }
    for (const targets of [
      ['51342009', '32713005'],
      ['32713005', '51342009'],
    ]) {
      const spelled = mapped(...targets)
      expect(spelled.word(concept('urn:x', 'A'), 'bowel-site')).toBeUndefined()
      expect(spelled.word(concept('urn:x', 'A'), 'resected-part')).toBe('right')
    }
  })

  it.each([undefined, null, 'text', [], { coding: 'text' }, { coding: [null, 7, {}] }])(
    '%j means nothing and does not throw',
    (odd) => {
      expect(codes.in(odd, 'colonoscopy')).toBe(false)
      expect(codes.word(odd, 'histology')).toBeUndefined()
    },
  )
})
