import { describe, expect, it } from 'vitest'
import { ask } from '../ask.ts'
import {
  examination,
  fact,
  hyperplastic,
  type PolypFacts,
  pathology,
  snomed,
  tubularAdenoma,
  word,
  yesNo,
} from '../examination.ts'
import { expectAnswers, expectFacts } from '../expectations.ts'

// Detection by histology alone: US 2024, UK 2016. A lesion known before is no new finding, and a prediction at endoscopy no
// histology: common practice, no source. SNOMED CT 313170008 is a normal colonoscopy.
const adenoma = (...pots: string[]) =>
  pathology('p', {
    issued: '2026-03-14T10:00:00Z',
    results: pots.map((specimen) => ({ specimen, code: tubularAdenoma })),
  })

describe('what was found and done', () => {
  it('a polyp seen again, taken today and an adenoma, is nothing newly found', () => {
    // Usual wrong answer: the second examination detects the first one's adenoma.
    const known: PolypFacts = {
      millimetres: 30,
      handling: 'removed',
      specimen: 'pot',
      said: [yesNo('known-lesion-seen-again', true)],
    }
    const story = ask([...examination({ id: 'a', reasons: ['surveillance'], polyps: [known] }), ...adenoma('pot')])
    expectFacts(story, {
      polypCount: 0,
      knownLesionCount: 1,
      knownLesion: true,
      adenomaFound: false,
      adenomaCount: 0,
      polypRemoved: true,
      tissueTakenOrTreated: true,
    })
    expectAnswers(story, { uk: 'not-met', bleeding: 'not-met', withdrawal: 'out' })
  })

  it('polypectomies without partOf, in the same encounter, took the polyps that were found', () => {
    // Usual wrong answer: polyps of which nobody knows what became, and nobody who could bleed.
    const story = ask([
      ...examination({ id: 'a', polyps: [{ site: 'sigmoid', millimetres: 6 }] }),
      {
        resourceType: 'Procedure',
        id: 'snare',
        status: 'completed',
        code: snomed('274031008'),
        subject: { reference: 'Patient/patient-a' },
        encounter: { reference: 'Encounter/encounter-a' },
        performedDateTime: '2026-03-10T09:21:00Z',
      },
    ])
    expectFacts(story, { polypCount: 1, polypRemoved: true, polyps: [{ site: 'sigmoid', handling: 'removed' }] })
    expectAnswers(story, { bleeding: 'not-met', withdrawal: 'out' })
  })

  it('predicted as an adenoma and reported as hyperplastic, it is hyperplastic', () => {
    // Usual wrong answer: the prediction counts.
    const story = ask([
      ...examination({
        id: 'a',
        polyps: [{ handling: 'removed', specimen: 'pot', said: [word('predicted-histology', 'conventional-adenoma')] }],
      }),
      ...pathology('p', { issued: '2026-03-14T10:00:00Z', results: [{ specimen: 'pot', code: hyperplastic }] }),
    ])
    expectFacts(story, {
      adenomaFound: false,
      hyperplasticCount: 1,
      polyps: [{ predictedHistology: 'conventional-adenoma', histology: 'hyperplastic' }],
    })
    expectAnswers(story, { us: 'not-met', perColonoscopy: { code: 'met', value: 0 } })
  })

  it('predicted alone, removed and never reported on, it is not recorded', () => {
    // Usual wrong answer: met by the prediction; or not met, so that lost reports lower the rate.
    const story = ask(
      examination({
        id: 'a',
        polyps: [{ handling: 'removed', said: [word('predicted-histology', 'conventional-adenoma')] }],
      }),
    )
    expectFacts(story, { adenomaFound: undefined, adenomaCountLower: 0, adenomaCountUpper: 1 })
    expectAnswers(story, { us: 'not-recorded' })
  })

  it('of two polyps one polypectomy names one: the other is not removed by it', () => {
    // Usual wrong answer: both removed.
    const left: PolypFacts = { site: 'rectum', millimetres: 2, handling: 'left' }
    const story = ask([
      ...examination({ id: 'a', polyps: [{ site: 'caecum', retrieval: 'not-retrieved' }, left] }),
      {
        resourceType: 'Procedure',
        id: 'snare',
        status: 'completed',
        code: snomed('274031008'),
        subject: { reference: 'Patient/patient-a' },
        partOf: [{ reference: 'Procedure/a' }],
        reasonReference: [{ reference: 'Observation/a-observation-07' }],
      },
    ])
    expectFacts(story, {
      polypCount: 2,
      polypsLeftCount: 1,
      polypsNotFoundAgainCount: 0,
      polypsWithoutObtainableHistology: 2,
      polypRemoved: true,
      polyps: [
        { site: 'caecum', handling: 'removed' },
        { site: 'rectum', handling: 'left' },
      ],
    })
    expectAnswers(story, { us: { code: 'not-met', besides: [0] }, bleeding: 'not-met' })
  })

  it('a polyp that is only tattooed: tissue was treated, nothing was removed', () => {
    // Usual wrong answer: a negative examination, since no histology will come.
    const story = ask(
      examination({
        id: 'a',
        withdrawalMinutes: 11,
        polyps: [{ site: 'ascending', millimetres: 25, handling: 'left', said: [yesNo('polyp-tattooed', true)] }],
      }),
    )
    expectFacts(story, {
      tattooPlaced: true,
      tissueTakenOrTreated: true,
      polypRemoved: false,
      polyps: [{ tattooed: true, handling: 'left' }],
    })
    // Nothing removed, biopsied, injected or treated is what the mean of withdrawal asks for.
    expectAnswers(story, { withdrawal: 'out', bleeding: 'out', us: { code: 'not-met', besides: [0] } })
  })

  it('a polyp left in place alone keeps its examination among those in which nothing was taken', () => {
    // Usual wrong answer: any polyp takes the examination out of the mean.
    const story = ask(
      examination({ id: 'a', withdrawalMinutes: 7, polyps: [{ site: 'rectum', millimetres: 2, handling: 'left' }] }),
    )
    expectFacts(story, { tissueTakenOrTreated: false, polypsLeftCount: 1 })
    expectAnswers(story, { withdrawal: { code: 'met', value: 7 } })
  })

  it('reported as a normal examination with two polyps: both stand, and the contradiction is listed', () => {
    // Usual wrong answer: normal, so no polyps; or nobody notices.
    const resources = examination({ id: 'a', polyps: [{ handling: 'left' }, { handling: 'left' }] })
    const story = ask(
      resources.map((one) =>
        one.resourceType === 'DiagnosticReport' ? { ...one, conclusionCode: [snomed('313170008')] } : one,
      ),
    )
    expectFacts(story, { polypCount: 2 })
    expect(story.takenDown().contradictions).toContain('normal examination with polyps')
  })

  it('shape, tool and resection are kept as told', () => {
    // Usual wrong answer: only what a rate needs is read.
    const said = [
      word('polyp-shape', 'pedunculated'),
      word('polyp-tool', 'hot-snare'),
      word('polyp-resection', 'en-bloc'),
      { code: fact('polyp-handling'), valueCodeableConcept: fact('removed') },
    ]
    expectFacts(ask(examination({ id: 'a', polyps: [{ said, specimen: 'pot' }] })), {
      polyps: [
        { shape: 'pedunculated', tool: 'hot-snare', resection: 'en-bloc', handling: 'removed', retrieval: 'retrieved' },
      ],
    })
  })
})
