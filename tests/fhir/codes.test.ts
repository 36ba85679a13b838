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

  it.each([undefined, null, 'text', [], { coding: 'text' }, { coding: [null, 7, {}] }])(
    '%j means nothing and does not throw',
    (odd) => {
      expect(codes.in(odd, 'colonoscopy')).toBe(false)
      expect(codes.word(odd, 'histology')).toBeUndefined()
    },
  )
})
