import { readdirSync } from 'node:fs'
import { describe, expect, it } from 'vitest'
import { answerTo, type Facts, found } from './examined.ts'
import { circumstances, type Expected, expected } from './expected.ts'

const perPositive = 'adenomas-per-positive-colonoscopy-descriptive'
const optical = 'adenoma-detection-rate-with-optical-diagnosis-descriptive'
/** Measures that need no histology. */
const isOfPolyps = ({ classes }: Expected) => classes.includes('other')
/** What an examination answers that is in, and in which nothing counts. */
const nothing = ({ id }: Expected) => (id === perPositive ? 'excluded' : 'not-met')

/** An examination that counts: of a reason that is in, with a polyp of a class that counts. */
function counting({ reasons, polyp, classes }: Expected): Facts {
  const reason = Object.keys(reasons).find((name) => reasons[name as keyof typeof reasons] === 'met')
  const [histology] = classes
  return { referralReason: reason, ...found({ ...polyp, histology }) } as Facts
}

it('every measure of what is found is in the table', () => {
  const files = readdirSync('measures')
    .map((name) => name.match(/^Measure-(.*detection.*|adenomas-per-.*)\.json$/)?.[1])
    .filter((id) => id !== undefined && id !== 'adenomas-per-colonoscopy-descriptive')
  expect(expected.map(({ id }) => id).sort()).toEqual(files.sort())
})

describe.each(expected.map((one) => [one.id, one] as const))('%s', (id, one) => {
  const met = counting(one)

  it.each(Object.entries(one.reasons))('by the referral reason: %s is %s', (reason, answer) => {
    const referralReason = (reason === 'not recorded' ? undefined : reason) as Facts['referralReason']
    expect(answerTo(id, met, { referralReason }).code).toBe(answer)
  })

  it.each<[string, Facts, string]>([
    ['the year before the floor', { age: one.floor - 1 }, one.floor === 0 ? 'met' : 'out'],
    ['the floor', { age: one.floor }, 'met'],
    ['a hundred', { age: 100 }, 'met'],
    ['not recorded', { age: undefined }, one.floor === 0 ? 'met' : 'eligibility-not-recorded'],
  ])('by age: %s', (_, age, answer) => {
    expect(answerTo(id, met, age).code).toBe(answer)
  })

  it.each(Object.entries(circumstances))('%s', (name, facts) => {
    const answer = one.excluding.includes(name) ? 'excluded' : one.outside?.includes(name) ? 'out' : 'met'
    expect(answerTo(id, met, facts).code).toBe(answer)
    // Not recorded, it does not exclude, and is counted; outside the denominator it leaves eligibility open.
    const [field] = Object.keys(facts)
    const unknown = answerTo(id, met, { [field as keyof Facts]: undefined })
    if (one.excluding.includes(name)) expect(unknown).toMatchObject({ code: 'met', exclusionUnrecorded: true })
    else expect(unknown.code).toBe(answer === 'out' ? 'eligibility-not-recorded' : 'met')
  })

  it.each([
    'conventional-adenoma',
    'traditional-serrated-adenoma',
    'sessile-serrated-lesion',
    'hyperplastic',
    'cancer',
    'other',
  ] as const)('by the class of the polyp: %s', (histology) => {
    const answer = one.classes.includes(histology) ? 'met' : nothing(one)
    expect(answerTo(id, met, found({ ...one.polyp, histology })).code).toBe(answer)
  })

  it('nothing found is nothing met', () => {
    const { referralReason } = met
    expect(answerTo(id, { referralReason }).code).toBe(nothing(one))
  })

  it('what is found is not recorded where neither polyps nor histology are', () => {
    const unrecorded = Object.fromEntries(Object.keys(found()).map((field) => [field, undefined]))
    expect(answerTo(id, met, unrecorded).code).toBe('not-recorded')
  })

  it('a polyp whose report never came leaves it open; one whose report may still come is pending', () => {
    const open = found({ ...one.polyp, histology: undefined })
    expect(answerTo(id, met, open).code).toBe(isOfPolyps(one) ? 'met' : 'not-recorded')
    expect(answerTo(id, met, open, { pathology: 'pending' }).code).toBe(isOfPolyps(one) ? 'met' : 'pending')
    // One that counts is confirmed already: still nothing is settled.
    expect(answerTo(id, met, { pathology: 'pending' }).code).toBe(isOfPolyps(one) ? 'met' : 'pending')
  })

  it('a polyp that can have no histology is not met, and counted beside', () => {
    const lost = found({ ...one.polyp, retrieval: 'not-retrieved', predictedHistology: 'hyperplastic' })
    const answer = answerTo(id, met, lost)
    if (isOfPolyps(one)) expect(answer).toEqual({ code: 'met' })
    else if (id === perPositive) expect(answer.code).toBe('excluded')
    else expect(answer).toMatchObject({ code: 'not-met', besides: [0] })
    // What is predicted is never histology, but where the measure says so.
    const predicted = found({ ...one.polyp, retrieval: 'not-retrieved', predictedHistology: one.classes[0] })
    expect(answerTo(id, met, predicted).code).toBe(isOfPolyps(one) || id === optical ? 'met' : nothing(one))
  })
})
