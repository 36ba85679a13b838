import { describe, expect, it } from 'vitest'
import { ask } from '../ask.ts'
import { examination, fact, type Resource, type Said, snomed, word } from '../examination.ts'
import { expectAnswers, expectFacts } from '../expectations.ts'

// UK 2016: caecum, ileum or anastomosis with photographic proof in every case (read); the audit of 2011 leaves out poor
// preparation and impassable strictures, never discomfort or looping (read).
describe('how it went', () => {
  it('stopped on the way out, after the caecum, it is complete', () => {
    // Usual wrong answer: status "stopped" is a failure.
    const story = ask(examination({ id: 'a', status: 'stopped', stopReason: 'discomfort' }))
    expectFacts(story, { completion: 'completed', caecumReached: true, stopReason: undefined, extent: 'caecum' })
    expectAnswers(story, { caecum: 'met', caecumAdjusted: 'met' })
  })

  it('stopped for looping before the caecum, it is a failure in both rates', () => {
    // Usual wrong answer: adjusted away with the strictures.
    const story = ask(
      examination({ id: 'a', status: 'stopped', stopReason: 'looping', extent: 'hepatic-flexure', photographs: [] }),
    )
    expectFacts(story, {
      completion: 'stopped',
      stopReason: 'looping',
      caecumReached: false,
      impassableStricture: false,
      stoppedForPreparation: false,
    })
    expectAnswers(story, { caecum: 'not-met', caecumAdjusted: 'not-met', withdrawal: 'out' })
  })

  it.each([
    ['by the reason for stopping', { statusReason: fact('not-inserted') }, []],
    ['by the extent', {}, [word('extent-reached', 'not-inserted')]],
  ] as [string, Resource, Said[]][])(
    'never inserted, told %s, it is no examination and is listed',
    (_, procedure, said) => {
      // Usual wrong answer: a failed intubation.
      const story = ask(
        examination({ id: 'a', status: 'stopped', extent: 'none', photographs: [], boston: {}, procedure, said }),
      )
      expect(story.records).toEqual([])
      expect(story.leftOut.map(({ reference }) => reference)).toEqual(['Procedure/a'])
    },
  )

  it('stated without a photograph, the caecum is reached but not proved', () => {
    // Usual wrong answer: met on the operator's word (76.9 per cent fell to 56.9 in the survey of 2004).
    const story = ask(examination({ id: 'a', photographs: [] }))
    expectFacts(story, {
      caecumReached: true,
      completionPhotographed: false,
      landmarkPhotographCount: 0,
      extentEvidence: 'stated',
    })
    expectAnswers(story, { caecum: 'not-met', caecumAdjusted: 'met' })
  })

  const picture = (more: Resource): Resource => ({
    resourceType: 'Media',
    id: 'picture',
    status: 'completed',
    subject: { reference: 'Patient/patient-a' },
    bodySite: fact('appendix-orifice'),
    content: { url: 'https://pictures.example/1' },
    ...more,
  })

  it.each([
    ['part of the examination', { partOf: [{ reference: 'Procedure/a' }] }, 'direct reference'],
    ['of its day alone', { createdDateTime: '2026-06-10T10:00:00+01:00' }, 'same patient within the time window'],
  ])('a picture of the appendix orifice sent as Media, %s, proves the caecum', (_, more, rung) => {
    // Usual wrong answer: no photograph, as only observations were looked at. Source: FHIR R4, Media.bodySite, Media.partOf.
    const [day = ''] = String(ask(examination({ id: 'a' })).records[0]?.examinationDate).split('T')
    const resources = [
      ...examination({ id: 'a', extent: 'none', photographs: [] }),
      picture('createdDateTime' in more ? { createdDateTime: day } : more),
    ]
    const story = ask(resources)
    expectFacts(story, { extent: 'caecum', extentEvidence: 'photograph', completionPhotographed: true })
    expect(story.takenDown().rungsOf('completionPhotographed')).toEqual([rung])
    expectAnswers(story, { caecum: 'met' })
  })

  it('a picture that was not taken, or is of no site, proves nothing', () => {
    const spoilt = [
      picture({ partOf: [{ reference: 'Procedure/a' }], status: 'not-done' }),
      picture({ id: 'other', partOf: [{ reference: 'Procedure/a' }], bodySite: undefined }),
    ]
    const story = ask([...examination({ id: 'a', photographs: [] }), ...spoilt])
    expectFacts(story, { completionPhotographed: false, landmarkPhotographCount: 0 })
    expectAnswers(story, { caecum: 'not-met' })
  })

  it.each([
    ['a code nobody knows', { coding: [{ system: 'https://northmoor.example/codes', code: 'APPX' }] }],
    ['words alone', { text: 'orifice' }],
  ])('a photograph whose landmark is %s may be the proof: not recorded, and listed', (_, landmark) => {
    // Usual wrong answer: not photographed, so not met.
    const partOf = [{ reference: 'Procedure/a' }]
    const said = { code: fact('landmark-photograph'), valueCodeableConcept: landmark }
    for (const resources of [
      examination({ id: 'a', photographs: [], said: [said] }),
      [...examination({ id: 'a', photographs: [] }), picture({ partOf, bodySite: landmark })],
    ]) {
      const story = ask(resources)
      expectFacts(story, { completionPhotographed: undefined, landmarkPhotographCount: undefined })
      expectAnswers(story, { caecum: 'not-recorded' })
      expect(story.takenDown().unreadable).toEqual(['landmarkPhotographCount'])
      expect(story.takenDown().unmatched).toHaveLength(1)
    }
  })

  it('a polypectomy of unknown status is neither done nor not done: no polyp is not known either', () => {
    // Usual wrong answer: a complete feed without a completed polypectomy, so nothing was removed. R4, event-status: unknown.
    const part = {
      resourceType: 'Procedure',
      id: 'part',
      status: 'unknown',
      code: snomed('274025005'),
      subject: { reference: 'Patient/patient-a' },
      partOf: [{ reference: 'Procedure/a' }],
    }
    const story = ask([...examination({ id: 'a' }), part])
    expectFacts(story, { polypCount: undefined, polypRemoved: undefined, tissueTakenOrTreated: undefined })
    expectAnswers(story, { withdrawal: 'eligibility-not-recorded' })
  })

  it('a photograph of the ileum alone proves caecum and ileum', () => {
    // Usual wrong answer: no caecal landmark, so not reached.
    const story = ask(examination({ id: 'a', extent: 'none', photographs: ['ileum'] }))
    expectFacts(story, {
      extent: 'ileum',
      extentEvidence: 'photograph',
      caecumReached: true,
      ileum: 'done',
      landmarkPhotographCount: 1,
    })
    expectAnswers(story, { caecum: 'met' })
  })

  it('a photograph of the ileocaecal valve, and a stated extent short of it: listed, and the photograph stands', () => {
    // Usual wrong answer: the statement stands, or nobody notices.
    const story = ask(examination({ id: 'a', extent: 'ascending', photographs: ['ileocaecal-valve'] }))
    expectFacts(story, { caecumReached: true, completionPhotographed: true })
    expect(story.takenDown().contradictions).toContain('photograph of a landmark beyond the stated extent')
    expectAnswers(story, { caecum: 'met' })
  })

  it('a procedure code that itself says retroflexion in the rectum is retroflexion done', () => {
    // Usual wrong answer: not recorded, or no colonoscopy.
    const story = ask(examination({ id: 'a', procedure: { code: snomed('48031000087101') } }))
    expectFacts(story, { retroflexion: 'done', caecumReached: true })
  })
})
