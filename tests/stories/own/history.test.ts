import { describe, it } from 'vitest'
import { condition } from '../also-recorded.ts'
import { ask } from '../ask.ts'
import { examination, fact, snomed, ulcerativeColitis, yesNo } from '../examination.ts'
import { expectAnswers, expectFacts } from '../expectations.ts'
import { northmoor } from '../northmoor.ts'

// US 2024 excludes inflammatory bowel disease and hereditary syndromes known beforehand; what is first seen at the examination is
// not known beforehand (choice of this service). Condition.verificationStatus, onset and abatement: FHIR R4; a partial date is
// the whole of its year or month.
const plain = examination({ id: 'a' })
const colitis = (id: string, more: object) => condition('a', id, snomed(ulcerativeColitis), { ...more })

describe('what was known beforehand', () => {
  it('a colitis that somebody ruled out is none', () => {
    // Usual wrong answer: the code is in the record, so excluded.
    const verificationStatus = {
      coding: [{ system: 'http://terminology.hl7.org/CodeSystem/condition-ver-status', code: 'refuted' }],
    }
    const story = ask([...plain, colitis('c', { recordedDate: '2020-01-01', verificationStatus })])
    expectFacts(story, { inflammatoryBowelDisease: false, inflammatoryBowelDiseaseSeen: false })
    expectAnswers(story, { us: 'not-met' })
  })

  it('a colitis since "2026" may have begun before 10 March of it or after: not recorded, and not excluded', () => {
    // Usual wrong answer: 1 January, so before.
    const story = ask([...plain, colitis('c', { onsetDateTime: '2026' })])
    expectFacts(story, { inflammatoryBowelDisease: undefined })
    expectAnswers(story, { us: { code: 'not-met', exclusionUnrecorded: true } })
  })

  it('a colitis since "2025" began before', () => {
    // Usual wrong answer: too coarse to use.
    const story = ask([...plain, colitis('c', { onsetDateTime: '2025' })])
    expectFacts(story, { inflammatoryBowelDisease: true })
    expectAnswers(story, { us: 'excluded' })
  })

  it('a syndrome recorded after the examination was not known at it', () => {
    // Usual wrong answer: excluded with hindsight.
    const story = ask([...plain, condition('a', 's', fact('hereditary-syndrome'), { recordedDate: '2026-05-02' })])
    expectFacts(story, { hereditarySyndrome: false })
    expectAnswers(story, { us: 'not-met' })
  })

  it('an answer on the examination’s own form counts like a recorded condition', () => {
    // Usual wrong answer: only conditions are history.
    const said = [yesNo('antithrombotic-use', true), yesNo('severe-diverticulosis', true), yesNo('stricture', false)]
    expectFacts(ask(examination({ id: 'a', said })), {
      antithrombotics: true,
      severeDiverticulosis: true,
      strictureKnown: false,
    })
  })

  it('where the feed of history is not complete, silence is not no, but an answer of no is', () => {
    // Usual wrong answer: nobody has a history.
    const source = { ...northmoor, completeFeeds: northmoor.completeFeeds.filter((kind) => kind !== 'history') }
    const story = ask(examination({ id: 'a', said: [yesNo('stricture', false)] }), '2027-01-01', source)
    expectFacts(story, {
      inflammatoryBowelDisease: undefined,
      hereditarySyndrome: undefined,
      strictureKnown: false,
      earlierResection: undefined,
    })
    expectAnswers(story, { us: { code: 'not-met', exclusionUnrecorded: true } })
  })

  it('a resection done as a procedure years before is an earlier resection, and names its part', () => {
    // Usual wrong answer: only conditions are history.
    const story = ask([
      ...examination({ id: 'a', withdrawalMinutes: 7 }),
      {
        resourceType: 'Procedure',
        id: 'operation',
        status: 'completed',
        code: fact('left-hemicolectomy'),
        subject: { reference: 'Patient/patient-a' },
        performedDateTime: '2018',
      },
    ])
    expectFacts(story, { earlierResection: true, resectedPart: 'left' })
    expectAnswers(story, { withdrawal: 'excluded' })
  })
})
