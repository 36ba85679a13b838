import { describe, expect, it } from 'vitest'
import { dimensions } from '../../src/measures/dimensions.ts'
import type { AnswerRow } from '../../src/tally/answer-row.ts'
import { DividedRows } from '../../src/tally/strata.ts'
import { packageAnswer } from '../criteria/package-answer.ts'

// A stratifier states an expression; what the rows are divided by must be what the `fhirpath` package makes of it.
describe('the age bands', () => {
  it('are those of the expression that every measure states, at every age and without one', () => {
    const ages = [undefined, ...Array.from({ length: 111 }, (_, age) => age)]
    const rows = ages.map((age) => ({ age }) as AnswerRow)
    const { strata, places } = new DividedRows(rows).by({ id: 'age-band', dimensions: ['age-band'] }, 'operator')
    const answer = packageAnswer(dimensions['age-band'])
    const bands = rows.map((_, at) => strata[places[at] ?? -1]?.[0])
    const record = { procedure: 'Procedure/1', source: 's', completionPhotographed: false }
    expect(bands).toEqual(ages.map((age) => answer(age === undefined ? record : { ...record, age })))
    expect(bands[0]).toBeUndefined()
  })
})
