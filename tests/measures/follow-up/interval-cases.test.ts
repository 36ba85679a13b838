import { describe, expect, it } from 'vitest'
import { measureOf } from '../measure-of.ts'
import { asked } from './asked.ts'
import { advised, examined } from './found-and-advised.ts'
import { type Cell, intervalCases } from './interval-cases.ts'

const measures = {
  us: measureOf('advised-interval-agreement-us-2020'),
  eu: measureOf('advised-interval-agreement-eu-2020'),
  uk: measureOf('advised-interval-agreement-uk-2020'),
}

/** Every whole number of months up to fifteen years, and no further colonoscopy. */
const everyAdvice = [...Array.from({ length: 180 }, (_, index) => index + 1), 'none' as const]

/** Whether advice agrees with a cell; the European table offers ten years where it asks for no surveillance. */
function agrees(cell: Exclude<Cell, 'not applicable'>, guideline: keyof typeof measures, advice: number | 'none') {
  if (cell === 'none') return advice === 'none' || (guideline === 'eu' && advice === 120)
  return advice !== 'none' && cell[0] <= advice && advice <= cell[1]
}

describe.each(['us', 'eu', 'uk'] as const)('the table of %s 2020', (guideline) => {
  const measure = measures[guideline]

  it.each(intervalCases)('$name', ({ found, more, [guideline]: cell }) => {
    for (const advice of everyAdvice) {
      const { answer, beside } = asked(measure, examined(found, { ...more, ...advised(advice) }))
      const told = `${advice} months advised`
      if (cell === 'not applicable') {
        expect(answer.code, told).toBe('excluded')
        expect(beside, told).toEqual(['Not assessable: preparation was inadequate.'])
        continue
      }
      const isMet = agrees(cell, guideline, advice)
      expect(answer.code, told).toBe(isMet ? 'met' : 'not-met')
      // Every disagreement has exactly one reason, and agreement none.
      const reason = isMet
        ? undefined
        : advice === 'none'
          ? 'no further colonoscopy advised though one is due'
          : cell === 'none'
            ? 'a colonoscopy advised where no surveillance is due'
            : advice < cell[0]
              ? 'shorter than the table'
              : 'longer than the table'
      expect(
        beside.map((line) => line.replace(/^Disagrees: |, where surveillance is due|\.$/g, '')),
        told,
      ).toEqual(reason === undefined ? [] : [reason])
    }
  })
})
