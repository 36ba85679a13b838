import { describe, expect, it } from 'vitest'
import { fieldGroups } from '../../src/record/fields.ts'
import { accepted } from '../../src/wiring/guide/accepted.ts'
import { examination, fact, type Resource } from '../stories/examination.ts'
import { spring, wiringOf } from './surveyed.ts'

const local = (code: string, display?: string): Resource => ({
  coding: [{ system: 'https://northmoor.example/codes', code, ...(display && { display }) }],
})
/** So many examinations, each with one more observation. */
const withObservation = (patients: number, observation: (index: number) => Resource): Resource[] =>
  Array.from({ length: patients }, (_, index) => [
    ...examination({ id: `exam-${index}`, patient: `patient-${index}` }),
    {
      resourceType: 'Observation',
      id: `more-${index}`,
      status: 'final',
      subject: { reference: `Patient/patient-${index}` },
      partOf: [{ reference: `Procedure/exam-${index}` }],
      ...observation(index),
    },
  ]).flat()

describe('the lines of a wiring report', () => {
  it('are those of every fact that the guide tells of, under its groups', () => {
    const { fields } = wiringOf([], spring)
    expect(fields.map(({ field }) => field).sort()).toEqual(Object.keys(accepted).sort())
    expect([...new Set(fields.map(({ group }) => group))]).toEqual(Object.keys(fieldGroups))
  })

  it('give no share where there is nothing to divide by', () => {
    const { fields, reasons, examinations } = wiringOf([], spring)
    expect(examinations).toBe(0)
    expect(fields.every(({ share }) => share === undefined)).toBe(true)
    expect(reasons).toEqual({ stated: 0, several: 0 })
  })

  it('say what cannot be read, where, and what to do', () => {
    const resources = withObservation(2, () => ({ code: fact('withdrawal-time'), valueString: 'a while' }))
    const line = wiringOf(resources, spring).fields.find(({ field }) => field === 'withdrawalMinutes')
    expect(line).toMatchObject({
      recorded: 0,
      of: 2,
      unreadable: 2,
      unreadableExamples: ['Observation/more-0', 'Observation/more-1'],
      toDo: expect.stringContaining('cannot be read'),
    })
  })

  it('flag times that pile up on one value, and count them as they stand', () => {
    const resources = Array.from({ length: 30 }, (_, index) =>
      examination({ id: `exam-${index}`, withdrawalMinutes: index < 20 ? 6 : 7 + index }),
    ).flat()
    const { doubts, fields } = wiringOf(resources, spring)
    expect(doubts.map(({ what }) => what)).toContain('withdrawal times pile up on 6 minutes: 20 of 30')
    expect(fields.find(({ field }) => field === 'withdrawalMinutes')?.recorded).toBe(30)
  })
})

describe('codes and texts that matched nothing', () => {
  it('are told by frequency, with where they stood and the closest concept', () => {
    const resources = withObservation(6, (index) => ({ code: local(index < 5 ? 'WDT' : 'OTHER', 'Withdrawal time') }))
    const { unmatched } = wiringOf(resources, spring)
    expect(unmatched.map(({ where, code, count }) => [where, code, count])).toEqual([
      ['Observation.code', 'WDT', 5],
      ['Observation.code', 'OTHER', 1],
    ])
    expect(unmatched[0]).toMatchObject({
      system: 'https://northmoor.example/codes',
      words: 'Withdrawal time',
      closest: { display: 'Withdrawal time' },
    })
  })

  it('keep the words of a code back where fewer than five patients share them', () => {
    const resources = withObservation(4, () => ({ code: local('X', 'Alder’s finding') }))
    const { unmatched } = wiringOf(resources, spring)
    expect(unmatched).toEqual([expect.objectContaining({ code: 'X', count: 4 })])
    expect(JSON.stringify(unmatched)).not.toContain('Alder')
  })

  it.each(['MRS JANE DOE 1961-04-03', 'DOE,JANE', 'doe-1961-04-03', '3.4.1961', 'x'.repeat(41)])(
    'withhold the code %j, which looks like no code, where fewer than five patients share it',
    (code) => {
      const said = { code: local(code) }
      const few = wiringOf(
        withObservation(4, () => said),
        spring,
      )
      expect(few.unmatched).toEqual([])
      expect(few.textsWithheld).toBe(4)
      const five = wiringOf(
        withObservation(5, () => said),
        spring,
      )
      expect(five.unmatched).toEqual([expect.objectContaining({ code, count: 5 })])
    },
  )

  // Codes as SNOMED CT, LOINC, ICD-10-PCS, the OID registry and a local list write them.
  it.each(['73761001', '12345-6', '0DTE0ZZ', '1.2.840.113883', 'COL:INS.T'])('show the code %j of one', (code) => {
    const { unmatched, textsWithheld } = wiringOf(
      withObservation(1, () => ({ code: { coding: [{ system: 'https://northmoor.example/x', code }] } })),
      spring,
    )
    expect(unmatched).toEqual([expect.objectContaining({ code, count: 1 })])
    expect(textsWithheld).toBe(0)
  })

  it('withhold a code whose system reads like words', () => {
    const code = { coding: [{ system: 'seen by Alder', code: 'A1' }] }
    const { unmatched, textsWithheld } = wiringOf(
      withObservation(1, () => ({ code })),
      spring,
    )
    expect(unmatched).toEqual([])
    expect(textsWithheld).toBe(1)
  })

  it('withhold a text of fewer than five patients and count it, and show one of five', () => {
    const said = { code: { text: 'Looked at twice' } }
    const four = wiringOf(
      withObservation(4, () => said),
      spring,
    )
    expect(four.unmatched).toEqual([])
    expect(four.textsWithheld).toBe(4)
    const five = wiringOf(
      withObservation(5, () => said),
      spring,
    )
    expect(five.unmatched).toEqual([expect.objectContaining({ words: 'Looked at twice', count: 5 })])
    expect(five.textsWithheld).toBe(0)
  })

  it('count one patient once, however often a text stands there', () => {
    const [first = {}, ...rest] = withObservation(1, () => ({ code: { text: 'Said by one' } }))
    const more = Array.from({ length: 9 }, (_, index) => ({ ...(rest.at(-1) ?? {}), id: `again-${index}` }))
    const { unmatched, textsWithheld } = wiringOf([first, ...rest, ...more], spring)
    expect(unmatched).toEqual([])
    expect(textsWithheld).toBe(10)
  })
})

describe('names of people', () => {
  it('are never in a report, wherever in the records they stand', () => {
    const names = ['Alder', 'Birchwood', 'Cedarholm', 'Dogwoodley', 'Elmshaw', 'Firbank', 'Gorsedale', 'Hawthornby']
    const resources = names.flatMap((name, index) => {
      const id = `exam-${index}`
      const text = `${name} was seen`
      const note = [{ text }]
      const narrative = {
        text: { status: 'generated', div: `<div xmlns="http://www.w3.org/1999/xhtml">${name}</div>` },
      }
      return examination({
        id,
        patient: `patient-${index}`,
        status: index === 7 ? 'stopped' : 'completed',
        person: { name: [{ text: name }], ...narrative, contact: [{ name: { text: name } }] },
        procedure: {
          ...narrative,
          note,
          reasonCode: [{ text }],
          statusReason: { text },
          performer: [{ actor: { display: name }, function: { text } }],
          reasonReference: [{ display: text }],
          complication: [{ text }],
          complicationDetail: [{ display: text }],
          usedCode: [{ text }],
          followUp: [{ text }],
          location: { display: name },
        },
        said: [
          { code: { text } },
          { code: fact('comfort-one-to-five'), valueString: text, note },
          { code: fact('withdrawal-time'), valueString: text },
          { code: fact('insufflation'), valueCodeableConcept: { text } },
          { code: fact('advice'), valueString: text },
          {
            code: fact('extent-reached'),
            valueCodeableConcept: { coding: [{ system: 'urn:x', code: 'x', display: text }] },
          },
        ],
        polyps: [{ said: [{ code: { text }, valueString: text }] }],
      })
    })
    const wiring = wiringOf(resources, spring)
    expect(wiring.examinations).toBe(8)
    expect(wiring.textsWithheld).toBeGreaterThan(40)
    const shown = JSON.stringify(wiring)
    expect(names.filter((name) => shown.includes(name))).toEqual([])
  })
})
