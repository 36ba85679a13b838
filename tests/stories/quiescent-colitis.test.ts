import { describe, expect, it } from 'vitest'
import { condition } from './also-recorded.ts'
import { ask } from './ask.ts'
import { dysplasia, examination, pathology, snomed, tubularAdenoma, ulcerativeColitis, word } from './examination.ts'
import { expectAnswers, expectFacts } from './expectations.ts'

// US 2024 excludes inflammatory bowel disease; UK 2016 does not state it. Dysplasia in a random biopsy is no adenoma.
const pots = ['random-1', 'random-2', 'random-3', 'random-4', 'random-5', 'random-6']
const colitis = {
  id: 'e',
  birthDate: '1974-01-01',
  withdrawalMinutes: 18,
  polyps: [
    {
      site: 'transverse',
      millimetres: 4,
      handling: 'removed' as const,
      specimen: 'polyp',
      said: [word('polyp-tool', 'cold-forceps')],
    },
  ],
  biopsyPots: pots,
  said: [word('distal-attachment', 'before-insertion'), word('attachment-outcome', 'kept')],
}
const lowGrade = { component: [word('dysplasia-grade', 'low-grade')] }
const report = pathology('p', {
  issued: '2026-03-15T10:00:00Z',
  results: [
    { specimen: 'polyp', code: tubularAdenoma, more: lowGrade },
    { specimen: 'random-1', code: dysplasia, more: lowGrade },
    ...pots.slice(1).map((specimen) => ({ specimen, code: '30389008' })),
  ],
})

describe('quiescent colitis with an incidental adenoma', () => {
  it('known beforehand: excluded by US 2024, met by UK 2016, one adenoma, no part in the withdrawal mean', () => {
    const known = { code: snomed(ulcerativeColitis), recorded: '2011-05-01' }
    const story = ask([...examination({ ...colitis, reasons: ['surveillance'], history: [known] }), ...report])
    expect(story.records[0]).toMatchObject({ inflammatoryBowelDisease: true, adenomaCount: 1, otherHistologyCount: 6 })
    expect(story.answer('adenoma-detection-rate-us-2024').code).toBe('excluded')
    expect(story.answer('adenoma-detection-rate-uk-2016').code).toBe('met')
    expect(story.answer('withdrawal-time-us-2024').code).toBe('out')
    // One small tubular adenoma of low grade: not an advanced one. The invisible dysplasia is a class of its own.
    expectFacts(story, {
      adenomaCount: 1,
      largestAdenomaMillimetres: 4,
      villousAdenomaFound: false,
      highGradeDysplasiaFound: false,
      colitisDysplasiaFound: true,
      polypCount: 1,
      polypRemoved: true,
      tissueTakenOrTreated: true,
      inflammatoryBowelDiseaseSeen: false,
      polyps: [{ site: 'transverse', sizeMillimetres: 4, tool: 'cold-forceps', histology: 'conventional-adenoma' }],
      attachment: 'before-insertion',
    })
    expectAnswers(story, { perColonoscopy: 'excluded', caecum: 'met', preparation: 'met', bleeding: 'not-met' })
  })

  it('in remission, and seen severe on the day itself: what was known beforehand stays quiescent', () => {
    // The caution of the attachment trials is active or severe colitis known before (doi 10.1055/s-0041-107900).
    const remission = condition('e', 'colitis', snomed(ulcerativeColitis), {
      recordedDate: '2011-05-01',
      clinicalStatus: {
        coding: [{ system: 'http://terminology.hl7.org/CodeSystem/condition-clinical', code: 'remission' }],
      },
    })
    const facts = { ...colitis, reasons: ['surveillance'] }
    expectFacts(ask([...examination(facts), remission, ...report]), {
      inflammatoryBowelDisease: true,
      inflammatoryBowelDiseaseActivity: 'quiescent',
    })
    const severe = word('inflammatory-activity', 'severe', { effectiveDateTime: '2026-03-10T09:05:00Z' })
    const story = ask([...examination({ ...facts, said: [...colitis.said, severe] }), remission, ...report])
    expectFacts(story, {
      inflammatoryBowelDiseaseActivity: 'quiescent',
      attachment: 'before-insertion',
      attachmentOutcome: 'kept',
    })
    expectAnswers(story, { us: 'excluded', uk: 'met' })
  })

  it('first recognised at this examination: kept by US 2024', () => {
    const seenToday = { code: snomed(ulcerativeColitis), recorded: '2026-03-10' }
    const story = ask([...examination({ ...colitis, reasons: ['symptoms'], history: [seenToday] }), ...report])
    expectFacts(story, {
      inflammatoryBowelDisease: false,
      inflammatoryBowelDiseaseSeen: true,
      inflammatoryBowelDiseaseActivity: undefined,
      adenomaCount: 1,
    })
    expectAnswers(story, { withdrawal: 'out', perColonoscopy: { code: 'met', value: 1 } })
    expect(story.answer('adenoma-detection-rate-us-2024').code).toBe('met')
    expect(story.answer('adenoma-detection-rate-uk-2016').code).toBe('met')
  })
})
