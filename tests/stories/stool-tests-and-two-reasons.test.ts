import { describe, expect, it } from 'vitest'
import { ask } from './ask.ts'
import { expectCourse } from './course-and-preparation.ts'
import { examination, fact, pathology, tubularAdenoma } from './examination.ts'
import { expectAnswers, expectFacts } from './expectations.ts'
import { northmoor } from './northmoor.ts'
import { expectNothingAfterwards } from './nothing-afterwards.ts'
import { everyKind, expectFound } from './what-was-found.ts'

// US 2024 measures examinations after a positive screening test apart and excludes a known lesion (guideline digest, read);
// UK 2016 is for the workload outside screening (table, read). A positive test of somebody with symptoms is diagnostic: a
// choice, since the US class is positive *screening* tests. Every patient is 55 and has one 5 mm tubular adenoma.
const standing = {
  id: 's',
  birthDate: '1971-01-01',
  polyps: [{ site: 'sigmoid', millimetres: 5, handling: 'removed' as const, specimen: 'pot' }],
}
const report = pathology('p', {
  issued: '2026-03-14T10:00:00Z',
  results: [{ specimen: 'pot', code: tubularAdenoma }],
})
const referredFor = (...reasons: string[]) => [...examination({ ...standing, reasons }), ...report]
/** The adenoma in measures of all adults; its grade is not told, so nor is whether it is advanced. */
const adenomaFound = {
  eu: 'met',
  sessileUs: 'not-met',
  serrated: 'not-met',
  polypsEu: 'met',
  polyps: 'met',
  perPositive: 'met',
  optical: 'met',
  advanced: 'not-recorded',
  large: 'not-met',
  proximal: 'not-met',
  diminutive: 'met',
  cancer: 'not-met',
} as const

describe('three positive stool tests and a patient with two reasons', () => {
  it.each([
    ['an immunochemical test of the screening programme', 'positive-screening-test'],
    ['a stool DNA test without symptoms', 'positive-screening-test'],
  ])('%s: excluded by US 2024, outside UK 2016', (_, reason) => {
    const story = ask(referredFor(reason))
    expectFacts(story, { age: 55, referralReason: 'positive-screening-test', reasonCount: 1, knownLesion: false })
    expectCourse(story, { reason: 'positive-screening-test' })
    expectAnswers(story, { us: 'excluded', uk: 'out', perColonoscopy: { code: 'met', value: 1 } })
    // The programme's standard is for its own test, and the record does not tell one positive screening test from another.
    expectFound(story, { ...adenomaFound, us: 'excluded', afterScreeningTest: 'met', sessileUs: 'excluded' })
    // The record does not tell the programme's test from another positive screening test.
    expectNothingAfterwards(story, { screening: 'after-a-positive-test', removed: 'not-met' })
  })

  it('change of bowel habit with a positive test of the family doctor: diagnostic in both', () => {
    const story = ask(referredFor('symptoms-positive-test'))
    expectFacts(story, { referralReason: 'symptoms-positive-test', reasonCount: 1 })
    expectCourse(story, { reason: 'another' })
    expectNothingAfterwards(story, { removed: 'not-met' })
    expectAnswers(story, { us: 'met', uk: 'met' })
    expectFound(story, {
      ...adenomaFound,
      us: 'met',
      usBut: { 'without-any-positive-test': 'excluded' },
      afterAnyTest: 'met',
    })
  })

  it('symptoms and the programme’s positive test stated both: the positive screening test goes before', () => {
    const story = ask(referredFor('symptoms', 'positive-screening-test'))
    expectFacts(story, { referralReason: 'positive-screening-test', reasonCount: 2 })
    expectAnswers(story, { us: 'excluded', uk: 'out' })
  })

  it.each([
    ['in this order', ['surveillance', 'symptoms']],
    ['the other way round', ['symptoms', 'surveillance']],
  ])('surveillance and bleeding, %s: both are kept, surveillance is the referral reason', (_, reasons) => {
    const story = ask(referredFor(...reasons))
    expectFacts(story, { referralReason: 'surveillance', reasonCount: 2, knownLesion: false })
    expectCourse(story, { reason: 'surveillance' })
    expectNothingAfterwards(story, { removed: 'not-met' })
    expect(
      story
        .only()
        .reasons?.map(({ reason }) => reason)
        .sort(),
    ).toEqual(['surveillance', 'symptoms'])
    expectFound(story, { ...adenomaFound, us: 'met', euWithoutSurveillance: 'excluded' })
    expectAnswers(story, { us: 'met', uk: 'met' })
  })

  describe('coded as screening, with the words "known 30 mm polyp, for resection"', () => {
    const reasonCode = [{ ...fact('screening'), text: 'Known 30 mm polyp, for resection' }]
    const contradicted = [...examination({ ...standing, procedure: { reasonCode } }), ...report]

    it('the contradiction is listed and not resolved: in only as coded', () => {
      const story = ask(contradicted)
      expectNothingAfterwards(story, { screening: 'itself', removed: 'not-met' })
      expectFacts(story, { referralReason: 'screening', reasonCount: 1, knownLesion: false })
      expectCourse(story, { reason: 'screening' })
      expect(story.takenDown().contradictions).toContain('screening with a lesion known before')
      expectAnswers(story, { us: 'met', uk: 'out' })
      expectFound(story, { ...adenomaFound, us: 'met', screening: 'met' })
    })

    it('where the source has its text read the lesion is known, the reason stays as coded, and US 2024 excludes it', () => {
      const story = ask(contradicted, '2027-01-01', { ...northmoor, readsText: true })
      expectFacts(story, { referralReason: 'screening', reasonCount: 1, knownLesion: true })
      expect(story.takenDown().contradictions).toContain('screening with a lesion known before')
      expect(story.takenDown().rungsOf('knownLesion')).toContain('read from free text')
      // Adenomas per colonoscopy leaves out a known lesion too, by its own description.
      expectAnswers(story, { us: 'excluded', uk: 'out', perColonoscopy: 'excluded' })
      // The government's measure goes by what is coded.
      expectFound(story, {
        us: 'excluded',
        eu: 'excluded',
        screening: 'met',
        us2015: 'excluded',
        polypsEu: 'excluded',
        polyps: 'excluded',
        perPositive: 'excluded',
        ...everyKind('excluded'),
      })
    })
  })
})
