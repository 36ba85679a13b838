import { describe, expect, it } from 'vitest'
import { ask } from '../stories/ask.ts'
import { examination, hyperplastic, snomed, tubularAdenoma } from '../stories/examination.ts'
import { northmoor } from '../stories/northmoor.ts'
import { diagnosis, reportOf, resultOf, sharedEncounter, specimens, to, unmapped } from './result-forms.ts'

// Observation.hasMember and Observation.specimen: FHIR R4. A member is an observation of its own.
const normal = '30389008'
const polypsIn = (...pots: string[]) =>
  examination({ id: 'a', polyps: pots.map((specimen) => ({ handling: 'removed', specimen })) })
const panelOf = (pots: string[], ...members: ReturnType<typeof diagnosis>[]) => [
  ...polypsIn(...pots),
  reportOf('r', { specimen: specimens(...new Set(pots)), result: [to('Observation/p')] }),
  resultOf('p', { hasMember: members.map(({ id }) => to(`Observation/${id}`)) }),
  ...members,
]

describe('members of a panel', () => {
  it('speak each of the specimen that it names', () => {
    const story = ask(panelOf(['A', 'B'], diagnosis('a', normal, 'A'), diagnosis('b', tubularAdenoma, 'B')))
    expect(story.only()).toMatchObject({ adenomaCount: 1, otherHistologyCount: 1, pathology: 'final' })
    const three = ask(panelOf(['A', 'A', 'B'], diagnosis('a', hyperplastic, 'A'), diagnosis('b', tubularAdenoma, 'B')))
    expect(three.only()).toMatchObject({ adenomaCount: 1, hyperplasticCount: 2 })
  })

  it('leave the specimens that none of them names without a result', () => {
    const story = panelOf(['A', 'B', 'C'], diagnosis('a', tubularAdenoma, 'A'))
    expect(ask(story, '2026-03-20').only()).toMatchObject({
      pathology: 'pending',
      adenomaFound: true,
      adenomaCount: undefined,
      adenomaCountUpper: 3,
    })
  })

  it('of which one leads nowhere do not speak for it', () => {
    const story = panelOf(['A', 'B'], diagnosis('a', hyperplastic), diagnosis('b', tubularAdenoma))
    expect(ask(story.filter(({ id }) => id !== 'b')).only()).toMatchObject({ adenomaFound: undefined })
  })

  it('that became known only later are waited for', () => {
    const late = { ...diagnosis('b', tubularAdenoma, 'A'), issued: '2026-03-25T12:00:00Z' }
    const story = panelOf(['A'], diagnosis('a', hyperplastic, 'A'), late)
    expect(ask(story, '2026-03-20').only()).toMatchObject({ pathology: 'pending', adenomaFound: undefined })
    expect(ask(story, '2026-03-26').only()).toMatchObject({ pathology: 'final', adenomaFound: true })
  })

  it('that the report lists as well are read once', () => {
    const listed = ['p', 'a'].map((id) => to(`Observation/${id}`))
    for (const result of [listed, [...listed].reverse()])
      expect(
        ask(
          [
            ...examination({ id: 'a' }),
            reportOf('r', { ...sharedEncounter, result }),
            resultOf('p', { hasMember: [to('Observation/a')] }),
            diagnosis('a', tubularAdenoma),
          ],
          '2027-01-01',
          { ...northmoor, completeFeeds: [] },
        ).only(),
      ).toMatchObject({ polypCount: 1, adenomaCount: 1 })
  })

  it('in a circle are read once', () => {
    const circle = ['a', 'b'].map((id) => to(`Observation/${id}`))
    const story = [
      ...polypsIn('A'),
      reportOf('r', { specimen: specimens('A'), result: circle }),
      { ...diagnosis('a', tubularAdenoma, 'A'), hasMember: [circle[1]] },
      { ...diagnosis('b', tubularAdenoma, 'A'), hasMember: [circle[0]] },
    ]
    expect(ask(story).only()).toMatchObject({ adenomaCount: 1, pathology: 'final' })
  })
})

describe('one conclusion over several specimens', () => {
  it('that names normal tissue and an adenoma finds one adenoma at least, and not one in each', () => {
    const story = ask([
      ...polypsIn('A', 'B'),
      reportOf('r', { specimen: specimens('A', 'B'), conclusionCode: [snomed(normal), snomed(tubularAdenoma)] }),
    ])
    expect(story.only()).toMatchObject({
      adenomaFound: true,
      adenomaCount: undefined,
      adenomaCountLower: 1,
      adenomaCountUpper: 2,
    })
  })
})

describe('a report that nobody can read', () => {
  it('has come for the specimens that its results name, and for no other', () => {
    const coded = resultOf('a', { valueCodeableConcept: unmapped }, 'A')
    const story = [
      ...polypsIn('A', 'B'),
      reportOf('r', { specimen: specimens('A', 'B'), result: [to('Observation/a')] }),
      coded,
    ]
    expect(ask(story, '2026-03-20').only().pathology).toBe('pending')
    const both = [...story, resultOf('b', { valueCodeableConcept: unmapped }, 'B')].map((one) =>
      one.id === 'r'
        ? { ...one, specimen: undefined, ...sharedEncounter, result: ['a', 'b'].map((id) => to(`Observation/${id}`)) }
        : one,
    )
    expect(ask(both).only().pathology).toBe('unreadable')
  })
})
