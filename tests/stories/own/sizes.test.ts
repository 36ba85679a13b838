import { describe, it } from 'vitest'
import { ask } from '../ask.ts'
import { examination, type PolypFacts, pathology, quantity, type Resource, tubularAdenoma } from '../examination.ts'
import { expectAnswers, expectFacts } from '../expectations.ts'

// Quantity, comparator and Range: FHIR R4; units: UCUM. A bound is not a size.
const adenoma = (...pots: string[]) =>
  pathology('p', {
    issued: '2026-03-14T10:00:00Z',
    results: pots.map((specimen) => ({ specimen, code: tubularAdenoma })),
  })
const sized = (size: Resource): PolypFacts => ({ size, handling: 'removed', specimen: 'pot' })

describe('how large it was', () => {
  it('smaller than 5 mm is a bound, not 5 mm', () => {
    // Usual wrong answer: 5.
    const bound = { valueQuantity: { ...quantity(5, 'mm'), comparator: '<' } }
    const story = ask([...examination({ id: 'a', polyps: [sized(bound)] }), ...adenoma('pot')])
    expectFacts(story, {
      polyps: [{ sizeMillimetres: undefined, sizeAtLeastMillimetres: undefined, sizeAtMostMillimetres: 5 }],
      adenomaCount: 1,
      largestAdenomaMillimetres: undefined,
    })
    expectAnswers(story, { us: 'met' })
  })

  it.each([
    ['1.2 cm', { valueQuantity: quantity(1.2, 'cm') }, 12],
    ['the text "12 mm"', { valueString: '12 mm' }, 12],
    ['a unit in words', { valueQuantity: { value: 12, unit: 'mm' } }, 12],
  ])('%s is 12 mm', (_, size, millimetres) => {
    // Usual wrong answer: 1.2 mm.
    const story = ask([...examination({ id: 'a', polyps: [sized(size)] }), ...adenoma('pot')])
    expectFacts(story, {
      polyps: [{ sizeMillimetres: millimetres, sizeAtLeastMillimetres: 12, sizeAtMostMillimetres: 12 }],
      largestAdenomaMillimetres: 12,
    })
  })

  it('a range is its two ends', () => {
    // Usual wrong answer: the middle, or the larger.
    const range = { valueRange: { low: quantity(5, 'mm'), high: quantity(7, 'mm') } }
    const story = ask([...examination({ id: 'a', polyps: [sized(range)] }), ...adenoma('pot')])
    expectFacts(story, {
      polyps: [{ sizeMillimetres: undefined, sizeAtLeastMillimetres: 5, sizeAtMostMillimetres: 7 }],
      largestAdenomaMillimetres: undefined,
    })
  })
})
