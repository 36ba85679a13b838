import type { FhirResource } from 'fhir/r4'
import { describe, expect, it } from 'vitest'
import { closestConcepts } from '../../src/wiring/closest.ts'

const facts = 'https://colonoscopy-measures.example/fhir/CodeSystem/colonoscopy-facts'
const published: readonly FhirResource[] = [
  {
    resourceType: 'CodeSystem',
    url: facts,
    status: 'active',
    content: 'complete',
    concept: [
      { code: 'withdrawal-time', display: 'Withdrawal time' },
      { code: 'tattoo', display: 'Tattoo' },
    ],
  },
  {
    resourceType: 'ValueSet',
    url: 'https://example/ValueSet/tattoo',
    status: 'active',
    compose: {
      include: [
        { system: facts, concept: [{ code: 'tattoo' }] },
        { system: 'http://snomed.info/sct', concept: [{ code: '447021001', display: 'Colonoscopy and tattooing' }] },
        { system: 'http://www.ama-assn.org/go/cpt', concept: [{ code: '45381' }] },
      ],
    },
  },
]
const closest = closestConcepts(published)

// Dice's coefficient: twice the words in common over the words of both (Dice, Ecology 1945;26:297-302).
describe('the concept of ours that words resemble', () => {
  it('is found by the words in common, in any order, number and case', () => {
    expect(closest('TIME of withdrawals')).toEqual({
      code: `${facts}|withdrawal-time`,
      display: 'Withdrawal time',
      within: facts,
    })
  })

  it('is named with the value set in which it stands', () => {
    expect(closest('tattoo')?.within).toBe('https://example/ValueSet/tattoo')
  })

  it('may be of an international terminology', () => {
    expect(closest('Colonoscopy with tattooing')?.code).toBe('http://snomed.info/sct|447021001')
  })

  it('needs half of the words: 2 of 4 and 2 give 0.67, 1 of 3 and 2 give 0.4', () => {
    expect(closest('endoscope withdrawal time minutes')?.display).toBe('Withdrawal time')
    expect(closest('time of departure, ward')).toBeUndefined()
  })

  it('is none for no words, or words that tell nothing apart', () => {
    for (const words of [undefined, '', 'of the', '17']) expect(closest(words), words).toBeUndefined()
  })
})
