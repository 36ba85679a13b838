import { describe, expect, it } from 'vitest'
import { ask, northmoor } from './ask.ts'
import { examination, fact, pathology, tubularAdenoma } from './examination.ts'
import { expectAnswers, expectFacts } from './expectations.ts'

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

describe('three positive stool tests and a patient with two reasons', () => {
  it.each([
    ['an immunochemical test of the screening programme', 'positive-screening-test'],
    ['a stool DNA test without symptoms', 'positive-screening-test'],
  ])('%s: excluded by US 2024, outside UK 2016', (_, reason) => {
    const story = ask(referredFor(reason))
    expectFacts(story, { age: 55, referralReason: 'positive-screening-test', reasonCount: 1, knownLesion: false })
    expectAnswers(story, { us: 'excluded', uk: 'out', perColonoscopy: { code: 'met', value: 1 } })
  })

  it('change of bowel habit with a positive test of the family doctor: diagnostic in both', () => {
    const story = ask(referredFor('symptoms-positive-test'))
    expectFacts(story, { referralReason: 'symptoms-positive-test', reasonCount: 1 })
    expectAnswers(story, { us: 'met', uk: 'met' })
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
    expect(
      story
        .only()
        .reasons?.map(({ reason }) => reason)
        .sort(),
    ).toEqual(['surveillance', 'symptoms'])
    expectAnswers(story, { us: 'met', uk: 'met' })
  })

  describe('coded as screening, with the words "known 30 mm polyp, for resection"', () => {
    const reasonCode = [{ ...fact('screening'), text: 'Known 30 mm polyp, for resection' }]
    const contradicted = [...examination({ ...standing, procedure: { reasonCode } }), ...report]

    it('the contradiction is listed and not resolved: in only as coded', () => {
      const story = ask(contradicted)
      expectFacts(story, { referralReason: 'screening', reasonCount: 1, knownLesion: false })
      expect(story.takenDown().contradictions).toContain('screening with a lesion known before')
      expectAnswers(story, { us: 'met', uk: 'out' })
    })

    it('where the source has its text read the lesion is known, the reason stays as coded, and US 2024 excludes it', () => {
      const story = ask(contradicted, '2027-01-01', { ...northmoor, readsText: true })
      expectFacts(story, { referralReason: 'screening', reasonCount: 1, knownLesion: true })
      expect(story.takenDown().contradictions).toContain('screening with a lesion known before')
      expect(story.takenDown().rungsOf('knownLesion')).toContain('read from free text')
      // Adenomas per colonoscopy leaves out a known lesion too, by its own description.
      expectAnswers(story, { us: 'excluded', uk: 'out', perColonoscopy: 'excluded' })
    })
  })
})
