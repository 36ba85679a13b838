import { describe, expect, it } from 'vitest'
import { Codes } from '../../src/fhir/codes.ts'
import type { Examination } from '../../src/linkage/examinations.ts'
import { readHistory } from '../../src/linkage/history.ts'
import { ask, definitions } from '../stories/ask.ts'
import { examination, fact, snomed, ulcerativeColitis } from '../stories/examination.ts'

// Kleene's three-valued "or": true when one date says before, not recorded when none does and one cannot tell.
type Resource = Record<string, unknown>
const subject = { reference: 'Patient/p' }
const colitis = (more: Resource): Resource => ({
  resourceType: 'Condition',
  id: `condition-${JSON.stringify(more).length}`,
  code: snomed(ulcerativeColitis),
  subject,
  ...more,
})
const known = (...conditions: Resource[]) =>
  ask([...examination({ id: 'a', patient: 'p', date: '2026-03-10' }), ...conditions]).records[0]
    ?.inflammatoryBowelDisease

describe('a condition was known before the examination', () => {
  it.each<[Resource, boolean | undefined]>([
    [{ onsetDateTime: '2026-03-09' }, true],
    [{ onsetDateTime: '2026', recordedDate: '2026-01-05' }, true],
    [{ onsetDateTime: '2025', recordedDate: '2026-04-01' }, true],
    [{ onsetDateTime: '2026-02' }, true],
    [{ onsetPeriod: { start: '2019-05' } }, true],
    [{ onsetDateTime: '2026-03-10', recordedDate: '2026-03-10' }, false],
    [{ onsetDateTime: '2026-04', recordedDate: '2026-04-02' }, false],
    [{ onsetDateTime: '2026' }, undefined],
    [{ onsetDateTime: '2026-03' }, undefined],
    [{ onsetDateTime: '2026', recordedDate: '2026-04-02' }, undefined],
    [{}, undefined],
    [{ onsetString: 'in childhood' }, undefined],
  ])('%j: %s', (dates, answer) => {
    expect(known(colitis(dates))).toBe(answer)
  })

  it('what one condition leaves open another decides', () => {
    expect(known(colitis({}), colitis({ recordedDate: '2024-01-01' }))).toBe(true)
    expect(known(colitis({}), colitis({ recordedDate: '2026-05-01' }))).toBeUndefined()
  })

  it('a refuted one without a date leaves nothing open', () => {
    expect(known(colitis({ verificationStatus: { coding: [{ code: 'refuted' }] } }))).toBe(false)
  })
})

describe('an earlier resection', () => {
  const codes = new Codes(definitions.resources)
  const exam = { date: '2026-03-10', zone: 'Europe/London', seen: [] } as unknown as Examination
  const resected = (more: Resource) =>
    readHistory(exam, [], codes, true, {
      procedures: [
        { resourceType: 'Procedure', id: 'r', status: 'completed', code: fact('earlier-resection'), subject, ...more },
      ],
    }).earlierResection

  it('is known from a completed procedure dated before', () => {
    expect(resected({ performedDateTime: '2020-01-01' })).toBe(true)
    expect(resected({ performedPeriod: { start: '2025' } })).toBe(true)
  })

  it('not from one that was not done, or came later; one without a usable date leaves it open', () => {
    expect(resected({ performedDateTime: '2020-01-01', status: 'not-done' })).toBe(false)
    expect(resected({ performedDateTime: '2026-03-11' })).toBe(false)
    expect(resected({})).toBeUndefined()
    expect(resected({ performedDateTime: '2026' })).toBeUndefined()
  })
})

describe('through the whole of linkage', () => {
  const colectomy = {
    resourceType: 'Procedure',
    id: 'resection',
    status: 'completed',
    code: snomed('26390003'),
    subject: { reference: 'Patient/patient-a' },
    performedDateTime: '2019-05-01',
  }

  it('a resection among the procedures counts as one', () => {
    expect(ask([...examination({ id: 'a' }), colectomy]).records[0]?.earlierResection).toBe(true)
    expect(ask(examination({ id: 'a' })).records[0]?.earlierResection).toBe(false)
  })

  it('a disease recorded after the as-of instant is not known yet', () => {
    const story = examination({ id: 'a', history: [{ code: snomed('64766004'), recorded: '2026-08-01' }] }).map(
      (one) => (one.resourceType === 'Condition' ? { ...one, onsetDateTime: '2020-01-01' } : one),
    )
    expect(ask(story, '2026-06-01').records[0]?.inflammatoryBowelDisease).toBe(false)
    expect(ask(story, '2026-09-01').records[0]?.inflammatoryBowelDisease).toBe(true)
  })
})
