import { describe, expect, it } from 'vitest'
import { ask } from './ask.ts'
import { dysplasia, examination, pathology, snomed, tubularAdenoma, ulcerativeColitis } from './examination.ts'

// US 2024 excludes inflammatory bowel disease; UK 2016 does not state it. Dysplasia in a random biopsy is no adenoma.
const pots = ['random-1', 'random-2', 'random-3', 'random-4', 'random-5', 'random-6']
const colitis = {
  id: 'e',
  birthDate: '1974-01-01',
  withdrawalMinutes: 18,
  polyps: [{ site: 'transverse', millimetres: 4, handling: 'removed' as const, specimen: 'polyp' }],
  biopsyPots: pots,
}
const report = pathology('p', {
  issued: '2026-03-15T10:00:00Z',
  results: [
    { specimen: 'polyp', code: tubularAdenoma },
    { specimen: 'random-1', code: dysplasia },
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
  })

  it('first recognised at this examination: kept by US 2024', () => {
    const seenToday = { code: snomed(ulcerativeColitis), recorded: '2026-03-10' }
    const story = ask([...examination({ ...colitis, reasons: ['symptoms'], history: [seenToday] }), ...report])
    expect(story.records[0]?.inflammatoryBowelDisease).toBe(false)
    expect(story.answer('adenoma-detection-rate-us-2024').code).toBe('met')
    expect(story.answer('adenoma-detection-rate-uk-2016').code).toBe('met')
  })
})
