import { readdirSync } from 'node:fs'
import { describe, expect, it } from 'vitest'
import { compile } from '../../../src/criteria/compile.ts'
import type { Colonoscopy } from '../../../src/record/colonoscopy.ts'
import { answerOf } from '../../../src/tally/answer-of.ts'
import { drawFrom, variedRecords } from '../../criteria/varied-records.ts'
import { measureOf, ordinary } from '../measure-of.ts'

const subjects =
  /^Measure-((caecal|caecum|unassisted|completion|landmark|ileum|rectal|insertion|withdrawal|adequate|repeat|comfort-recorded|preparation|photographs|pathology-recorded|colonoscopies|days).*)\.json$/
const ids = readdirSync('measures').flatMap((name) => subjects.exec(name)?.[1] ?? [])

/** Records of every odd kind, and ordinary ones in which every fact is now and then another, or none. */
const draw = drawFrom(20270301)
const records: Colonoscopy[] = variedRecords(500, 20270301).flatMap((odd) => {
  const changed = Object.entries(odd).filter(([name]) => name in ordinary && draw(6) === 0)
  return [odd, { ...odd, ...ordinary, ...Object.fromEntries(changed) }]
})
const longAgo = { day: 20_000, asOfDay: 21_000, pathologyLagDays: 60, eventLagDays: 0 }
const without = (record: Colonoscopy, name: string): Colonoscopy => ({ ...record, [name]: undefined })

/** Facts of which a measure asks whether they were recorded: taking one of these away is the answer itself. */
const askedAfter = (expression: string) =>
  [...expression.matchAll(/(\w+)\.(?:exists|empty)\(\)/g)].map(([, name]) => name)

it('every measure of completion, recording, volume and waiting is here', () => {
  expect(ids.length).toBeGreaterThanOrEqual(49)
})

describe.each(ids)('%s', (id) => {
  const measure = measureOf(id)
  const { criteria, besides } = measure.definition
  const all = [...Object.values(criteria), ...besides.map(({ criterion }) => criterion)]

  it('taking a fact away never turns a criterion from true to false or back', () => {
    const turned: object[] = []
    for (const { expression, ast, fields } of all) {
      const asked = askedAfter(expression)
      const answer = compile(ast)
      for (const record of records) {
        const before = answer(record)
        if (before === undefined) continue
        for (const name of fields) {
          const after = answer(without(record, name))
          if (after !== undefined && before !== after && !asked.includes(name))
            turned.push({ expression, name, before, after })
        }
      }
    }
    expect(turned).toEqual([])
  })

  it('taking a fact away never turns met into not met or back, except a fact asked after', () => {
    const settling = Object.entries(criteria).filter(([name]) => name !== 'exclusion' && name !== 'exception')
    const asked = settling.flatMap(([, { expression }]) => askedAfter(expression))
    const names = [...new Set(settling.flatMap(([, { fields }]) => fields))].filter((name) => !asked.includes(name))
    const turned: object[] = []
    let decided = 0
    for (const record of records) {
      const before = answerOf(measure, record, longAgo).code
      if (before !== 'met' && before !== 'not-met') continue
      decided++
      for (const name of names) {
        const after = answerOf(measure, without(record, name), longAgo).code
        if ((after === 'met' || after === 'not-met') && after !== before) turned.push({ name, before, after })
      }
    }
    expect(turned).toEqual([])
    expect(decided).toBeGreaterThan(5)
  })
})
