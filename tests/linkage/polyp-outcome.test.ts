import { describe, expect, it } from 'vitest'
import { ask } from '../stories/ask.ts'
import { examination, fact, type PolypFacts, type Resource, type Said, word, yesNo } from '../stories/examination.ts'

// Components and references: FHIR R4, Observation and Procedure. What follows from how a polyp was handled: what the words mean.
const only = (polyp: PolypFacts, ...more: Resource[]) => {
  const story = ask([...examination({ id: 'a', polyps: [polyp] }), ...more])
  const [found = {}] = story.only().polyps ?? []
  return { found, contradictions: () => story.takenDown().contradictions, story }
}

describe('what became of a polyp', () => {
  it.each([
    ['polyp-sent-for-surgery', 'sentForSurgery'],
    ['polyp-removal-attempted', 'removalAttempted'],
    ['polyp-inaccessible', 'inaccessible'],
    ['polyp-suspected-cancer', 'suspectedCancer'],
  ] as const)('%s is what its component says, and not recorded without one', (code, name) => {
    const told = (...said: Said[]) => only({ handling: 'left', said }).found[name]
    expect(told()).toBeUndefined()
    expect([told(yesNo(code, true)), told(yesNo(code, false))]).toEqual([true, false])
    expect([told(word(code, 'yes')), told(word(code, 'no'))]).toEqual([true, false])
  })

  it('in a word that nobody can read is not recorded, and is listed', () => {
    const { found, story } = only({ said: [word('polyp-sent-for-surgery', 'several')] })
    expect(found.sentForSurgery).toBeUndefined()
    expect(story.takenDown().unreadable).toContain('polyps')
  })

  it('said both ways is not recorded, and is a contradiction', () => {
    const { found, contradictions } = only({
      said: [yesNo('polyp-suspected-cancer', true), yesNo('polyp-suspected-cancer', false)],
    })
    expect(found.suspectedCancer).toBeUndefined()
    expect(contradictions()).toEqual(['two different values of one measurement'])
  })

  it.each(['complete', 'incomplete'] as const)('clearance is %s where a component says so', (clearance) => {
    const { found } = only({ handling: 'removed', said: [word('polyp-clearance', clearance)] })
    expect(found.clearance).toBe(clearance)
  })
})

describe('the removal of a polyp', () => {
  const named: Resource = {
    resourceType: 'Procedure',
    id: 'snare',
    status: 'completed',
    code: fact('polypectomy'),
    partOf: [{ reference: 'Procedure/a' }],
    reasonReference: [{ reference: 'Observation/a-observation-07' }],
  }

  it('that succeeded was attempted; that of a polyp left or biopsied may or may not have been', () => {
    const attempted = (handling: NonNullable<PolypFacts['handling']>) => only({ handling }).found.removalAttempted
    expect(attempted('removed')).toBe(true)
    for (const one of ['left', 'biopsied', 'not-found-again'] as const) expect(attempted(one)).toBeUndefined()
  })

  it('that a polypectomy names was attempted, be the polyp left in place in the end', () => {
    const { found } = only({ handling: 'left' }, named)
    expect(found).toMatchObject({ handling: 'left', removalAttempted: true })
  })

  it('that is denied and happened is not recorded, and is a contradiction', () => {
    const { found, contradictions } = only({ handling: 'removed', said: [yesNo('polyp-removal-attempted', false)] })
    expect(found).toMatchObject({ handling: 'removed', removalAttempted: undefined })
    expect(contradictions()).toEqual(['two different values of one measurement'])
  })

  it('judged complete of a polyp that was left is not believed, and is a contradiction', () => {
    const { found, contradictions } = only({ handling: 'left', said: [word('polyp-clearance', 'complete')] })
    expect(found.clearance).toBeUndefined()
    expect(contradictions()).toEqual(['removal judged complete of a polyp that was not removed'])
  })

  it('judged incomplete of a polyp that was left in the end stands', () => {
    const { found, contradictions } = only({ handling: 'left', said: [word('polyp-clearance', 'incomplete')] })
    expect(found.clearance).toBe('incomplete')
    expect(contradictions()).toEqual([])
  })

  it('contradicts that no endoscope can remove it, unless something of it was left', () => {
    const beyond = yesNo('polyp-inaccessible', true)
    const whole = only({ handling: 'removed', said: [beyond] })
    expect(whole.found.inaccessible).toBeUndefined()
    expect(whole.contradictions()).toEqual(['polyp said not to be removable, but removed'])
    const parted = only({ handling: 'removed', said: [beyond, word('polyp-clearance', 'incomplete')] })
    expect(parted.found).toMatchObject({ inaccessible: true, clearance: 'incomplete' })
    expect(parted.contradictions()).toEqual([])
  })
})

describe('a suspicion of cancer', () => {
  const guess = (nature: string) => word('predicted-histology', nature)

  it('is told by a prediction of cancer; another prediction does not deny it', () => {
    expect(only({ said: [guess('cancer')] }).found.suspectedCancer).toBe(true)
    expect(only({ said: [guess('conventional-adenoma')] }).found.suspectedCancer).toBeUndefined()
  })

  it('that is denied beside such a prediction is not recorded, and is a contradiction', () => {
    const { found, contradictions } = only({ said: [guess('cancer'), yesNo('polyp-suspected-cancer', false)] })
    expect(found.suspectedCancer).toBeUndefined()
    expect(contradictions()).toEqual(['two different values of one measurement'])
  })
})
