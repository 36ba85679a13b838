import { describe, expect, it } from 'vitest'
import { ask } from '../stories/ask.ts'
import { examination } from '../stories/examination.ts'
import { northmoor } from '../stories/northmoor.ts'
import { reportOf, sharedEncounter, specimens } from './result-forms.ts'

// What a report says of one specimen is said of that one (DiagnosticReport.specimen, conclusion: FHIR R4). The right answers
// are those that a reader of the sentence gives: a specimen of which it says nothing, or only doubts, stays open.
const reading = { ...northmoor, readsText: true }
const two = examination({ id: 'a', polyps: ['A', 'B'].map((specimen) => ({ handling: 'removed', specimen })) })
const concluded = (conclusion: string) =>
  ask([...two, reportOf('r', { specimen: specimens('A', 'B'), conclusion })], '2027-01-01', reading)

describe('a specimen that the text labels', () => {
  it.each([
    'A. Caecum: hyperplastic polyp. B. Sigmoid: see addendum.',
    'A. Caecum: hyperplastic polyp. B. Sigmoid: Adenokarzinom.',
    'A. Caecum: hyperplastic polyp. B. Sigmoid polyp: tubular adenoma cannot be excluded; deeper levels requested.',
    'A. Caecum: hyperplastic polyp. B. Sigmoid polyp: features are suggestive of tubular adenoma.',
    'A. Caecum: hyperplastic polyp.',
  ])('and says nothing certain of is not spoken for by its neighbour: %s', (conclusion) => {
    const story = concluded(conclusion)
    expect(story.only()).toMatchObject({
      pathology: 'unreadable',
      adenomaFound: undefined,
      hyperplasticCount: undefined,
      adenomaCountLower: 0,
      adenomaCountUpper: 1,
    })
    expect(story.answer('adenoma-detection-rate-us-2024').code).toBe('not-recorded')
    expect(story.takenDown().unreadable).toContain('pathology')
  })

  it.each([
    'A. Caecum, polyp: tubular adenoma. B. Sigmoid, polyp: result to follow.',
    'A. Caecum, polyp: tubular adenoma. B. Sigmoid, polyp: no tissue identified.',
    'A. Stomach, biopsy: hyperplastic polyp. B. Sigmoid polyp: tubular adenoma.',
  ])('has no adenoma of its neighbour: %s', (conclusion) => {
    expect(concluded(conclusion).only()).toMatchObject({
      pathology: 'unreadable',
      adenomaFound: true,
      adenomaCount: undefined,
      adenomaCountLower: 1,
      adenomaCountUpper: 2,
    })
  })

  it.each([
    ['A. Caecum, polyp: normal mucosa. B. Sigmoid, polyp: tubular adenoma.', 1],
    ['A, B. Colon, polyps: tubular adenoma.', 2],
    ['A. Caecum: tubular adenoma. B. Sigmoid: tubular adenoma.', 2],
    ['A. Caecum: hyperplastic polyp. B. Sigmoid: normal mucosa.', 0],
  ])('has what is said of it: %s', (conclusion, adenomas) => {
    expect(concluded(conclusion).only()).toMatchObject({ pathology: 'final', adenomaCount: adenomas })
  })
})

describe('a text without labels', () => {
  const one = examination({ id: 'a', polyps: [{ handling: 'removed', specimen: 'A' }] })
  const said = (conclusion: string) =>
    ask([...one, reportOf('r', { specimen: specimens('A'), conclusion })], '2027-01-01', reading).only()

  it('that doubts an adenoma beside another diagnosis does not say that there is none', () => {
    const { pathology, adenomaFound } = said('Hyperplastic polyp. Tubular adenoma cannot be excluded.')
    expect([pathology, adenomaFound]).toEqual(['unreadable', undefined])
    expect(said('Tubular adenoma. An adenoma may recur.')).toMatchObject({ pathology: 'final', adenomaCount: 1 })
  })

  it('whose own list of findings ends in a denial is of one specimen', () => {
    expect(said('1. Hyperplastic polyp.\n2. No evidence of malignancy.')).toMatchObject({
      pathology: 'final',
      adenomaFound: false,
    })
  })

  it('that speaks of what was removed years ago says nothing of this tissue', () => {
    expect(said('Background of tubular adenoma excised 2019. Current biopsy: hyperplastic polyp.').adenomaFound).toBe(
      false,
    )
  })

  it('that speaks of adenomas in the plural finds one at least, and leaves their number open', () => {
    const untold = { ...reading, completeFeeds: [] }
    const read = (conclusion: string) =>
      ask([...examination({ id: 'a' }), reportOf('r', { ...sharedEncounter, conclusion })], '2027-01-01', untold).only()
    expect(read('Multiple tubular adenomas.')).toMatchObject({
      adenomaFound: true,
      adenomaCount: undefined,
      adenomaCountUpper: undefined,
      polypCount: undefined,
      hyperplasticCount: 0,
    })
    expect(read('Three polyps: all tubular adenomas.')).toMatchObject({ adenomaCount: 3, polypCount: 3 })
    expect(read('Two tubular adenomas and a hyperplastic polyp.')).toMatchObject({ adenomaCount: 2, polypCount: 3 })
  })
})
