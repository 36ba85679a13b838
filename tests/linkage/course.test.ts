import { describe, expect, it } from 'vitest'
import type { Source } from '../../src/config.ts'
import { readCourse } from '../../src/linkage/course.ts'
import { fact, snomed } from '../stories/examination.ts'
import { northmoor } from '../stories/northmoor.ts'
import { bareProcedure, observationOf, orders } from './bare-examination.ts'
import { oneExamination } from './one-examination.ts'

// UK key performance indicators 2016: a complete examination reaches caecum, ileum or anastomosis, and a photograph proves it.
// That evidence of extent outranks the status, and all that is done with contradictions, are rules of this project: no source.
const undeclared: Source = { ...northmoor, completeFeeds: [] }
const extent = (site: string, more: object = {}) =>
  observationOf(fact('extent-reached'), { valueCodeableConcept: fact(site), ...more })
const photograph = (landmark: string) =>
  observationOf(fact('landmark-photograph'), { valueCodeableConcept: fact(landmark) })
const stopped = (reason?: string) =>
  bareProcedure({ status: 'stopped', ...(reason !== undefined && { statusReason: fact(reason) }) })
const read = (resources: readonly unknown[], source = undeclared, asOf?: string) => {
  const { examination, reading, trail, survey } = oneExamination(resources, source, asOf)
  const course = readCourse(examination, reading)
  return { course, kinds: trail.contradictions.map(({ kind }) => kind), trail, survey }
}

describe('how far an examination went', () => {
  it('nothing told: completed by its status, meant to be complete by default, and nothing said of the caecum', () => {
    const { course, trail } = read([bareProcedure()])
    expect(course).toMatchObject({ completion: 'completed', intent: 'complete', completionPhotographed: false })
    for (const field of ['extent', 'extentEvidence', 'caecumReached', 'ileum', 'retroflexion', 'report'] as const)
      expect(course[field]).toBeUndefined()
    expect(course.landmarkPhotographCount).toBeUndefined()
    expect(trail.evidence).toContainEqual(
      expect.objectContaining({ field: 'intent', rung: 'default: no limitation stated' }),
    )
  })

  it.each(['caecum', 'ileum', 'anastomosis'])('%s stated: reached, on a statement alone', (site) => {
    expect(read([bareProcedure(), extent(site)]).course).toMatchObject({
      extent: site,
      extentEvidence: 'stated',
      caecumReached: true,
      completionPhotographed: false,
    })
  })

  it.each([
    ['appendix-orifice', 'caecum'],
    ['ileocaecal-valve', 'caecum'],
    ['ileum', 'ileum'],
    ['anastomosis', 'anastomosis'],
  ])('a photograph of the %s proves the %s', (landmark, site) => {
    expect(read([bareProcedure(), photograph(landmark)]).course).toMatchObject({
      extent: site,
      extentEvidence: 'photograph',
      caecumReached: true,
      completionPhotographed: true,
      landmarkPhotographCount: 1,
    })
  })

  it('a photograph of the rectum proves nothing of how far it went', () => {
    const { course } = read([bareProcedure(), photograph('rectum')])
    expect(course).toMatchObject({ completionPhotographed: false, landmarkPhotographCount: 1 })
    expect(course.caecumReached).toBeUndefined()
  })

  it('the deeper of two stated extents counts, in any order, and the two are listed', () => {
    for (const two of orders([extent('sigmoid'), extent('caecum')])) {
      const { course, kinds } = read([bareProcedure(), ...two])
      expect(course).toMatchObject({ extent: 'caecum', caecumReached: true })
      expect(kinds).toContain('two different extents stated')
    }
  })

  it('a final extent counts before a deeper preliminary one', () => {
    const { course, kinds } = read([bareProcedure(), extent('caecum', { status: 'preliminary' }), extent('sigmoid')])
    expect(course).toMatchObject({ extent: 'sigmoid', caecumReached: false })
    expect(kinds).toContain('two different extents stated')
  })

  it('a photograph beyond the stated extent counts, and is listed', () => {
    const { course, kinds } = read([bareProcedure(), extent('ascending'), photograph('appendix-orifice')])
    expect(course).toMatchObject({ extent: 'caecum', extentEvidence: 'photograph' })
    expect(kinds).toEqual(['photograph of a landmark beyond the stated extent'])
  })

  it('an extent that cannot be read leaves the caecum open, even where the examination was stopped', () => {
    const unread = observationOf(fact('extent-reached'), { valueCodeableConcept: { text: 'all the way' } })
    const { course, trail, survey } = read([stopped('discomfort'), unread])
    expect(course.caecumReached).toBeUndefined()
    expect(trail.unreadable).toEqual([
      { field: 'extent', resource: unread, element: 'Observation.valueCodeableConcept' },
    ])
    expect([...survey.unmatched.values()]).toMatchObject([{ words: 'all the way', count: 1 }])
  })

  it.each([
    ['our code for the extent', fact('extent-reached'), { coding: [{ system: 'urn:local', code: 'CAE' }] }],
    ['the code of the colonoscopy', snomed('73761001'), { coding: [{ system: 'urn:local', code: 'CAE' }] }],
    ['the code of the colonoscopy', snomed('73761001'), { text: 'to the caecum' }],
  ])('%s with a value that nobody knows may say caecum, even where the examination was stopped', (_, code, value) => {
    const { course, trail, survey } = read([stopped('looping'), observationOf(code, { valueCodeableConcept: value })])
    expect(course.caecumReached).toBeUndefined()
    expect(trail.unreadable).toMatchObject([{ field: 'extent' }])
    expect(survey.unmatched.size).toBe(1)
    // Beside an extent short of the caecum it may be the deeper one.
    const two = [stopped('looping'), extent('sigmoid'), observationOf(code, { valueCodeableConcept: value })]
    expect(read(two).course.caecumReached).toBeUndefined()
    expect(read([...two, extent('caecum')]).course.caecumReached).toBe(true)
  })

  it('sites of one statement that differ are no site, in any order', () => {
    // SNOMED CT: 51342009 right colon, 32713005 caecum.
    const codings = ['51342009', '32713005'].map((code) => ({ system: 'http://snomed.info/sct', code }))
    for (const coding of orders(codings)) {
      const said = observationOf(fact('extent-reached'), { valueCodeableConcept: { coding } })
      const { course, trail } = read([bareProcedure(), said])
      expect(course.extent).toBeUndefined()
      expect(course.caecumReached).toBeUndefined()
      expect(trail.unreadable).toMatchObject([{ field: 'extent' }])
    }
  })

  it('an anastomosis may lie anywhere: beside another extent it is no end of the bowel, and is listed', () => {
    for (const two of orders([extent('anastomosis'), extent('transverse')])) {
      const { course, kinds } = read([stopped('looping'), ...two])
      expect(course).toMatchObject({ completion: 'stopped', extent: 'transverse', caecumReached: false })
      expect(kinds).toContain('two different extents stated')
      // Of a completed one nobody can say: the anastomosis may lie in the transverse colon.
      expect(read([bareProcedure(), ...two]).course.caecumReached).toBeUndefined()
    }
    expect(read([bareProcedure(), extent('anastomosis'), photograph('caecum')]).course).toMatchObject({
      extent: 'caecum',
      caecumReached: true,
    })
  })

  it('what may be an extent of this examination or of another leaves the caecum open', () => {
    const { examination, reading } = oneExamination([stopped('looping')], northmoor)
    examination.isCourseOpen = true
    expect(readCourse(examination, reading).caecumReached).toBeUndefined()
    const short = oneExamination([bareProcedure(), extent('sigmoid')], northmoor)
    short.examination.isCourseOpen = true
    expect(readCourse(short.examination, short.reading).caecumReached).toBeUndefined()
    const reached = oneExamination([bareProcedure(), extent('caecum')], northmoor)
    reached.examination.isCourseOpen = true
    expect(readCourse(reached.examination, reached.reading).caecumReached).toBe(true)
  })

  it('an extent issued after the as-of instant is not known yet', () => {
    const later = extent('caecum', { issued: '2026-04-01T08:00:00Z' })
    expect(read([bareProcedure(), later], undeclared, '2026-03-31').course.extent).toBeUndefined()
    expect(read([bareProcedure(), later], undeclared, '2026-04-01').course.extent).toBe('caecum')
  })
})

describe('stopping', () => {
  it.each([
    ['inadequate-preparation', false],
    ['discomfort', false],
    ['impassable-stricture', true],
    ['obstructing-lesion', true],
  ])('stopped before the caecum for %s: not reached; a stricture that could not be passed: %s', (reason, barred) => {
    const { course } = read([stopped(reason), extent('sigmoid')])
    expect(course).toMatchObject({
      completion: 'stopped',
      stopReason: reason,
      caecumReached: false,
      impassableStricture: barred,
    })
  })

  it('after the caecum a stopped examination is complete', () => {
    const { course, kinds } = read([stopped('discomfort'), extent('caecum')])
    expect(course).toMatchObject({ completion: 'completed', caecumReached: true, impassableStricture: false })
    expect(course.stopReason).toBeUndefined()
    expect(kinds).toEqual([])
  })

  it.each([
    ['for a stricture', [stopped('impassable-stricture'), photograph('appendix-orifice')]],
    ['in the sigmoid', [stopped(), extent('sigmoid'), photograph('appendix-orifice')]],
  ])('a caecum reached although the examination was stopped before it %s is listed', (_, resources) => {
    expect(read(resources).kinds).toContain('caecum reached, but stopped before it')
  })

  it('stopped for no stated reason leaves open whether a stricture barred the way', () => {
    const { course } = read([stopped(), extent('sigmoid')])
    expect(course.stopReason).toBeUndefined()
    expect(course.impassableStricture).toBeUndefined()
  })

  it('a reason nobody knows is unreadable and listed with its words', () => {
    const { course, trail, survey } = read([bareProcedure({ status: 'stopped', statusReason: { text: 'too long' } })])
    expect(course.stopReason).toBeUndefined()
    expect(trail.unreadable).toMatchObject([{ field: 'stopReason', element: 'Procedure.statusReason' }])
    expect([...survey.unmatched.values()]).toMatchObject([{ where: 'Procedure.statusReason', words: 'too long' }])
  })

  it('two resources of one examination with different reasons give none', () => {
    const other = { ...stopped('looping'), id: 'q' }
    const { course, kinds } = read([stopped('discomfort'), other, extent('sigmoid')])
    expect(course).toMatchObject({ completion: 'stopped' })
    expect(course.stopReason).toBeUndefined()
    expect(kinds).toEqual(['two different values of one measurement'])
  })
})

describe('never inserted', () => {
  const none = bareProcedure({ status: 'stopped', statusReason: fact('not-inserted') })

  it.each([
    ['by the reason for stopping', [none]],
    ['by the extent', [bareProcedure({ status: 'stopped' }), extent('not-inserted')]],
  ])('%s: no examination', (_, resources) => {
    const { course, trail } = read(resources)
    expect(course.neverInserted).toBe(true)
    expect(trail.unreadable).toEqual([])
  })

  it.each([
    ['an extent', extent('rectum')],
    ['a photograph', photograph('rectum')],
    ['a withdrawal time', observationOf(fact('withdrawal-time'), { valueInteger: 4 })],
    ['a polyp', observationOf(snomed('399505005'))],
  ])('%s contradicts it: the examination stays, and it is listed', (_, sign) => {
    const { course, kinds } = read([none, sign])
    expect(course.neverInserted).toBe(false)
    expect(kinds).toContain('never inserted, but something was seen or done')
  })

  it('is not said of an examination that was merely stopped', () => {
    expect(read([stopped('looping')]).course.neverInserted).toBe(false)
  })
})

describe('landmark photographs', () => {
  it('of different landmarks are counted once each', () => {
    const pictures = ['appendix-orifice', 'ileocaecal-valve', 'appendix-orifice'].map(photograph)
    expect(read([bareProcedure(), ...pictures]).course.landmarkPhotographCount).toBe(2)
  })

  it('are none only in a complete feed, once the report is signed', () => {
    const withReport = (status: string) => [
      bareProcedure({ report: [{ reference: 'DiagnosticReport/r' }] }),
      { resourceType: 'DiagnosticReport', id: 'r', status, code: snomed('73761001') },
    ]
    expect(read(withReport('final'), northmoor).course.landmarkPhotographCount).toBe(0)
    expect(read(withReport('preliminary'), northmoor).course).toMatchObject({ report: 'preliminary' })
    expect(read(withReport('preliminary'), northmoor).course.landmarkPhotographCount).toBeUndefined()
    expect(read(withReport('final')).course.landmarkPhotographCount).toBeUndefined()
  })

  it('one that cannot be read leaves the number open', () => {
    const unread = observationOf(fact('landmark-photograph'), { valueCodeableConcept: fact('cuff') })
    const { course, trail } = read([bareProcedure(), photograph('appendix-orifice'), unread])
    expect(course.landmarkPhotographCount).toBeUndefined()
    expect(course.completionPhotographed).toBe(true)
    expect(trail.unreadable).toMatchObject([{ field: 'landmarkPhotographCount' }])
  })
})

describe('a photograph as proof of completion', () => {
  const local = { coding: [{ system: 'urn:local', code: 'APP' }] }
  const unread = observationOf(fact('landmark-photograph'), { valueCodeableConcept: local })

  it('that cannot be read may be of any landmark: whether there is proof is not known', () => {
    const { course, survey } = read([bareProcedure(), extent('caecum'), unread], northmoor)
    expect(course.completionPhotographed).toBeUndefined()
    expect(course.landmarkPhotographCount).toBeUndefined()
    expect([...survey.unmatched.values()]).toMatchObject([{ code: 'APP', count: 1 }])
  })

  it('is there with another that can be read, and is not without any', () => {
    expect(read([bareProcedure(), unread, photograph('ileum')]).course.completionPhotographed).toBe(true)
    expect(read([bareProcedure(), extent('caecum')]).course.completionPhotographed).toBe(false)
    expect(read([bareProcedure(), photograph('rectum')]).course.completionPhotographed).toBe(false)
  })

  it('that was not taken, and says so, is none; a landmark beside a reason for having no value is no proof', () => {
    const reason = (code: string) => ({
      dataAbsentReason: {
        coding: [{ system: 'http://terminology.hl7.org/CodeSystem/data-absent-reason', code }],
      },
    })
    const withPhotograph = (more: object) =>
      read([bareProcedure(), observationOf(fact('landmark-photograph'), { ...more })])
    expect(withPhotograph(reason('not-performed')).course.completionPhotographed).toBe(false)
    expect(withPhotograph(reason('unknown')).course.completionPhotographed).toBeUndefined()
    const both = { ...reason('not-performed'), valueCodeableConcept: fact('appendix-orifice') }
    expect(withPhotograph(both).course.completionPhotographed).toBeUndefined()
    expect(read([stopped(), extent('caecum', reason('unknown'))]).course.caecumReached).toBeUndefined()
  })

  it('that may be another examination’s leaves it open', () => {
    const { examination, reading } = oneExamination([bareProcedure(), extent('caecum')], northmoor)
    examination.openKinds.push('photographs')
    const course = readCourse(examination, reading)
    expect(course.completionPhotographed).toBeUndefined()
    expect(course.landmarkPhotographCount).toBeUndefined()
  })
})

describe('ileum and retroflexion', () => {
  const ileum = (word: string) => observationOf(fact('ileal-intubation'), { valueCodeableConcept: fact(word) })
  const turned = (value: object) => observationOf(fact('rectal-retroflexion'), { ...value })

  it.each(['not-attempted', 'attempted', 'done'])('ileum %s, as stated', (word) => {
    expect(read([bareProcedure(), ileum(word)]).course.ileum).toBe(word)
  })

  it('an extent or a photograph of the ileum means that it was entered', () => {
    expect(read([bareProcedure(), extent('ileum')]).course.ileum).toBe('done')
    expect(read([bareProcedure(), photograph('ileum')]).course.ileum).toBe('done')
  })

  it('an ileum photographed and said not to have been attempted is neither', () => {
    const { course, kinds } = read([bareProcedure(), photograph('ileum'), ileum('not-attempted')])
    expect(course.ileum).toBeUndefined()
    expect(kinds).toContain('ileum or retroflexion said not to be done, but done')
  })

  it('retroflexion: a word, or yes; a mere no does not say whether it was tried', () => {
    expect(read([bareProcedure(), turned({ valueCodeableConcept: fact('attempted') })]).course.retroflexion).toBe(
      'attempted',
    )
    expect(read([bareProcedure(), turned({ valueBoolean: true })]).course.retroflexion).toBe('done')
    const { course, trail } = read([bareProcedure(), turned({ valueBoolean: false })])
    expect(course.retroflexion).toBeUndefined()
    expect(trail.unreadable).toMatchObject([{ field: 'retroflexion', element: 'Observation.valueBoolean' }])
  })

  it('a procedure code that itself says retroflexion means done', () => {
    // SNOMED CT extension code as printed in a published implementation guide: colonoscopy using rectal retroflexion.
    const coded = bareProcedure({
      code: { coding: [...(snomed('73761001').coding as object[]), ...(snomed('48031000087101').coding as object[])] },
    })
    const { course, trail } = read([coded])
    expect(course.retroflexion).toBe('done')
    expect(trail.evidence).toContainEqual(
      expect.objectContaining({ field: 'retroflexion', rung: 'inferred from the procedure code' }),
    )
  })
})

describe('intent', () => {
  const intent = (value: object) => observationOf(fact('intent'), { ...value })

  it('a stated limitation makes it limited', () => {
    expect(read([bareProcedure(), intent({ valueCodeableConcept: fact('limited') })]).course.intent).toBe('limited')
  })

  it('a statement that cannot be read, or two that differ, leave it open', () => {
    expect(read([bareProcedure(), intent({ valueString: 'quick look' })]).course.intent).toBeUndefined()
    const two = ['limited', 'complete'].map((word) => intent({ valueCodeableConcept: fact(word) }))
    expect(read([bareProcedure(), ...two]).course.intent).toBeUndefined()
  })
})
