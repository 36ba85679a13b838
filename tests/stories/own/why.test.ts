import { describe, expect, it } from 'vitest'
import { ask } from '../ask.ts'
import { examination, fact, snomed, word } from '../examination.ts'
import { expectAnswers, expectFacts } from '../expectations.ts'

// FHIR R4: Procedure.reasonCode, reasonReference, basedOn. SNOMED CT 444783004 is "screening colonoscopy". US 2024 and UK 2016 ask
// for a reason (workload), caecal intubation for the intention of a complete examination (UK 2016, read).
describe('why it was done', () => {
  it('a reason that only the order states is a reason', () => {
    // Usual wrong answer: no reason recorded, so in no detection rate.
    const story = ask([
      ...examination({ id: 'a', reasons: [], procedure: { basedOn: [{ reference: 'ServiceRequest/order' }] } }),
      { resourceType: 'ServiceRequest', id: 'order', status: 'completed', reasonCode: [fact('surveillance')] },
    ])
    expectFacts(story, { referralReason: 'surveillance', reasonCount: 1, reasons: [{ reason: 'surveillance' }] })
    expectAnswers(story, { us: 'not-met', uk: 'not-met' })
  })

  it('where nothing states it, a procedure code that itself says screening does, and the inference is named', () => {
    // Usual wrong answer: not recorded; or the code outranks a stated reason.
    const code = snomed('444783004')
    const silent = ask(examination({ id: 'a', reasons: [], procedure: { code } }))
    expectFacts(silent, { referralReason: 'screening' })
    expect(silent.takenDown().rungsOf('referralReason')).toContain('inferred from the procedure code')
    expectAnswers(silent, { us: 'not-met', uk: 'out' })
    const stated = ask(examination({ id: 'a', reasons: ['symptoms'], procedure: { code } }))
    expectFacts(stated, { referralReason: 'symptoms', reasonCount: 1 })
    expectAnswers(stated, { uk: 'not-met' })
  })

  it('a reason in local words matches nothing: eligibility is not recorded, and the words are listed', () => {
    // Usual wrong answer: screening by default, or out.
    const reasonCode = [{ coding: [{ system: 'urn:oid:2.999.7', code: 'R12', display: 'PR bleed' }] }]
    const story = ask(examination({ id: 'a', procedure: { reasonCode } }))
    expectFacts(story, { referralReason: undefined, reasonCount: undefined, knownLesion: undefined })
    expectAnswers(story, { us: 'eligibility-not-recorded', uk: 'eligibility-not-recorded' })
    expect(story.takenDown().unmatched).toContainEqual(
      expect.objectContaining({ system: 'urn:oid:2.999.7', code: 'R12', words: 'PR bleed', count: 1 }),
    )
  })

  it('referred for a known lesion and for screening: the known lesion goes before', () => {
    // Usual wrong answer: a screening examination with an adenoma in every one.
    const story = ask(examination({ id: 'a', reasons: ['screening', 'known-lesion'] }))
    expectFacts(story, { referralReason: 'known-lesion', reasonCount: 2, knownLesion: true })
    expectAnswers(story, { us: 'excluded', uk: 'not-met', perColonoscopy: 'excluded' })
  })

  it('a limited examination is not a failed complete one', () => {
    // Usual wrong answer: caecum not reached.
    const story = ask(examination({ id: 'a', extent: 'sigmoid', photographs: [], said: [word('intent', 'limited')] }))
    expectFacts(story, { intent: 'limited', caecumReached: false, extent: 'sigmoid' })
    expectAnswers(story, { caecum: 'out', caecumAdjusted: 'out' })
  })
})
