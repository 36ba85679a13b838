import { describe, expect, it } from 'vitest'
import { ask } from '../ask.ts'
import { amount, examination, fact, quantity, type Resource, type Said } from '../examination.ts'
import { expectAnswers, expectFacts } from '../expectations.ts'

// US 2024: mean withdrawal time of complete examinations in which nothing was taken (read). Quantity, comparator, value[x],
// dataAbsentReason and the status of an Observation: FHIR R4; units: UCUM.
describe('withdrawal time', () => {
  const timed = (value: Resource, ...more: Said[]) =>
    ask(examination({ id: 'a', said: [{ code: fact('withdrawal-time'), ...value }, ...more] }))

  it.each([
    ['480 seconds', { valueQuantity: quantity(480, 's') }, 8],
    ['the text "8 min"', { valueString: '8 min' }, 8],
    ['a whole number in a code that means minutes', { valueInteger: 8 }, 8],
    ['a decimal sent as text', { valueQuantity: { ...quantity(0, 'min'), value: '7.5' } }, 7.5],
    ['0.2 hours', { valueQuantity: quantity(0.2, 'h') }, 12],
  ])('%s is read in minutes', (_, value, minutes) => {
    // Usual wrong answer: 480 minutes, or text left aside.
    const story = timed(value)
    expectFacts(story, { withdrawalMinutes: minutes })
    expectAnswers(story, { withdrawal: { code: 'met', value: minutes } })
  })

  it.each([
    ['more than 6 minutes', { valueQuantity: { ...quantity(6, 'min'), comparator: '>' } }],
    ['the text ">6"', { valueString: '>6' }],
    ['a number without a unit', { valueQuantity: { value: 8 } }],
    ['nothing, with a reason', { dataAbsentReason: { text: 'clock failed' } }],
  ])('%s is no time that can be averaged', (_, value) => {
    // Usual wrong answer: 6, or 8.
    const story = timed(value)
    expectFacts(story, { withdrawalMinutes: undefined })
    expectAnswers(story, { withdrawal: 'not-recorded' })
  })

  it('in a component of a panel nobody has a code for, it is read all the same', () => {
    // Usual wrong answer: only the observation's own value is looked at.
    const panel = { code: { text: 'Endoscopy times' }, component: [amount('withdrawal-time', 8, 'min')] }
    const story = ask(examination({ id: 'a', said: [panel] }))
    expectFacts(story, { withdrawalMinutes: 8 })
    expectAnswers(story, { withdrawal: { code: 'met', value: 8 } })
  })

  it('a value that stands there and cannot be read is listed; one that is absent with a reason is not', () => {
    // Usual wrong answer: both are "missing".
    expect(timed({ valueString: 'about six' }).takenDown().unreadable).toContain('withdrawalMinutes')
    expect(timed({ dataAbsentReason: { text: 'clock failed' } }).takenDown().unreadable).toEqual([])
  })

  it('two different values are none, whatever their order, and are listed', () => {
    // Usual wrong answer: the last one read.
    const values = [amount('withdrawal-time', 6, 'min'), amount('withdrawal-time', 9, 'min')] as const
    for (const [one, two] of [values, [...values].reverse() as [Said, Said]]) {
      const story = ask(examination({ id: 'a', said: [one, two] }))
      expectFacts(story, { withdrawalMinutes: undefined })
      expectAnswers(story, { withdrawal: 'not-recorded' })
      expect(story.takenDown().contradictions).toContain('two different values of one measurement')
    }
  })

  it('the same value twice, in minutes and in seconds, is one value', () => {
    // Usual wrong answer: a contradiction.
    const story = timed({ valueQuantity: quantity(8, 'min') }, amount('withdrawal-time', 480, 's'))
    expectFacts(story, { withdrawalMinutes: 8 })
    expect(story.takenDown().contradictions).toEqual([])
  })

  it('a preliminary value gives way to the final one', () => {
    // Usual wrong answer: a contradiction, or whichever came first.
    const story = timed(
      { valueQuantity: quantity(6, 'min'), status: 'preliminary' },
      amount('withdrawal-time', 9, 'min'),
    )
    expectFacts(story, { withdrawalMinutes: 9 })
    expectAnswers(story, { withdrawal: { code: 'met', value: 9 } })
  })

  it('no minutes at all are no withdrawal', () => {
    // Usual wrong answer: 0 pulls the mean down.
    const story = timed({ valueQuantity: quantity(0, 'min') })
    expectFacts(story, { withdrawalMinutes: undefined })
    expectAnswers(story, { withdrawal: 'not-recorded' })
  })
})
