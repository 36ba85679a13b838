import { describe, expect, it } from 'vitest'
import { condition } from '../also-recorded.ts'
import { ask } from '../ask.ts'
import { amount, examination, fact, type Resource, snomed, yesNo } from '../examination.ts'
import { expectFacts } from '../expectations.ts'
import { northmoor } from '../northmoor.ts'

// Invented patients. What each fact means is the record's own definition; an interval of surveillance runs from the last
// examination, and a test of a screening programme leads to one examination (common practice, no source).
const period = { start: '2026-03-01', end: '2026-03-31' }
const ofMarch = (resources: readonly Resource[]) => ask(resources, '2027-01-01', northmoor, period)
const examined = (id: string, date: string, more: Resource = {}): Resource => ({
  resourceType: 'Procedure',
  id,
  status: 'completed',
  code: snomed('73761001'),
  subject: { reference: 'Patient/patient-a' },
  performedDateTime: date,
  ...more,
})

describe('what was before an examination, and what came of it', () => {
  it('an adenoma three years ago, and nobody to say so but the problem list', () => {
    // Usual wrong answer: an adenoma on the problem list, written down at the examination that found it, is one known before it.
    const adenoma = snomed('399432003')
    const resources = examination({ id: 'a', reasons: ['surveillance'] })
    expectFacts(
      ofMarch([
        ...resources,
        examined('x', '2023-03-10'),
        condition('a', 'adenoma', adenoma, { recordedDate: '2023-03-17' }),
      ]),
      { earlierAdenoma: true, monthsSinceLastColonoscopy: 36, examinationMonth: '2026-03' },
    )
    const found = condition('a', 'adenoma', adenoma, { recordedDate: '2026-03-10' })
    expectFacts(ofMarch([...resources, found]), { earlierAdenoma: false, monthsSinceLastColonoscopy: undefined })
  })

  it('stopped for stool in February, and again in March for the same reason as then', () => {
    // Usual wrong answer: the same reason is coded again, so it was no repeat of an incomplete one; or it was three weeks after a
    // complete one.
    const stopped = examined('x', '2026-02-17', { status: 'stopped', statusReason: fact('inadequate-preparation') })
    const story = ofMarch([...examination({ id: 'a', reasons: ['positive-screening-test'] }), stopped])
    expectFacts(story, {
      referralReason: 'positive-screening-test',
      afterIncompleteExamination: undefined,
      lastExaminationInadequate: true,
      monthsSinceLastColonoscopy: 0.8,
    })
  })

  it('serrated polyposis, asked for, is a polyposis', () => {
    // Usual wrong answer: no syndrome, as the list of conditions holds none.
    expectFacts(ask(examination({ id: 'a', said: [yesNo('serrated-polyposis', true)] })), {
      serratedPolyposis: true,
      hereditarySyndrome: true,
    })
    expectFacts(ask(examination({ id: 'a', said: [yesNo('serrated-polyposis', false)] })), {
      serratedPolyposis: false,
      hereditarySyndrome: false,
    })
    const both = [yesNo('serrated-polyposis', true), yesNo('hereditary-syndrome', false)]
    const story = ask(examination({ id: 'a', said: both }))
    expectFacts(story, { serratedPolyposis: true, hereditarySyndrome: undefined })
    expect(story.takenDown().contradictions).toEqual(['history stated both ways'])
  })

  it('a family history that is written down on the day was told then or before', () => {
    // Usual wrong answer: none, as it was not recorded before.
    const code = fact('family-history-of-colorectal-cancer')
    const recorded = (recordedDate: string) =>
      ask([...examination({ id: 'a' }), condition('a', 'family', code, { recordedDate })])
    expectFacts(recorded('2025-05-02'), { familyHistoryOfColorectalCancer: true })
    expectFacts(recorded('2026-03-10'), { familyHistoryOfColorectalCancer: undefined })
    expectFacts(ask(examination({ id: 'a' })), { familyHistoryOfColorectalCancer: false })
    const undeclared = { ...northmoor, completeFeeds: [] }
    expectFacts(ask(examination({ id: 'a' }), '2027-01-01', undeclared), { familyHistoryOfColorectalCancer: undefined })
  })

  it('an examination of some day in March is of March, and of no day', () => {
    const procedure = { performedPeriod: undefined, performedDateTime: '2026-03' }
    expectFacts(ask(examination({ id: 'a', procedure })), { examinationMonth: '2026-03', examinationDate: undefined })
    const year = { performedPeriod: undefined, performedDateTime: '2026' }
    expectFacts(ask(examination({ id: 'a', procedure: year })), { examinationMonth: undefined })
    // Half past eleven at night of 31 March in UTC is April in London, where the clocks have gone forward.
    const night = { performedPeriod: { start: '2026-03-31T23:30:00Z', end: '2026-03-31T23:50:00Z' } }
    expectFacts(ask(examination({ id: 'a', procedure: night })), { examinationMonth: '2026-04' })
  })

  it('the last one elsewhere, as the patient told it, goes before an older one on record', () => {
    // Usual wrong answer: ten years, as the store knows no other.
    const resources = examination({ id: 'a', said: [amount('last-colonoscopy', 5, 'a')] })
    expectFacts(ofMarch([...resources, examined('x', '2016-03-10')]), { monthsSinceLastColonoscopy: 60 })
  })
})
