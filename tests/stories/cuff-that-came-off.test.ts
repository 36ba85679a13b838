import { describe, expect, it } from 'vitest'
import { condition, given } from './also-recorded.ts'
import { ask } from './ask.ts'
import { expectCourse } from './course-and-preparation.ts'
import {
  amount,
  type ExaminationFacts,
  examination,
  fact,
  type PolypFacts,
  pathology,
  quantity,
  tubularAdenoma,
  whole,
  word,
  yesNo,
} from './examination.ts'
import { expectAnswers, expectFacts } from './expectations.ts'
import { northmoor } from './northmoor.ts'
import { expectNothingAfterwards } from './nothing-afterwards.ts'
import { everyKind, expectFound, nothingFound } from './what-was-found.ts'

// What an attachment did is our own vocabulary; an injury without consequence is no adverse event (ASGE 2010, AGREE 2022: read);
// UK 2016 accepts a photographed caecum whatever instrument reached it.
const polyp = (specimen: string): PolypFacts => ({ site: 'sigmoid', millimetres: 4, handling: 'removed', specimen })
const patient: ExaminationFacts = {
  id: 'j',
  birthDate: '1955-01-01',
  reasons: ['symptoms'],
  procedure: { usedCode: [fact('cuff')] },
}
/** Of 4 mm in the sigmoid, of which nobody says a grade. */
const smallAdenomas = {
  us: 'met',
  eu: 'met',
  polypsEu: 'met',
  polyps: 'met',
  perPositive: 'met',
  ...everyKind('not-met'),
  optical: 'met',
  advanced: 'not-recorded',
  diminutive: 'met',
} as const
const adenomas = (...pots: string[]) =>
  pathology('p', {
    issued: '2026-03-15T10:00:00Z',
    results: pots.map((specimen) => ({ specimen, code: tubularAdenoma })),
  })

const cameOff: ExaminationFacts = {
  ...patient,
  procedure: { usedCode: [fact('cuff'), fact('adult-colonoscope'), fact('paediatric-colonoscope')] },
  polyps: [polyp('pot-1'), polyp('pot-2')],
  said: [
    word('distal-attachment', 'before-insertion'),
    word('attachment-outcome', 'removed', {
      component: [
        yesNo('attachment-removed-before-caecum', true),
        word('attachment-removal-reason', 'narrowed-sigmoid'),
        yesNo('attachment-reinserted', false),
      ],
    }),
    yesNo('instrument-exchanged', true),
    amount('insertion-time', 22, 'min'),
    word('ileal-intubation', 'not-attempted'),
    word('rectal-retroflexion', 'not-attempted'),
    yesNo('mucosal-injury', true, {
      bodySite: fact('sigmoid'),
      component: [yesNo('mucosal-injury-treated', false)],
    }),
    whole('comfort-zero-to-four', 4, { component: [word('comfort-scorer', 'nurse')] }),
  ],
}
const drugs = [
  given('midazolam', 'j', { id: 'midazolam-1', dose: quantity(1, 'mg') }),
  given('midazolam', 'j', { id: 'midazolam-2', dose: quantity(1, 'mg') }),
  given('fentanyl', 'j', { dose: quantity(50, 'ug') }),
  given('nitrous-oxide', 'j', {}),
]

describe('the cuff that came off', () => {
  const resources = [...examination(cameOff), ...drugs, ...adenomas('pot-1', 'pot-2')]

  it('is attached by intention and removed by what happened; twenty-two minutes, not twelve', () => {
    expectFacts(ask(resources), {
      age: 71,
      attachment: 'before-insertion',
      attachmentKind: 'cuff',
      attachmentOutcome: 'removed',
      attachmentRemovedBeforeCaecum: true,
      attachmentRemovalReason: 'narrowed-sigmoid',
      attachmentReinserted: false,
      // Procedure.usedCode has no order (R4): with which of the two it began, nobody says.
      instrument: undefined,
      instrumentExchanged: true,
      insertionMinutes: 22,
      caecumReached: true,
      ileum: 'not-attempted',
      retroflexion: 'not-attempted',
      severeDiverticulosis: false,
      strictureKnown: false,
    })
  })

  it('the tear is an injury and no event; two adenomas; every drug has its dose, and nitrous oxide is no sedation', () => {
    const story = ask(resources)
    expectFacts(story, {
      mucosalInjury: true,
      mucosalInjurySite: 'sigmoid',
      mucosalInjuryTreated: false,
      eventCount: 0,
      perforation: false,
      adenomaCount: 2,
      largestAdenomaMillimetres: 4,
      midazolamMilligrams: 2,
      fentanylMicrograms: 50,
      pethidineMilligrams: 0,
      sedated: true,
      nitrousOxide: true,
      reversalAgent: false,
    })
    // Twenty-two minutes from first insertion; ileum and retroflexion not tried, for no recorded reason.
    const notTried = {
      'ileum-entered-of-attempted-descriptive': 'out',
      'ileum-entered-of-all-descriptive': 'not-met',
      'rectal-retroflexion-rate-uk-2016': 'not-met',
      'rectal-retroflexion-of-attempted-descriptive': 'out',
    } as const
    expectCourse(story, {
      reason: 'another',
      but: {
        ...notTried,
        'insertion-time-descriptive': 'met',
        'caecum-reached-within-10-minutes-descriptive': 'not-met',
        'caecum-reached-within-15-minutes-descriptive': 'not-met',
        'comfort-recorded-descriptive': 'met',
      },
    })
    expect(story.answer('insertion-time-descriptive').value).toBe(22)
    expectAnswers(story, {
      caecum: 'met',
      caecumAdjusted: 'met',
      us: 'met',
      uk: 'met',
      perColonoscopy: { code: 'met', value: 2 },
      preparation: 'met',
      perforation: 'not-met',
      bleeding: 'not-met',
      withdrawal: 'out',
    })
    expect(story.rows[0]?.attachment).toBe('before-insertion')
    expectFound(story, smallAdenomas)
    // The tear is an injury and no event; the diverticula were found during it, not known before.
    expectNothingAfterwards(story, { removed: 'not-met', sedated: true, mucosalInjury: 'met' })
    expectAnswers(story, {
      attachedBefore: 'met',
      attachmentAdded: 'not-met',
      // Reason beside: a fixed or narrowed sigmoid; and before the caecum.
      attachmentRemoved: { code: 'met', besides: [0, 7] },
      attachmentLost: 'not-met',
      attachmentReinserted: 'not-met',
      attachmentCaution: 'not-met',
      attachmentWithheld: 'out',
      attachmentTrialExclusion: 'not-met',
      attachmentLeftOn: 'not-met',
    })
  })

  it('a 4 of the scale from 0 to 4 is a 5 of 1 to 5 only by the source’s declared map', () => {
    const apart = { comfortScale: 'zero-to-four', comfortScore: 4, comfortScorer: 'nurse' } as const
    expectFacts(ask(resources), { ...apart, comfortOneToFive: undefined })
    const comfortMap = { '0': 1, '1': 2, '2': 3, '3': 4, '4': 5 }
    expectFacts(ask(resources, '2027-01-01', { ...northmoor, comfortMap }), { ...apart, comfortOneToFive: 5 })
    // 4 and 5 of 5 are significant (doi 10.1097/MEG.0000000000000360); the composite has 1 to 3 (doi 10.1055/s-0043-115897).
    const expected = {
      'moderate-or-severe-discomfort-rate-uk-2016': ['not-recorded', 'met'],
      'discomfort-rate-zero-to-four-scale-descriptive': ['met', 'met'],
      'intubation-composite-descriptive': ['not-recorded', 'not-met'],
    }
    for (const [id, [unmapped, mapped]] of Object.entries(expected)) {
      expect(ask(resources).answer(id).code, id).toBe(unmapped)
      expect(ask(resources, '2027-01-01', { ...northmoor, comfortMap }).answer(id).code, id).toBe(mapped)
    }
  })

  it('at 71, each drug is in its own medians from 70 on; nitrous oxide beside them is neither sedation nor the lack of it', () => {
    const story = ask(resources)
    const answers = (drug: string) =>
      [
        `median-${drug}-dose-70-and-over-uk-2016`,
        `median-${drug}-dose-all-patients-70-and-over-descriptive`,
        `median-${drug}-dose-under-70-uk-2016`,
        `median-${drug}-dose-all-patients-under-70-descriptive`,
      ].map((id) => story.answer(id).value ?? story.answer(id).code)
    expect(answers('midazolam')).toEqual([2, 2, 'out', 'out'])
    expect(answers('fentanyl')).toEqual([50, 50, 'out', 'out'])
    expect(answers('pethidine')).toEqual(['out', 0, 'out', 'out'])
    expect(story.answer('median-propofol-dose-descriptive').code).toBe('out')
    expect(story.answer('unsedated-share-descriptive')).toEqual({ code: 'not-met' })
    expect(story.answer('reversal-agent-rate-descriptive').code).toBe('not-met')
    expect(story.answer('good-patient-experience-rate-descriptive').code).toBe('not-recorded')
    // Two sent, so retrieved; with what they were taken nobody says.
    expect(story.answer('polyp-retrieval-rate-uk-2016')).toMatchObject({ value: 2, over: 2 })
    expect(story.answer('cold-snare-rate-4-to-9-mm-us-2024')).toMatchObject({ over: 0, itemsNotRecorded: 2 })
  })

  it('one kind of colonoscope and no exchange: it began with that one', () => {
    expectFacts(ask(examination({ ...patient, procedure: { usedCode: [fact('adult-colonoscope')] } })), {
      instrument: 'adult',
      instrumentExchanged: undefined,
      attachmentKind: undefined,
    })
  })
})

describe('its twins', () => {
  it('added on a second pass: its own class, never attached before insertion', () => {
    const story = ask([
      ...examination({
        ...patient,
        polyps: [polyp('pot-1')],
        said: [word('distal-attachment', 'added-later'), word('attachment-outcome', 'kept')],
      }),
      ...adenomas('pot-1'),
    ])
    expectFacts(story, {
      attachment: 'added-later',
      attachmentKind: 'cuff',
      attachmentOutcome: 'kept',
      attachmentRemovedBeforeCaecum: false,
      adenomaCount: 1,
    })
    expectAnswers(story, { caecum: 'met', us: 'met', uk: 'met', perColonoscopy: { code: 'met', value: 1 } })
    expectCourse(story, { reason: 'another' })
    expectFound(story, smallAdenomas)
    expect(story.rows[0]?.attachment).toBe('added-later')
    expectAnswers(story, {
      attachedBefore: 'not-met',
      attachmentAdded: 'met',
      attachmentRemoved: 'not-met',
      attachmentLost: 'not-met',
      attachmentReinserted: 'out',
      attachmentCaution: 'not-met',
      attachmentWithheld: 'out',
      attachmentLeftOn: 'not-met',
    })
    expectNothingAfterwards(story, { removed: 'not-met' })
  })

  it('a stricture known beforehand and no attachment, as decided: recorded as such, caecum not reached', () => {
    const story = ask([
      ...examination({
        ...patient,
        status: 'stopped',
        stopReason: 'impassable-stricture',
        extent: 'sigmoid',
        photographs: [],
        said: [word('distal-attachment', 'none')],
        procedure: {},
      }),
      condition('j', 'stricture', fact('stricture'), { recordedDate: '2025-11-20' }),
    ])
    expectFacts(story, {
      strictureKnown: true,
      attachment: 'none',
      attachmentKind: undefined,
      attachmentRemovedBeforeCaecum: false,
      impassableStricture: true,
      caecumReached: false,
      adenomaCount: 0,
    })
    // UK 2016 removes nothing; the audit of 2011 leaves out a stricture that could not be passed.
    // US 2015 leaves a stricture in, as treating it was not the aim.
    expectCourse(story, { reason: 'another', reached: false })
    expectAnswers(story, { caecum: 'not-met', caecumAdjusted: 'excluded', us: 'not-met', uk: 'not-met' })
    expectFound(story, { ...nothingFound, usBut: { 'complete-and-prepared': 'excluded' } })
    expectNothingAfterwards(story, { removed: 'out' })
    // The caution was recorded and no attachment used: counted as that, and in no measure of use.
    expectAnswers(story, {
      attachedBefore: 'not-met',
      attachmentAdded: 'not-met',
      attachmentRemoved: 'out',
      attachmentLost: 'out',
      attachmentReinserted: 'out',
      attachmentCaution: 'out',
      attachmentWithheld: { code: 'met', besides: [0] },
      attachmentTrialExclusion: 'out',
      attachmentLeftOn: 'out',
    })
  })

  it('lost inside the patient and fetched with a net: detached, not removed, and no adverse event by itself', () => {
    const story = ask(
      examination({
        ...patient,
        said: [word('distal-attachment', 'before-insertion'), word('attachment-outcome', 'detached')],
      }),
    )
    expectFacts(story, {
      attachment: 'before-insertion',
      attachmentOutcome: 'detached',
      // Lost, it was not taken off.
      attachmentRemovedBeforeCaecum: false,
      attachmentRemovalReason: undefined,
      eventCount: 0,
    })
    expectAnswers(story, { caecum: 'met', perforation: 'not-met' })
    expectFound(story, nothingFound)
    expectCourse(story, { reason: 'another', withdrawal: 'not-recorded' })
    expectNothingAfterwards(story, { removed: 'out' })
    expectAnswers(story, {
      attachedBefore: 'met',
      // Not removed: an incident of the device, beside and in a measure of its own.
      attachmentRemoved: { code: 'not-met', besides: [8] },
      attachmentLost: 'met',
      attachmentReinserted: 'not-recorded',
      attachmentCaution: 'not-met',
      attachmentLeftOn: 'not-met',
    })
  })
})
