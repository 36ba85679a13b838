import { describe, expect, it } from 'vitest'
import { condition, given } from './also-recorded.ts'
import { ask, northmoor } from './ask.ts'
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

// What an attachment did is our own vocabulary; an injury without consequence is no adverse event (ASGE 2010, AGREE 2022: read);
// UK 2016 accepts a photographed caecum whatever instrument reached it.
const polyp = (specimen: string): PolypFacts => ({ site: 'sigmoid', millimetres: 4, handling: 'removed', specimen })
const patient: ExaminationFacts = {
  id: 'j',
  birthDate: '1955-01-01',
  reasons: ['symptoms'],
  procedure: { usedCode: [fact('cuff')] },
}
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
  })

  it('a 4 of the scale from 0 to 4 is a 5 of 1 to 5 only by the source’s declared map', () => {
    const apart = { comfortScale: 'zero-to-four', comfortScore: 4, comfortScorer: 'nurse' } as const
    expectFacts(ask(resources), { ...apart, comfortOneToFive: undefined })
    const comfortMap = { '0': 1, '1': 2, '2': 3, '3': 4, '4': 5 }
    expectFacts(ask(resources, '2027-01-01', { ...northmoor, comfortMap }), { ...apart, comfortOneToFive: 5 })
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
    expect(story.rows[0]?.attachment).toBe('added-later')
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
    expectAnswers(story, { caecum: 'not-met', caecumAdjusted: 'excluded', us: 'not-met', uk: 'not-met' })
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
  })
})
