import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import {
  microgramsOf,
  milligramsOf,
  millimetresOf,
  minutesOf,
  monthsOf,
  wholeNumberOf,
} from '../../src/fhir/quantity.ts'

// Units: The Unified Code for Units of Measure, tables of base and other units (min = 60 s, h = 60 min, cm = 10 mm,
// a = 365.25 d, mo = a/12, wk = 7 d). Shapes: FHIR R4, Observation.value[x], Quantity.comparator, Range.
const ucum = 'http://unitsofmeasure.org'
const quantity = (value: unknown, code?: string, more: object = {}) => ({
  valueQuantity: { value, ...(code !== undefined && { system: ucum, code }), ...more },
})

describe('minutes of an observation', () => {
  it.each<[string, object, unknown]>([
    ['minutes by UCUM code', quantity(8, 'min'), 8],
    ['seconds', quantity(390, 's'), 6.5],
    ['hours', quantity(0.25, 'h'), 15],
    ['a unit in words', quantity(8, undefined, { unit: 'Minutes' }), 8],
    ['a number sent as text', quantity('8.5', 'min'), 8.5],
    ['a code before the words beside it', quantity(480, 's', { unit: 'min' }), 8],
    [
      'words where the code is another system’s',
      { valueQuantity: { value: 8, system: 'http://snomed.info/sct', code: '258701004', unit: 'min' } },
      8,
    ],
    ['a third of an hour, to three decimals', quantity(1 / 3, 'h'), 20],
    ['ten seconds, to three decimals', quantity(10, 's'), 0.167],
    ['a bare integer', { valueInteger: 9 }, 9],
    ['a text with its unit', { valueString: ' 8 min ' }, 8],
    ['a text with a decimal comma', { valueString: '7,5 min.' }, 7.5],
    ['a period', { valuePeriod: { start: '2026-03-10T09:10:00+01:00', end: '2026-03-10T08:22:30Z' } }, 12.5],
    ['zero, which is a value', quantity(0, 'min'), 0],
    ['fewer than', quantity(6, 'min', { comparator: '<' }), { atMost: 6 }],
    ['at most', quantity(6, 'min', { comparator: '<=' }), { atMost: 6 }],
    ['more than', quantity(6, 'min', { comparator: '>' }), { atLeast: 6 }],
    ['at least, in seconds', quantity(360, 's', { comparator: '>=' }), { atLeast: 6 }],
    [
      'a range',
      { valueRange: { low: { value: 6, code: 'min' }, high: { value: 8, code: 'min' } } },
      { atLeast: 6, atMost: 8 },
    ],
    ['a range without an upper end', { valueRange: { low: { value: 6, code: 'min' } } }, { atLeast: 6 }],
    ['a range of one value', { valueRange: { low: { value: 6, code: 'min' }, high: { value: 6, code: 'min' } } }, 6],
  ])('%s', (_, holder, minutes) => {
    expect(minutesOf(holder as Record<string, unknown>)).toEqual(minutes)
  })

  it.each<[string, object]>([
    ['no unit', quantity(8)],
    ['a unit we do not know', quantity(8, 'ms')],
    ['a UCUM code that is no time, whatever the words say', quantity(8, 'mm', { unit: 'min' })],
    ['less than nothing', quantity(-1, 'min')],
    ['a comparator of another release', quantity(8, 'min', { comparator: 'ad' })],
    ['words', { valueString: 'about eight minutes' }],
    ['a text without a unit', { valueString: '8' }],
    ['a comma that may part thousands', { valueString: '1,200 s' }],
    ['a range that runs backwards', { valueString: '8-6 min' }],
    ['a bound on a range', { valueString: '<6-8 min' }],
    [
      'a period that ends before it starts',
      { valuePeriod: { start: '2026-03-10T09:10:00Z', end: '2026-03-10T09:00:00Z' } },
    ],
    ['a period without an end', { valuePeriod: { start: '2026-03-10T09:10:00Z' } }],
    ['a clock time', { valueTime: '00:08:00' }],
    ['a ratio', { valueRatio: { numerator: { value: 8, code: 'min' } } }],
    ['a yes', { valueBoolean: true }],
    ['a code', { valueCodeableConcept: { text: '8 min' } }],
    ['a number too large to be kept', quantity(1e308, 'h')],
    ['a value with a reason for its absence', { ...quantity(8, 'min'), dataAbsentReason: { text: 'unknown' } }],
    ['a text of a hundred thousand digits', { valueString: '1'.repeat(100_000) }],
    ['a quantity that is none', { valueQuantity: 8 }],
  ])('%s is unreadable', (_, holder) => {
    expect(minutesOf(holder as Record<string, unknown>)).toBe('unreadable')
  })

  it.each<[string, object]>([
    ['nothing', {}],
    ['a reason for its absence', { dataAbsentReason: { text: 'unknown' } }],
    ['a quantity without a number', { valueQuantity: { unit: 'min' } }],
    ['an empty text', { valueString: ' ' }],
    ['only components', { component: [quantity(8, 'min')] }],
  ])('%s is nothing', (_, holder) => {
    expect(minutesOf(holder as Record<string, unknown>)).toBeUndefined()
  })
})

describe('millimetres', () => {
  it.each<[string, object, unknown]>([
    ['mm', quantity(7, 'mm'), 7],
    ['cm', quantity(1.2, 'cm'), 12],
    ['a text', { valueString: '7,5 mm' }, 7.5],
    ['a bound in a text', { valueString: '< 5 mm' }, { atMost: 5 }],
    ['a bound with one sign', { valueString: '≥10mm' }, { atLeast: 10 }],
    ['a range in a text', { valueString: '5-7 mm' }, { atLeast: 5, atMost: 7 }],
    ['a range in words, each end with its unit', { valueString: '8 mm to 1.2 cm' }, { atLeast: 8, atMost: 12 }],
    ['metres, which no polyp is measured in', quantity(1, 'm'), 'unreadable'],
    ['two dimensions', { valueString: '5 x 7 mm' }, 'unreadable'],
    ['a period', { valuePeriod: { start: '2026-03-10T09:00:00Z', end: '2026-03-10T09:10:00Z' } }, 'unreadable'],
  ])('%s', (_, holder, millimetres) => {
    expect(millimetresOf(holder as Record<string, unknown>)).toEqual(millimetres)
  })
})

describe('months and doses', () => {
  it.each<[string, object, unknown]>([
    ['three years', quantity(3, 'a'), 36],
    ['six months', quantity(6, 'mo'), 6],
    ['two weeks: 14 days of 365.25/12 to the month', quantity(2, 'wk'), 0.46],
    ['1-2 years', { valueString: '1-2 years' }, { atLeast: 12, atMost: 24 }],
  ])('%s', (_, holder, months) => {
    expect(monthsOf(holder as Record<string, unknown>)).toEqual(months)
  })

  it.each<[string, object, unknown, unknown]>([
    ['micrograms by UCUM code', { value: 50, code: 'ug' }, 50, 0.05],
    ['micrograms with the micro sign', { value: 50, unit: '\u00b5g' }, 50, 0.05],
    ['micrograms with the Greek letter', { value: 50, unit: '\u03bcg' }, 50, 0.05],
    ['milligrams', { value: 0.1, code: 'mg' }, 100, 0.1],
    ['grams', { value: 1, code: 'g' }, 1_000_000, 1000],
    ['a bound', { value: 2, code: 'mg', comparator: '<' }, { atMost: 2000 }, { atMost: 2 }],
    ['millilitres', { value: 2, code: 'mL' }, 'unreadable', 'unreadable'],
  ])('%s', (_, dose, micrograms, milligrams) => {
    expect(microgramsOf(dose)).toEqual(micrograms)
    expect(milligramsOf(dose)).toEqual(milligrams)
  })
})

describe('a score', () => {
  it.each<[string, object, unknown]>([
    ['an integer', { valueInteger: 3 }, 3],
    ['a quantity without a unit', quantity(3), 3],
    ['a quantity of unity', quantity(3, '1'), 3],
    ['a quantity of points', quantity(3, '{score}'), 3],
    ['a text of digits', { valueString: '3' }, 3],
    ['a decimal without a fraction', { valueDecimal: 3.0 }, 3],
    ['half a point', quantity(2.5), 'unreadable'],
    ['a length', quantity(3, 'mm'), 'unreadable'],
    ['a length by its words', { valueQuantity: { value: 3, unit: 'mm' } }, 'unreadable'],
    ['points by their words', { valueQuantity: { value: 3, unit: 'points' } }, 3],
    ['a bound', quantity(3, undefined, { comparator: '>' }), 'unreadable'],
    ['three scores in one text', { valueString: '3-3-2' }, 'unreadable'],
    ['words', { valueString: 'good' }, 'unreadable'],
    ['a range', { valueRange: { low: { value: 1 }, high: { value: 2 } } }, 'unreadable'],
    ['a reason for its absence', { dataAbsentReason: { text: 'not asked' } }, undefined],
    ['nothing', {}, undefined],
  ])('%s', (_, holder, score) => {
    expect(wholeNumberOf(holder as Record<string, unknown>)).toEqual(score)
  })
})

it('minutes, seconds and hours of one length are one value, however they are written', () => {
  fc.assert(
    fc.property(fc.integer({ min: 0, max: 100_000 }), (seconds) => {
      const minutes = Math.round((seconds / 60) * 1000) / 1000
      expect(minutesOf(quantity(seconds, 's'))).toBeCloseTo(minutes, 3)
      expect(minutesOf({ valueString: `${seconds} sec` })).toBe(minutesOf(quantity(seconds, 's')))
    }),
    { seed: 20261125 },
  )
})
