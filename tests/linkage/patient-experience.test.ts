import { describe, expect, it } from 'vitest'
import { ask } from '../stories/ask.ts'
import { examination, fact, type Said, word } from '../stories/examination.ts'

// The words are the record's own. Of two statements a final one stands against a preliminary one (FHIR R4, observation-status).
const experience = (said: Said[]) => {
  const story = ask(examination({ id: 'a', said }))
  expect(story.inAnotherOrder()).toEqual(story.records)
  return { value: story.only().patientExperience, ...story.takenDown() }
}

describe('the experience of the patient', () => {
  it.each(['good', 'acceptable', 'poor'])('is %s where that is stated, and leaves preparation alone', (one) => {
    const said = [word('patient-experience', one)]
    expect(experience(said).value).toBe(one)
    expect(ask(examination({ id: 'a', said })).only().preparationGrade).toBeUndefined()
  })

  it('is not recorded where nobody states it, and no comfort score stands for it', () => {
    expect(experience([]).value).toBeUndefined()
    expect(experience([{ code: fact('comfort-one-to-five'), valueInteger: 1 }]).value).toBeUndefined()
  })

  it('is not recorded where two statements differ, unless one of them is preliminary', () => {
    const two = [word('patient-experience', 'good'), word('patient-experience', 'poor')]
    expect(experience(two)).toMatchObject({
      value: undefined,
      contradictions: ['two different values of one measurement'],
    })
    const [first, second] = two
    if (first && second) expect(experience([first, { ...second, status: 'preliminary' }]).value).toBe('good')
  })

  it('in another word is listed', () => {
    expect(experience([word('patient-experience', 'excellent')])).toMatchObject({
      value: undefined,
      unreadable: ['patientExperience'],
    })
  })
})
