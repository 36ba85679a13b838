import { describe, expect, it } from 'vitest'
import { condition } from '../also-recorded.ts'
import { ask } from '../ask.ts'
import {
  amount,
  examination,
  fact,
  type PolypFacts,
  pathology,
  type Resource,
  tubularAdenoma,
  word,
} from '../examination.ts'
import { expectAnswers, expectFacts } from '../expectations.ts'

// The latest signed advice stands: common practice, no source; status of an Observation: FHIR R4. A cancer is a later one
// beyond 6 months after the examination (World Endoscopy Organization 2018, from memory).
const polyp: PolypFacts = { handling: 'removed', specimen: 'pot' }
const plain = examination({ id: 'a' })

describe('advice and later cancer', () => {
  const advised = (months: number, issued: string, more: Resource = {}) => [
    word('advice', 'repeat-colonoscopy', { issued, ...more }),
    amount('advised-interval', months, 'mo', { issued, ...more }),
  ]
  const amended = [
    ...examination({
      id: 'a',
      polyps: [polyp],
      said: [...advised(60, '2026-03-10T10:00:00Z'), ...advised(36, '2026-03-20T10:00:00Z', { status: 'amended' })],
    }),
    ...pathology('p', { issued: '2026-03-18T10:00:00Z', results: [{ specimen: 'pot', code: tubularAdenoma }] }),
  ]

  it('amended after the histology, the latest signed advice stands; before that day, the first', () => {
    // Usual wrong answer: the first, or both.
    expectFacts(ask(amended), { advice: 'repeat-colonoscopy', advisedIntervalMonths: 36 })
    expectFacts(ask(amended, '2026-03-15'), { advice: 'repeat-colonoscopy', advisedIntervalMonths: 60 })
    expectAnswers(ask(amended), { us: 'met' })
    expectAnswers(ask(amended, '2026-03-15'), { us: 'pending' })
  })

  it('advice that nobody has signed is none', () => {
    // Usual wrong answer: the draft.
    const draft = advised(60, '2026-03-10T10:00:00Z', { status: 'preliminary' })
    expectFacts(ask(examination({ id: 'a', said: draft })), { advice: undefined, advisedIntervalMonths: undefined })
  })

  it('three years are 36 months', () => {
    // Usual wrong answer: 3 months.
    const said = [amount('advised-interval', 3, 'a')]
    expectFacts(ask(examination({ id: 'a', said })), { advisedIntervalMonths: 36 })
  })

  it('a cancer two years later is a later one, and is not known before it is recorded', () => {
    // Usual wrong answer: earlier cancer, or found at the examination.
    const resources = [
      ...plain,
      condition('a', 'cancer', fact('colorectal-cancer'), { onsetDateTime: '2028-03-09', recordedDate: '2028-03-09' }),
    ]
    expectFacts(ask(resources, '2028-06-01'), {
      laterColorectalCancer: true,
      laterColorectalCancerDay: 730,
      earlierColorectalCancer: false,
      cancerCount: 0,
    })
    expectFacts(ask(resources, '2028-03-01'), { laterColorectalCancer: false, laterColorectalCancerDay: undefined })
  })

  it('a cancer of "2026" may be this one or a later one: not recorded', () => {
    // Usual wrong answer: 1 January, so earlier; or later.
    const story = ask([...plain, condition('a', 'cancer', fact('colorectal-cancer'), { onsetDateTime: '2026' })])
    expectFacts(story, { laterColorectalCancer: undefined, earlierColorectalCancer: undefined })
  })

  it('a cancer found at the examination is no later one', () => {
    // Usual wrong answer: a cancer that was missed.
    const story = ask([
      ...plain,
      condition('a', 'cancer', fact('colorectal-cancer'), { onsetDateTime: '2026-03-10', recordedDate: '2026-03-16' }),
    ])
    expect(story.only().laterColorectalCancer).not.toBe(true)
    expectFacts(story, { earlierColorectalCancer: false, laterColorectalCancerDay: undefined })
  })
})
