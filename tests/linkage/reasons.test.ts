import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { readReasons } from '../../src/linkage/reasons.ts'
import { examination, fact, snomed } from '../stories/examination.ts'
import { northmoor } from '../stories/northmoor.ts'
import { oneExamination } from './one-examination.ts'

// The precedence is the record's own rule, as written in its definition: known lesion, site check, positive screening test,
// surveillance, symptoms with a positive stool test, symptoms, screening. Where reasons stand: FHIR R4, Procedure and ServiceRequest
// (reasonCode, reasonReference). That a positive test of the programme and one of somebody with symptoms are two reasons is in the US
// 2024 and UK 2016 definitions, which place them differently.
type Resource = Record<string, unknown>
const precedence = [
  'known-lesion',
  'site-check',
  'positive-screening-test',
  'surveillance',
  'symptoms-positive-test',
  'symptoms',
  'screening',
]
const local = { coding: [{ system: 'urn:oid:2.999.4', code: 'BLEED', display: 'PR bleeding' }] }
const readsText = { ...northmoor, readsText: true }

/** Why procedure `a` was done, by what it and other resources say. */
function why(procedure: Resource, more: readonly Resource[] = [], source = northmoor, isSeenAgain = false) {
  const resources = examination({ id: 'a', reasons: [] }).map((resource) =>
    resource.resourceType === 'Procedure' ? { ...resource, reasonCode: undefined, ...procedure } : resource,
  )
  const one = oneExamination([...resources, ...more], source)
  return { ...readReasons(one.examination, one.reading, isSeenAgain), ...one }
}
const contradictionsOf = ({ trail }: ReturnType<typeof why>) => trail.contradictions.map(({ kind }) => kind)
const because = (...references: string[]) => ({ reasonReference: references.map((reference) => ({ reference })) })
const ordered = { basedOn: [{ reference: 'ServiceRequest/o' }] }
const order = (more: Resource): Resource => ({ resourceType: 'ServiceRequest', id: 'o', status: 'completed', ...more })

describe('all stated reasons, and the one referral reason', () => {
  it('is the first by precedence, whatever the order, and every different one is kept once', () => {
    fc.assert(
      fc.property(fc.array(fc.constantFrom(...precedence), { minLength: 1, maxLength: 5 }), (reasons) => {
        const { referralReason, reasonCount, reasons: kept } = why({ reasonCode: reasons.map(fact) })
        const different = precedence.filter((reason) => reasons.includes(reason))
        expect(referralReason).toBe(different[0])
        expect(reasonCount).toBe(different.length)
        expect(kept).toEqual(different.map((reason) => ({ reason })))
      }),
      { seed: 3, numRuns: 50 },
    )
  })

  it('one that is not known stands beside those that are, and is listed as a doubt', () => {
    const told = why({ reasonCode: [fact('screening'), local] })
    expect(told).toMatchObject({ referralReason: 'screening', reasonCount: 1, referredForKnownLesion: undefined })
    expect(told.trail.doubts.map(({ kind }) => kind)).toEqual(['reason that is not known here, beside one that is'])
    expect([...told.survey.unmatched.values()]).toMatchObject([{ code: 'BLEED' }])
    expect(why({ reasonCode: [fact('screening'), fact('symptoms')] }).trail.doubts).toEqual([])
    expect(why({ reasonCode: [local] }).trail.doubts).toEqual([])
  })

  it('two reasons coded in one concept are two', () => {
    const coding = ['symptoms', 'surveillance'].flatMap((reason) => fact(reason).coding)
    expect(why({ reasonCode: [{ coding }] })).toMatchObject({ referralReason: 'surveillance', reasonCount: 2 })
  })

  it('ICD-10-CM Z12.11 is screening', () => {
    const coding = [{ system: 'http://hl7.org/fhir/sid/icd-10-cm', code: 'Z12.11' }]
    expect(why({ reasonCode: [{ coding }] }).referralReason).toBe('screening')
  })

  it('the order’s reasons count beside those of the procedure', () => {
    const result = why({ ...ordered, reasonCode: [fact('screening')] }, [order({ reasonCode: [fact('symptoms')] })])
    expect(result).toMatchObject({ referralReason: 'symptoms', reasonCount: 2 })
    expect(result.trail.evidence).toContainEqual(
      expect.objectContaining({
        field: 'referralReason',
        element: 'ServiceRequest.reasonCode',
        rung: 'direct reference',
      }),
    )
  })

  it('an order entered in error says nothing; one that was not read is a reference that leads nowhere', () => {
    expect(why(ordered, [order({ status: 'entered-in-error', reasonCode: [fact('symptoms')] })]).reasonCount).toBe(
      undefined,
    )
    expect(why(ordered).survey.deadEnds.get('Procedure.basedOn')).toMatchObject({ count: 1 })
  })

  it('nothing stated is not recorded', () => {
    expect(why({})).toMatchObject({
      referralReason: undefined,
      reasonCount: undefined,
      reasons: undefined,
      knownLesion: undefined,
    })
  })

  it('a code nobody knows, or words alone, is no reason, and is listed', () => {
    const result = why({ reasonCode: [local, { text: 'weight loss' }] })
    expect(result.reasonCount).toBeUndefined()
    expect([...result.survey.unmatched.values()]).toMatchObject([
      { where: 'Procedure.reasonCode', code: 'BLEED', words: 'PR bleeding', count: 1 },
      { where: 'Procedure.reasonCode', code: undefined, words: 'weight loss', count: 1 },
    ])
  })

  it('only where nothing is stated does a procedure code that says screening count', () => {
    // SNOMED CT 444783004: screening colonoscopy.
    const code = snomed('444783004')
    const silent = why({ code })
    expect(silent).toMatchObject({ referralReason: 'screening', reasonCount: 1, knownLesion: undefined })
    expect(silent.trail.evidence).toContainEqual(
      expect.objectContaining({ field: 'referralReason', rung: 'inferred from the procedure code' }),
    )
    expect(why({ code, reasonCode: [fact('symptoms')] }).referralReason).toBe('symptoms')
  })
})

describe('a reason that is another resource', () => {
  const condition = (more: Resource): Resource => ({ resourceType: 'Condition', id: 'c', ...more })

  it('is what that condition’s code says', () => {
    const result = why(because('Condition/c'), [condition({ code: fact('symptoms') })])
    expect(result).toMatchObject({ referralReason: 'symptoms', knownLesion: false })
  })

  it('may lie inside the procedure', () => {
    const contained = [condition({ code: fact('surveillance') })]
    expect(why({ ...because('#c'), contained }).referralReason).toBe('surveillance')
  })

  it('counts though it was refuted since, and not where it was entered in error', () => {
    const judged = (code: string) =>
      why(because('Condition/c'), [condition({ code: fact('symptoms'), verificationStatus: { coding: [{ code }] } })])
        .referralReason
    expect(judged('refuted')).toBe('symptoms')
    expect(judged('entered-in-error')).toBeUndefined()
  })

  it('is not known before it was recorded', () => {
    const resources = [
      ...examination({ id: 'a', reasons: [] }).map((one) =>
        one.resourceType === 'Procedure' ? { ...one, ...because('Condition/c') } : one,
      ),
      condition({ code: fact('symptoms'), recordedDate: '2026-05-01' }),
    ]
    const asOf = (date: string) => {
      const { examination: one, reading } = oneExamination(resources, northmoor, date)
      return readReasons(one, reading, false).referralReason
    }
    expect(asOf('2026-04-30')).toBeUndefined()
    expect(asOf('2026-05-01')).toBe('symptoms')
  })

  it('is listed where it leads nowhere, and leaves open whether a lesion was known', () => {
    const result = why({ ...because('Condition/gone'), reasonCode: [fact('symptoms')] })
    expect(result).toMatchObject({ referralReason: 'symptoms', knownLesion: undefined })
    expect(result.survey.deadEnds.get('Procedure.reasonReference')).toMatchObject({ examples: ['Procedure/a'] })
  })

  describe('a stool test', () => {
    // Observation Interpretation, HL7 terminology: POS positive, NEG negative.
    const interpreted = (code: string) => ({
      valueQuantity: { value: 31, code: 'ug/g' },
      interpretation: [
        { coding: [{ system: 'http://terminology.hl7.org/CodeSystem/v3-ObservationInterpretation', code }] },
      ],
    })
    const test = (more: Resource, code: Resource = fact('positive-screening-test')) =>
      why(because('Observation/t'), [{ resourceType: 'Observation', id: 't', status: 'final', code, ...more }])

    it.each<[string, Resource]>([
      ['that only its code names', {}],
      ['answered with yes', { valueBoolean: true }],
      ['interpreted as positive', interpreted('POS')],
    ])('of the programme %s is a positive screening test', (_, result) => {
      expect(test(result).referralReason).toBe('positive-screening-test')
    })

    it.each<[string, Resource]>([
      ['answered with no', { valueBoolean: false }],
      ['interpreted as negative', interpreted('NEG')],
      ['of which only a number is known', { valueQuantity: { value: 31, code: 'ug/g' } }],
      ['entered in error', { status: 'entered-in-error' }],
    ])('%s is no reason', (_, result) => {
      expect(test(result).referralReason).toBeUndefined()
    })

    it('that was negative leaves nothing open, and one that nobody can read does', () => {
      const beside = (more: Resource) =>
        why({ ...because('Observation/t'), reasonCode: [fact('symptoms')] }, [
          { resourceType: 'Observation', id: 't', status: 'final', code: fact('positive-screening-test'), ...more },
        ])
      expect(beside({ valueBoolean: false })).toMatchObject({ reasonCount: 1, knownLesion: false })
      expect(beside({ valueString: 'see letter' })).toMatchObject({ reasonCount: 1, knownLesion: undefined })
    })

    it('of somebody with symptoms is a reason of its own', () => {
      expect(test({ valueBoolean: true }, fact('symptoms-positive-test')).referralReason).toBe('symptoms-positive-test')
      expect(test({ valueCodeableConcept: fact('symptoms-positive-test') }, local).referralReason).toBe(
        'symptoms-positive-test',
      )
    })

    it('of which nobody says whose it was is listed, and no reason', () => {
      const result = test({ valueBoolean: true }, local)
      expect(result.reasonCount).toBeUndefined()
      expect([...result.survey.unmatched.values()]).toMatchObject([{ code: 'BLEED' }])
    })
  })
})

describe('a lesion known before', () => {
  it.each<[string, string[], boolean | undefined]>([
    ['a reason of a known lesion', ['screening', 'known-lesion'], true],
    ['other reasons', ['surveillance', 'symptoms'], false],
    ['no reason', [], undefined],
  ])('by %s', (_, reasons, answer) => {
    expect(why({ reasonCode: reasons.map(fact) }).knownLesion).toBe(answer)
  })

  it('is left open by a reason that nobody here understands', () => {
    expect(why({ reasonCode: [fact('symptoms'), local] }).knownLesion).toBeUndefined()
    expect(why({ reasonCode: [fact('symptoms'), { text: 'weight loss' }] }).knownLesion).toBeUndefined()
    expect(why({ reasonCode: [fact('symptoms'), { text: 'weight loss' }] }, [], readsText).knownLesion).toBe(false)
  })

  it('is one that is seen again, whatever the reasons are', () => {
    expect(why({ reasonCode: [fact('surveillance')] }, [], northmoor, true).knownLesion).toBe(true)
    expect(why({}, [], northmoor, true).knownLesion).toBe(true)
  })

  describe('told by the words of a reason coded as screening', () => {
    const reasonCode = [{ ...fact('screening'), text: 'Known 30 mm polyp, for resection' }]

    it('is listed as a contradiction and changes nothing', () => {
      const result = why({ reasonCode })
      expect(result).toMatchObject({ referralReason: 'screening', reasonCount: 1, knownLesion: false })
      expect(contradictionsOf(result)).toEqual(['screening with a lesion known before'])
    })

    it('is a fact from text where the source has its text read; the reason stays as coded', () => {
      const result = why({ reasonCode }, [], readsText)
      expect(result).toMatchObject({ referralReason: 'screening', reasonCount: 1, knownLesion: true })
      expect(contradictionsOf(result)).toEqual(['screening with a lesion known before'])
      expect(result.trail.evidence).toContainEqual(
        expect.objectContaining({
          field: 'knownLesion',
          rung: 'read from free text',
          element: 'Procedure.reasonCode.text',
        }),
      )
    })

    it('is listed too where only the order has the words', () => {
      const result = why({ ...ordered, reasonCode: [fact('screening')] }, [
        order({ reasonCode: [{ text: 'known polyp' }] }),
      ])
      expect(contradictionsOf(result)).toEqual(['screening with a lesion known before'])
      expect(result.referralReason).toBe('screening')
    })
  })

  it('words that deny it, or speak of one long gone, contradict nothing', () => {
    for (const text of ['Screening. No known polyp.', 'History of polyps']) {
      const result = why({ reasonCode: [{ ...fact('screening'), text }] }, [], readsText)
      expect(result.knownLesion).toBe(false)
      expect(contradictionsOf(result)).toEqual([])
    }
  })

  it('the words contradict no other reason than screening', () => {
    expect(contradictionsOf(why({ reasonCode: [{ ...fact('symptoms'), text: 'known polyp' }] }))).toEqual([])
    expect(contradictionsOf(why({ reasonCode: [fact('screening'), fact('known-lesion')] }))).toEqual([
      'screening with a lesion known before',
    ])
  })
})
