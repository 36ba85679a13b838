import { describe, expect, it } from 'vitest'
import { compile } from '../../../src/criteria/compile.ts'
import type { Colonoscopy, Polyp } from '../../../src/record/colonoscopy.ts'
import { polypFields } from '../../../src/record/findings.ts'
import { answerOf } from '../../../src/tally/answer-of.ts'
import { type Draw, drawFrom } from '../../criteria/varied-records.ts'
import { measureOf } from '../measure-of.ts'
import { longAfter } from './asked.ts'
import { advised, examined, type Found } from './found-and-advised.ts'

// Records drawn at random hardly ever have everything that an interval needs. These have: examinations as linkage makes them, with
// some facts missing. The law is that of three-valued logic: what is taken away can only make an answer unknown.
const pick = <Value>(draw: Draw, values: readonly Value[]): Value => values[draw(values.length)] as Value
const sizes = [2, 4, 5, 6, 9, 10, 12, 19, 20, 25]

function polyp(draw: Draw): Found {
  const histology = pick(draw, [
    'conventional-adenoma',
    'conventional-adenoma',
    ...polypFields.histology.values,
  ] as const)
  return {
    mm: pick(draw, sizes),
    histology,
    shape: pick(draw, polypFields.shape.values),
    site: pick(draw, ['rectum', 'sigmoid', 'ascending'] as const),
    resection: pick(draw, polypFields.resection.values),
    handling: draw(12) === 0 ? pick(draw, polypFields.handling.values) : 'removed',
    dysplasia: pick(draw, ['none', 'low-grade', 'low-grade', 'high-grade'] as const),
    ...(histology === 'conventional-adenoma' && { villous: draw(4) === 0 }),
  }
}

const advices = ['none', 3, 4, 6, 12, 36, 36, 48, 60, 84, 96, 120] as const

function record(draw: Draw): Colonoscopy {
  const made = examined(
    Array.from({ length: draw(7) }, () => polyp(draw)),
    {
      ...advised(pick(draw, advices)),
      age: pick(draw, [38, 44, 45, 60, 75, 86]),
      referralReason: pick(draw, ['screening', 'screening', 'symptoms', 'surveillance']),
      laterColorectalCancer: draw(2) === 0,
      laterColorectalCancerDay: pick(draw, [184, 500, 1096, 1097]),
      cancerWithinSixMonths: draw(2) === 0,
      monthsSinceLastColonoscopy: pick(draw, [12, 35.9, 36, 60]),
      earlierAdenoma: draw(3) === 0,
    },
  )
  const settled = { ...made, cancerCount: draw(20) === 0 ? made.cancerCount : 0 }
  return draw(3) === 0 ? without(settled, pick(draw, names)) : settled
}

const names = [...Object.keys(examined([], advised(36))), ...Object.keys(polypFields).map((part) => `polyps.${part}`)]

/** A record as it would be had one fact, or one fact of every polyp, or of one, not been recorded. */
function without(from: Colonoscopy, name: string, of?: number): Colonoscopy {
  const [field = '', part] = name.split('.')
  if (part === undefined) return { ...from, [field]: undefined }
  if (from.polyps === undefined) return from
  return {
    ...from,
    polyps: from.polyps.map((one: Polyp, index) =>
      of === undefined || of === index ? { ...one, [part]: undefined } : one,
    ),
  }
}

describe.each([
  ['advised-interval-agreement-us-2020', 150],
  ['advised-interval-agreement-eu-2020', 150],
  ['advised-interval-agreement-uk-2020', 150],
  ['interval-after-normal-screening-us-government-2024', 10],
  ['surveillance-interval-after-adenoma-us-government-2023', 20],
  ['screening-at-86-or-older-us-government-2024', 150],
  ['post-colonoscopy-cancer-rate-3-year-weo-2018', 150],
] as const)('%s', (id, least) => {
  const measure = measureOf(id)
  const { criteria } = measure.definition
  const draw = drawFrom(20261125)
  const records = Array.from({ length: 1000 }, () => record(draw))
  const fields = [...new Set(Object.values(criteria).flatMap((one) => one.fields))]

  it('taking a fact away never turns a criterion from true to false or back', () => {
    const turned = Object.entries(criteria).flatMap(([name, criterion]) => {
      const test = compile(criterion.ast)
      return records.flatMap((one) => {
        const before = test(one)
        if (before === undefined) return []
        const turn = (field: string) => ![before, undefined].includes(test(without(one, field)) as typeof before)
        return criterion.fields.filter(turn).map((field) => `${name} without ${field}`)
      })
    })
    expect(turned).toEqual([])
  })

  it('taking a fact away, of all polyps or of one, never turns met into not met or back', () => {
    const opposite: Record<string, string> = { met: 'not-met', 'not-met': 'met' }
    const decided = records.filter((one) => answerOf(measure, one, longAfter).code in opposite)
    const turned = decided.flatMap((one) => {
      const { code } = answerOf(measure, one, longAfter)
      return fields.filter((field) =>
        [undefined, 0].some((of) => answerOf(measure, without(one, field, of), longAfter).code === opposite[code]),
      )
    })
    expect(turned).toEqual([])
    expect(decided.length).toBeGreaterThan(least)
  })
})
