import { describe, expect, it } from 'vitest'
import { given } from '../also-recorded.ts'
import { ask } from '../ask.ts'
import { examination, quantity, whole, word, yesNo } from '../examination.ts'
import { expectAnswers, expectFacts } from '../expectations.ts'
import { northmoor } from '../northmoor.ts'

// MedicationAdministration (status, context, dosage.dose): FHIR R4; mg, ug and g: UCUM. Comfort is scored from 1 to 5
// (doi 10.1097/MEG.0000000000000360) or from 0 to 4 (doi 10.29011/JGID-101.000001), which are never pooled without a map. The
// UK 2016 table of sedation names sedatives and opioids (read); nitrous oxide is a gas of its own.
const plain = examination({ id: 'a' })

describe('what was given', () => {
  it('milligrams and micrograms add up in one unit', () => {
    // Usual wrong answer: 2 + 500 = 502 mg of midazolam.
    const story = ask([
      ...plain,
      given('midazolam', 'a', { id: 'm1', dose: quantity(2, 'mg') }),
      given('midazolam', 'a', { id: 'm2', dose: quantity(500, 'ug') }),
      given('fentanyl', 'a', { dose: quantity(0.05, 'mg') }),
      given('pethidine', 'a', { dose: quantity(0.025, 'g') }),
    ])
    expectFacts(story, {
      midazolamMilligrams: 2.5,
      fentanylMicrograms: 50,
      pethidineMilligrams: 25,
      propofolMilligrams: 0,
      sedated: true,
    })
    expectAnswers(story, { caecum: 'met' })
  })

  it.each([
    ['one vial', { value: 1, unit: 'vial' }],
    ['a number without a unit', { value: 2 }],
    ['nothing', undefined],
  ])('a dose of %s: given, but how much is not recorded', (_, dose) => {
    // Usual wrong answer: 0, or 1 mg.
    const story = ask([
      ...plain,
      given('midazolam', 'a', { id: 'm1', dose: quantity(2, 'mg') }),
      given('midazolam', 'a', dose === undefined ? { id: 'm2' } : { id: 'm2', dose }),
    ])
    expectFacts(story, { midazolamMilligrams: undefined, fentanylMicrograms: 0, sedated: true })
  })

  it('in a stay in hospital, what is given two days later belongs to no examination', () => {
    // Usual wrong answer: same encounter, so a sedated examination.
    const story = ask([
      ...examination({ id: 'a', encounterClass: 'IMP' }),
      given('midazolam', 'a', { dose: quantity(2, 'mg'), date: '2026-03-12' }),
    ])
    expectFacts(story, { setting: 'inpatient', midazolamMilligrams: 0, sedated: false })
  })

  it('nitrous oxide alone is no sedation, and is recorded', () => {
    // Usual wrong answer: sedated; or nothing given.
    const story = ask([...plain, given('nitrous-oxide', 'a', {}), given('antispasmodic', 'a', {})])
    expectFacts(story, { sedated: false, nitrousOxide: true, antispasmodic: true, midazolamMilligrams: 0 })
  })

  it('a drug that was not given, or entered in error, is not given', () => {
    // Usual wrong answer: every entry of the chart counts.
    const entry = (id: string, status: string) =>
      given('midazolam', 'a', { id, dose: quantity(2, 'mg'), more: { status } })
    const story = ask([...plain, entry('m1', 'not-done'), entry('m2', 'entered-in-error')])
    expectFacts(story, { midazolamMilligrams: 0, sedated: false })
  })

  it('from a source that does not say that it sends every drug, silence is not zero', () => {
    // Usual wrong answer: an unsedated examination.
    const completeFeeds = northmoor.completeFeeds.filter((kind) => kind !== 'medication')
    const source = { ...northmoor, completeFeeds }
    expectFacts(ask(plain, '2027-01-01', source), {
      sedated: undefined,
      midazolamMilligrams: undefined,
      nitrousOxide: undefined,
      reversalAgent: undefined,
    })
    const story = ask([...plain, given('fentanyl', 'a', { dose: quantity(50, 'ug') })], '2027-01-01', source)
    expectFacts(story, { sedated: true, fentanylMicrograms: 50, midazolamMilligrams: undefined })
  })

  it('while the report is preliminary, a drug that is not there yet may still come', () => {
    // Usual wrong answer: 0 mg.
    const story = ask(examination({ id: 'a', report: 'preliminary' }), '2026-03-11')
    expectFacts(story, { sedated: undefined, midazolamMilligrams: undefined })
    expectAnswers(story, { caecum: 'pending' })
  })

  it('an antidote is a reversal agent, and no sedative', () => {
    // Usual wrong answer: another drug nobody looks at.
    const story = ask([...plain, given('naloxone', 'a', { dose: quantity(400, 'ug') })])
    expectFacts(story, { reversalAgent: true, sedated: false })
  })

  it('led by an anaesthetist, it is sedated though the drugs stand elsewhere', () => {
    // Usual wrong answer: no drug, so unsedated.
    const story = ask(examination({ id: 'a', said: [yesNo('anaesthetist-led', true)] }))
    expectFacts(story, { anaesthetistLed: true, sedated: true })
  })
})

describe('how it felt', () => {
  const scored = (code: string, score: number, scorer?: string) =>
    examination({
      id: 'a',
      said: [whole(code, score, scorer === undefined ? {} : { component: [word('comfort-scorer', scorer)] })],
    })

  it('a 3 of 0 to 4 is moderate there, and is no 3 of 1 to 5', () => {
    // Usual wrong answer: pooled as they stand.
    expectFacts(ask(scored('comfort-zero-to-four', 3, 'nurse')), {
      comfortScale: 'zero-to-four',
      comfortScore: 3,
      comfortScorer: 'nurse',
      comfortOneToFive: undefined,
    })
    expectFacts(ask(scored('comfort-one-to-five', 3, 'patient')), {
      comfortScale: 'one-to-five',
      comfortScore: 3,
      comfortScorer: 'patient',
      comfortOneToFive: 3,
    })
  })

  it('where the declared map says nothing of a score, that score stays apart', () => {
    // Usual wrong answer: one more than the score. On some scales 4 means that the examination was abandoned.
    const source = { ...northmoor, comfortMap: { '0': 1, '1': 2, '2': 3, '3': 4 } }
    expectFacts(ask(scored('comfort-zero-to-four', 3), '2027-01-01', source), { comfortOneToFive: 4 })
    expectFacts(ask(scored('comfort-zero-to-four', 4), '2027-01-01', source), {
      comfortScore: 4,
      comfortOneToFive: undefined,
    })
  })

  it.each([
    ['comfort-one-to-five', 0],
    ['comfort-one-to-five', 6],
    ['comfort-zero-to-four', 5],
  ])('%s of %i lies outside its scale: no score, and listed', (code, score) => {
    // Usual wrong answer: the worst, or the best, of the scale.
    const story = ask(scored(code, score))
    expectFacts(story, { comfortScore: undefined, comfortOneToFive: undefined })
    expect(story.takenDown().unreadable).toContain('comfortScore')
  })
})
