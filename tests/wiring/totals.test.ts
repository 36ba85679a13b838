import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { addDays } from '../../src/fhir/dates.ts'
import { monthsOf } from '../../src/months.ts'
import type { SourceWiring } from '../../src/wiring/report.ts'
import { examination, fact, pathology, tubularAdenoma } from '../stories/examination.ts'
import { spring, wiringOf, wiringOfDemo } from './surveyed.ts'

const unknown = { coding: [{ system: 'https://northmoor.example/codes', code: 'X' }] }

const resources = Array.from({ length: 24 }, (_, index) => {
  const id = `exam-${String(index).padStart(2, '0')}`
  const date = addDays('2026-03-02', index * 3)
  return [
    ...examination({
      id,
      date,
      reasons: index % 4 === 0 ? ['screening', 'symptoms'] : index % 3 === 0 ? ['unheard-of'] : ['surveillance'],
      status: index % 11 === 10 ? 'not-done' : 'completed',
      withdrawalMinutes: 6 + (index % 3),
      polyps:
        index % 2 === 0
          ? [{ specimen: `${id}-pot`, handling: 'removed', said: [{ code: unknown, valueString: 'odd' }] }]
          : [],
      said: [{ code: fact('insufflation'), valueCodeableConcept: { text: 'foam' } }],
      procedure: index % 5 === 0 ? { basedOn: [{ reference: 'ServiceRequest/lost' }] } : {},
    }),
    ...(index % 2 === 0
      ? pathology(`${id}-pathology`, {
          issued: `${addDays(date, 7)}T12:00:00Z`,
          results: [{ specimen: `${id}-pot`, code: tubularAdenoma }],
        })
      : []),
  ]
}).flat()

/** What is counted, without the examples, of which each window keeps its own first few. */
const counts = (wiring: SourceWiring) =>
  JSON.parse(JSON.stringify(wiring, (key, value) => (key === 'examples' || key === 'unreadableExamples' ? 0 : value)))

const whole = wiringOf(resources, spring)
const quarter = { start: '2026-02-01', end: '2026-04-30' }

describe('the totals of a wiring report', () => {
  it('are of the examinations that were linked and counted', () => {
    // 24 examinations every third day from 2 March; numbers 10 and 21 were not done.
    expect(whole.examinations).toBe(22)
    expect(whole.leftOut.find(({ what }) => what === 'not done')?.count).toBe(2)
    const withdrawal = whole.fields.find(({ field }) => field === 'withdrawalMinutes')
    expect(withdrawal).toMatchObject({ recorded: 22, of: 22, share: 1 })
    expect(withdrawal?.ways).toEqual([{ element: 'Observation.valueQuantity', rung: 'direct reference', count: 22 }])
  })

  it('count the reasons that are stated, and the examinations that state several', () => {
    // Numbers 0, 4, 8, 12, 16 and 20 state two; 3, 6, 9, 15 and 18 one that nobody knows: 22 - 5 state one that is known.
    expect(whole.reasons).toEqual({ stated: 17, several: 6, shareWithSeveral: 0.353 })
    expect(whole.unmatched.find(({ where }) => where === 'Procedure.reasonCode')).toMatchObject({
      code: 'unheard-of',
      count: 5,
    })
  })

  it('count a field of a list by the list’s elements', () => {
    const polyps = whole.examinations - whole.fields.filter(({ field }) => field === 'polypCount').length
    expect(polyps).toBe(21)
    // Even numbers but the tenth have a polyp: eleven.
    expect(whole.fields.find(({ field }) => field === 'polyps.histology')).toMatchObject({ recorded: 11, of: 11 })
  })

  it('list references that led nowhere, with a few of the resources that hold them', () => {
    // Numbers 0, 5, 15 and 20; the tenth was not done.
    expect(whole.deadEnds.find(({ what }) => what === 'Procedure.basedOn')).toMatchObject({
      count: 4,
      examples: ['Procedure/exam-00', 'Procedure/exam-05', 'Procedure/exam-15', 'Procedure/exam-20'],
    })
  })

  it('count what belongs to no examination once, and not the results that a report holds', () => {
    // Numbers 10 and 21: extent, two photographs, three segments, withdrawal time, and what nobody knows the words of; a polyp of
    // the tenth, with its pot and its pathology.
    expect(whole.unlinked.map(({ what, count }) => [what, count])).toEqual([
      ['Observation', 17],
      ['DiagnosticReport of pathology', 1],
      ['Specimen', 1],
    ])
  })

  it('count what stands in one examination’s records once, though a month before and after read them too', () => {
    // Days at the edges of months and within: 1, 15 and 31 March are read by windows of February and April as well.
    const strange = ['2026-03-01', '2026-03-15', '2026-03-31'].flatMap((date, index) => {
      const id = `exam-${index}`
      const subject = { reference: `Patient/patient-${id}` }
      const encounter = { reference: `Encounter/encounter-${id}` }
      const partOf = [{ reference: `Procedure/${id}` }]
      const dose = { resourceType: 'MedicationAdministration', status: 'completed', subject, partOf }
      const dosed = { ...dose, effectiveDateTime: date }
      const more = { resourceType: 'Observation', status: 'final', subject, partOf }
      return [
        ...examination({ id, date }),
        { ...dosed, id: `${id}-drug`, medicationCodeableConcept: unknown },
        { ...dosed, id: `${id}-lost-drug`, medicationReference: { reference: 'Medication/lost' } },
        { resourceType: 'DiagnosticReport', id: `${id}-other`, status: 'final', code: unknown, subject, encounter },
        { ...more, id: `${id}-odd`, code: unknown },
        { ...more, id: `${id}-scorer`, code: fact('comfort-scorer'), valueCodeableConcept: unknown },
        {
          resourceType: 'Media',
          id: `${id}-picture`,
          status: 'completed',
          subject,
          partOf,
          bodySite: unknown,
          content: {},
        },
        { resourceType: 'Specimen', id: `${id}-jar`, subject, request: [{ reference: `ServiceRequest/${id}` }] },
      ]
    })
    const atOnce = wiringOf(strange, quarter)
    const told = new Map(atOnce.unmatched.map(({ where, count }) => [where, count]))
    expect(told.get('MedicationAdministration.medication')).toBe(3)
    expect(told.get('DiagnosticReport.code')).toBe(3)
    const lost = atOnce.deadEnds.find(({ what }) => what === 'MedicationAdministration.medicationReference')
    expect(lost?.count).toBe(3)
    expect(counts(wiringOf(strange, ...monthsOf(quarter)))).toEqual(counts(atOnce))
  })

  it('of the demo are the same for a quarter pulled at once as for its months', async () => {
    const atOnce = await wiringOfDemo([quarter])
    expect(atOnce.examinations).toBeGreaterThan(150)
    expect(counts(await wiringOfDemo(monthsOf(quarter)))).toEqual(counts(atOnce))
  })

  it('are the same however the period is cut', () => {
    const days = fc.uniqueArray(fc.integer({ min: 1, max: 90 }), { maxLength: 4 })
    fc.assert(
      fc.property(days, (cuts) => {
        const starts = [0, ...cuts.sort((one, other) => one - other)].map((day) => addDays(spring.start, day))
        const windows = starts.map((start, index) => ({ start, end: addDays(starts[index + 1] ?? '2026-06-01', -1) }))
        expect(counts(wiringOf(resources, ...windows))).toEqual(counts(whole))
      }),
      { seed: 11, numRuns: 30 },
    )
  })
})
