import { describe, expect, it } from 'vitest'
import { readPreparation } from '../../src/linkage/preparation.ts'
import type { Colonoscopy } from '../../src/record/colonoscopy.ts'
import { fact, snomed } from '../stories/examination.ts'
import { bareProcedure, observationOf, orders } from './bare-examination.ts'
import { oneExamination } from './one-examination.ts'

// Boston scale: three segments of 0 to 3; adequate when each is at least 2 (clinical practice update 2021). What a total alone
// decides follows by arithmetic: 2 + 2 + 2 = 6 is the least adequate one, 3 + 3 + 1 = 7 the greatest inadequate one.
type Resource = Record<string, unknown>
const sites = { right: '51342009', transverse: '485005', left: '55572008' } as const
type Segment = keyof typeof sites
const segment = (site: Segment, value: Resource) =>
  observationOf(snomed('722819004'), { bodySite: snomed(sites[site]), ...value })
const points = (site: Segment, value: number, more: Resource = {}) => segment(site, { valueInteger: value, ...more })
const total = (value: number) => observationOf(snomed('722818007'), { valueInteger: value })
const stated = (word: string) => observationOf(fact('preparation'), { valueCodeableConcept: fact(word) })
const notApplicable = {
  dataAbsentReason: {
    coding: [{ system: 'http://terminology.hl7.org/CodeSystem/data-absent-reason', code: 'not-applicable' }],
  },
}
const forStool = { completion: 'stopped', stopReason: 'inadequate-preparation' } as const

function read(
  observations: readonly Resource[],
  history: Pick<Colonoscopy, 'earlierResection' | 'resectedPart'> = {},
  stop: Pick<Colonoscopy, 'completion' | 'stopReason'> = { completion: 'completed' },
) {
  const { examination, reading, trail, survey } = oneExamination([bareProcedure(), ...observations])
  const facts = readPreparation(examination, history, stop, reading)
  return { facts, trail, survey, kinds: trail.contradictions.map(({ kind }) => kind) }
}

describe('Boston scores', () => {
  it.each([
    [0, false],
    [5, false],
    [6, undefined],
    [7, undefined],
    [8, true],
    [9, true],
  ])('a total of %i alone says of every segment: %s', (value, judged) => {
    const { facts } = read([total(value)])
    expect(facts).toMatchObject({ preparationScale: 'boston', preparationTotal: value })
    expect(facts.segmentsAllAtLeast2).toBe(judged)
  })

  it('segments decide before a total does, and a total they cannot make is listed', () => {
    const { facts, kinds } = read([points('right', 3), points('transverse', 3), points('left', 0), total(9)])
    expect(facts).toMatchObject({ preparationTotal: 6, segmentsAllAtLeast2: false, preparationLeft: 0 })
    expect(kinds).toEqual(['Boston total that its segments cannot make'])
  })

  it('a total of 6 of which two segments took 3 each leaves 0 for the third', () => {
    const { facts } = read([points('right', 3), points('transverse', 3), total(6)])
    expect(facts).toMatchObject({ preparationTotal: 6, segmentsAllAtLeast2: false })
    expect(facts.preparationLeft).toBeUndefined()
  })

  it('a total that is impossible beside the scores is no total', () => {
    const { facts, kinds } = read([points('right', 2), points('transverse', 2), total(8)])
    expect(facts.preparationTotal).toBeUndefined()
    expect(facts.segmentsAllAtLeast2).toBeUndefined()
    expect(kinds).toEqual(['Boston total that its segments cannot make'])
  })

  it.each<[string, Resource]>([
    ['a quantity', { valueQuantity: { value: 2 } }],
    ['a quantity of points', { valueQuantity: { value: 2, system: 'http://unitsofmeasure.org', code: '{score}' } }],
    ['a decimal sent as text', { valueString: '2' }],
    ['a code of ours', { valueCodeableConcept: fact('boston-2') }],
  ])('a score sent as %s is read', (_, value) => {
    expect(read([segment('right', value)]).facts.preparationRight).toBe(2)
  })

  it.each<[string, Resource, boolean]>([
    ['a comparator', { valueQuantity: { value: 2, comparator: '>' } }, false],
    ['a score beyond the scale', { valueInteger: 4 }, true],
    ['less than nothing', { valueInteger: -1 }, true],
    ['half a point', { valueQuantity: { value: 2.5 } }, false],
    ['words', { valueString: 'good' }, false],
    ['all segments in one text', { valueString: '3-3-2' }, false],
    ['letters and numbers', { valueString: 'R3 T3 L2' }, false],
    ['a code of something else', { valueCodeableConcept: fact('cuff') }, false],
  ])('%s is not a score, and is listed', (_, value, isOffScale) => {
    const { facts, trail } = read([segment('right', value)])
    expect(facts.preparationRight).toBeUndefined()
    expect(facts.preparationScale).toBeUndefined()
    expect(trail.unreadable).toMatchObject([{ field: 'preparationRight' }])
    expect(trail.doubts.map(({ kind }) => kind)).toEqual(isOffScale ? ['score outside its scale'] : [])
  })

  it('components of a total carry the segments', () => {
    const panel = observationOf(snomed('722818007'), {
      component: [
        { code: snomed(sites.right), valueInteger: 2 },
        { code: fact('transverse-segment'), valueInteger: 2 },
        { code: snomed(sites.left), valueCodeableConcept: fact('boston-3') },
      ],
    })
    const { facts, trail } = read([panel])
    expect(facts).toMatchObject({
      preparationRight: 2,
      preparationTransverse: 2,
      preparationLeft: 3,
      preparationTotal: 7,
      segmentsAllAtLeast2: true,
    })
    expect(trail.evidence).toContainEqual({
      field: 'preparationLeft',
      resource: panel,
      rung: 'direct reference',
      element: 'Observation.component.valueCodeableConcept',
    })
  })

  it('two different scores of one segment are none; a corrected one stands against a preliminary one', () => {
    for (const two of orders([points('left', 1), points('left', 3)])) {
      const { facts, kinds } = read(two)
      expect(facts.preparationLeft).toBeUndefined()
      expect(facts.leftSegmentPresent).toBe(true)
      expect(kinds).toEqual(['two different values of one measurement'])
    }
    const amended = [points('left', 1, { status: 'corrected' }), points('left', 3, { status: 'preliminary' })]
    for (const two of orders(amended)) expect(read(two).facts.preparationLeft).toBe(1)
  })

  it('a score of no segment we know is listed with its site', () => {
    const lost = observationOf(snomed('722819004'), { bodySite: { text: 'proximal' }, valueInteger: 2 })
    const { trail, survey } = read([lost])
    expect(trail.unreadable).toMatchObject([{ field: 'segmentsAllAtLeast2', element: 'Observation.bodySite' }])
    expect([...survey.unmatched.values()]).toMatchObject([{ words: 'proximal' }])
  })
})

describe('segments after a resection', () => {
  const rightTaken = { earlierResection: true, resectedPart: 'right' } as const

  it('one that was taken is not there, and the others decide', () => {
    const { facts } = read([points('transverse', 2), points('left', 3)], rightTaken)
    expect(facts).toMatchObject({
      rightSegmentPresent: false,
      transverseSegmentPresent: true,
      leftSegmentPresent: true,
      preparationTotal: 5,
      segmentsAllAtLeast2: true,
    })
  })

  it('none resected in a complete history: all three are there, scored or not', () => {
    const { facts } = read([points('transverse', 2), points('left', 3)], { earlierResection: false })
    expect(facts).toMatchObject({ rightSegmentPresent: true, transverseSegmentPresent: true, leftSegmentPresent: true })
    expect(facts.segmentsAllAtLeast2).toBeUndefined()
    expect(facts.preparationTotal).toBeUndefined()
  })

  it('nothing known of a resection: an unscored segment may be there or not', () => {
    const { facts } = read([points('left', 3)])
    expect(facts.rightSegmentPresent).toBeUndefined()
    expect(facts.segmentsAllAtLeast2).toBeUndefined()
  })

  it.each([
    // Two segments of 3 make 6 and of 2 make 4: with one gone, 4 may be 2 + 2 or 3 + 1, and 5 can only be 3 + 2.
    [4, undefined],
    [5, true],
    [6, true],
  ])('with the right one gone a total of %i alone says of every segment: %s', (value, judged) => {
    const { facts } = read([total(value)], rightTaken)
    expect(facts.preparationTotal).toBe(value)
    expect(facts.segmentsAllAtLeast2).toBe(judged)
  })

  it('with the right one gone a total of 7 is impossible', () => {
    const { facts, kinds } = read([total(7)], rightTaken)
    expect(facts.preparationTotal).toBeUndefined()
    expect(kinds).toEqual(['Boston total that its segments cannot make'])
  })

  it('an unnamed resection: a low total may be that of few segments', () => {
    // 5 may be 3 + 2 of two segments or 2 + 2 + 1 of three.
    expect(read([total(5)], { earlierResection: true }).facts.segmentsAllAtLeast2).toBeUndefined()
    expect(read([total(1)], { earlierResection: true }).facts.segmentsAllAtLeast2).toBe(false)
    expect(read([total(8)], { earlierResection: true }).facts.segmentsAllAtLeast2).toBe(true)
  })

  it('a score that is said not to apply tells that the segment is gone', () => {
    const { facts } = read([points('transverse', 2), points('left', 3), segment('right', notApplicable)])
    expect(facts).toMatchObject({ rightSegmentPresent: false, preparationTotal: 5, segmentsAllAtLeast2: true })
  })

  it('but not where nothing was resected, nor in an examination that was stopped: it may only be unseen', () => {
    const observations = [points('left', 3), segment('right', notApplicable)]
    expect(read(observations, { earlierResection: false }).facts.rightSegmentPresent).toBeUndefined()
    expect(
      read(observations, {}, { completion: 'stopped', stopReason: 'discomfort' }).facts.rightSegmentPresent,
    ).toBeUndefined()
  })

  it('a score of a segment that was taken is listed', () => {
    const { facts, kinds } = read([points('right', 2)], rightTaken)
    expect(facts.rightSegmentPresent).toBeUndefined()
    expect(kinds).toEqual(['bowel segment scored, but taken by an earlier resection or not to be scored'])
  })

  it('after a left hemicolectomy the rectum may be left, which belongs to the left segment', () => {
    const { facts } = read([], { earlierResection: true, resectedPart: 'left' })
    expect(facts.leftSegmentPresent).toBeUndefined()
  })
})

// Boston scale: where an examination is given up for stool, the segments beyond that were not seen score 0.
describe('stopped because of stool', () => {
  it('the segments beyond a scored one score 0, by the stop reason', () => {
    const { facts, trail } = read([points('left', 0)], {}, forStool)
    expect(facts).toMatchObject({
      stoppedForPreparation: true,
      preparationLeft: 0,
      preparationTransverse: 0,
      preparationRight: 0,
      segmentsAllAtLeast2: false,
    })
    const inferred = trail.evidence.filter(({ rung }) => rung === 'inferred from the stop reason')
    expect(inferred.map(({ field }) => field)).toEqual([
      'stoppedForPreparation',
      'preparationTransverse',
      'preparationRight',
    ])
  })

  it('without any score none is inferred: the reason alone stands', () => {
    const { facts } = read([], {}, forStool)
    expect(facts.stoppedForPreparation).toBe(true)
    expect(facts.preparationScale).toBeUndefined()
    expect(facts.preparationTotal).toBeUndefined()
    expect(facts.segmentsAllAtLeast2).toBeUndefined()
  })

  it('a segment before the scored one is not inferred, nor one that a resection took', () => {
    expect(read([points('transverse', 1)], {}, forStool).facts).toMatchObject({ preparationRight: 0 })
    expect(read([points('transverse', 1)], {}, forStool).facts.preparationLeft).toBeUndefined()
    const taken = read([points('left', 1)], { earlierResection: true, resectedPart: 'right' }, forStool).facts
    expect(taken.preparationRight).toBeUndefined()
  })

  it.each<[string, Resource[]]>([
    ['scores of 3 on the left and transverse', [points('left', 3), points('transverse', 3)]],
    ['a level of adequate', [stated('adequate')]],
    ['a grade of good', [stated('good')]],
  ])('%s contradict the reason: not known, nothing inferred, and listed', (_, observations) => {
    const { facts, kinds } = read(observations, {}, forStool)
    expect(facts.stoppedForPreparation).toBeUndefined()
    expect(facts.preparationRight).toBeUndefined()
    expect(kinds).toEqual(['stopped for preparation that is scored good'])
  })

  it.each([
    [{ completion: 'completed' } as const, false],
    [{ completion: 'stopped', stopReason: 'looping' } as const, false],
    [{ completion: 'stopped' } as const, undefined],
  ])('%j: %s', (stop, answer) => {
    const { facts } = read([points('left', 0)], {}, stop)
    expect(facts.stoppedForPreparation).toBe(answer)
    expect(facts.preparationTransverse).toBeUndefined()
  })
})

describe('preparation in words', () => {
  it.each(['excellent', 'good', 'fair', 'poor', 'unsatisfactory'])('a grade of %s', (grade) => {
    expect(read([stated(grade)]).facts).toMatchObject({ preparationScale: 'grade', preparationGrade: grade })
  })

  it('a level, in our code or in SNOMED CT', () => {
    expect(read([stated('inadequate')]).facts).toMatchObject({
      preparationScale: 'stated-level',
      preparationLevel: 'inadequate',
    })
    const effective = observationOf(snomed('225106003'), { valueCodeableConcept: snomed('703141002') })
    expect(read([effective]).facts.preparationLevel).toBe('adequate')
  })

  it('Boston scores name the scale where both are told', () => {
    expect(read([stated('fair'), points('left', 2)]).facts).toMatchObject({
      preparationScale: 'boston',
      preparationGrade: 'fair',
    })
  })

  it('a total in a component of the level is read, and so is a level in a component of the total', () => {
    // SNOMED CT: 225106003 preparation of bowel, 703141002 effective; 722818007 the Boston total.
    const level = { code: snomed('225106003'), valueCodeableConcept: snomed('703141002') }
    const five = { code: snomed('722818007'), valueInteger: 5 }
    for (const [whole, part] of orders([level, five])) {
      if (whole === undefined || part === undefined) throw new Error('two expected')
      const { code, ...value } = whole
      const { facts, survey } = read([observationOf(code, { ...value, component: [part] })])
      expect(facts).toMatchObject({
        preparationLevel: 'adequate',
        preparationTotal: 5,
        segmentsAllAtLeast2: false,
        preparationScale: 'boston',
      })
      expect(survey.unmatched.size).toBe(0)
    }
  })

  it('a panel of preparation that only carries components says nothing itself', () => {
    const { facts, trail } = read([
      observationOf(snomed('225106003'), {
        component: [
          { code: fact('preparation'), valueCodeableConcept: fact('good') },
          { code: fact('right-segment'), valueInteger: 2 },
        ],
      }),
    ])
    expect(facts).toMatchObject({ preparationGrade: 'good', preparationRight: 2 })
    expect(trail.unreadable).toEqual([])
  })

  it('words alone are unreadable, and listed', () => {
    const { facts, trail, survey } = read([observationOf(fact('preparation'), { valueString: 'quite clean' })])
    expect(facts.preparationLevel).toBeUndefined()
    expect(trail.unreadable).toMatchObject([{ field: 'preparationLevel', element: 'Observation.valueString' }])
    expect([...survey.unmatched.values()]).toMatchObject([{ words: 'quite clean' }])
  })
})
