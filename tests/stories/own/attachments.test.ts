import { describe, expect, it } from 'vitest'
import { ask } from '../ask.ts'
import { examination, fact, type Resource, word, yesNo } from '../examination.ts'
import { expectAnswers, expectFacts } from '../expectations.ts'

// Procedure.usedCode, usedReference and focalDevice (action, manipulated), Device.type: FHIR R4. An injury of the mucosa without
// consequence is no adverse event (ASGE 2010 and AGREE 2022, read). The words are our own.
const focal = (action: string, device: string): Resource => ({
  action: fact(action),
  manipulated: { reference: `Device/${device}` },
})
const device = (id: string, type: string): Resource => ({ resourceType: 'Device', id, type: fact(type) })

describe('the attachment on the tip', () => {
  it('a cuff among the devices used: its kind is known, when it was put on is not', () => {
    // Usual wrong answer: attached from the start.
    const story = ask(examination({ id: 'a', procedure: { usedCode: [fact('cuff')] } }))
    expectFacts(story, { attachmentKind: 'cuff', attachment: undefined, attachmentOutcome: undefined })
    expect(story.takenDown().doubts).toContain('device used, time of attachment not stated')
    expect(story.rows[0]?.attachment).toBeUndefined()
  })

  it('the same by reference to a device', () => {
    // Usual wrong answer: the reference is not followed.
    const usedReference = [{ reference: 'Device/d' }]
    const story = ask([...examination({ id: 'a', procedure: { usedReference } }), device('d', 'cap')])
    expectFacts(story, { attachmentKind: 'cap', attachment: undefined })
  })

  it('a focal device whose action says that it was attached before insertion', () => {
    // Usual wrong answer: focal devices are implants only.
    const focalDevice = [focal('before-insertion', 'd')]
    const story = ask([...examination({ id: 'a', procedure: { focalDevice } }), device('d', 'cap')])
    expectFacts(story, { attachment: 'before-insertion', attachmentKind: 'cap', attachmentOutcome: undefined })
  })

  it('attached before insertion and removed, told by the same focal device twice', () => {
    // Usual wrong answer: the last action wins, so it was never attached.
    const focalDevice = [focal('before-insertion', 'd'), focal('removed', 'd')]
    const story = ask([...examination({ id: 'a', procedure: { focalDevice } }), device('d', 'cuff')])
    expectFacts(story, { attachment: 'before-insertion', attachmentKind: 'cuff', attachmentOutcome: 'removed' })
  })

  it('said to have been none: none, and so never removed', () => {
    // Usual wrong answer: the same as not recorded.
    const story = ask(examination({ id: 'a', said: [word('distal-attachment', 'none')] }))
    expectFacts(story, { attachment: 'none', attachmentKind: undefined, attachmentRemovedBeforeCaecum: false })
    expectFacts(ask(examination({ id: 'a' })), { attachment: undefined, attachmentRemovedBeforeCaecum: undefined })
  })

  it('removed for discomfort and put on again for a second insertion', () => {
    // Usual wrong answer: kept, since it was on at the end.
    const outcome = word('attachment-outcome', 'removed', {
      component: [
        yesNo('attachment-removed-before-caecum', true),
        word('attachment-removal-reason', 'discomfort'),
        yesNo('attachment-reinserted', true),
      ],
    })
    expectFacts(ask(examination({ id: 'a', said: [word('distal-attachment', 'before-insertion'), outcome] })), {
      attachment: 'before-insertion',
      attachmentOutcome: 'removed',
      attachmentRemovedBeforeCaecum: true,
      attachmentRemovalReason: 'discomfort',
      attachmentReinserted: true,
    })
  })

  it('an injury of the mucosa that was clipped is an injury that was treated, and no perforation', () => {
    // Usual wrong answer: an adverse event; or a polyp that was treated.
    const injury = yesNo('mucosal-injury', true, {
      bodySite: fact('rectosigmoid'),
      component: [yesNo('mucosal-injury-treated', true)],
    })
    const story = ask(examination({ id: 'a', said: [injury] }))
    expectFacts(story, {
      mucosalInjury: true,
      mucosalInjurySite: 'rectosigmoid',
      mucosalInjuryTreated: true,
      eventCount: 0,
      perforation: false,
      polypCount: 0,
    })
    expectAnswers(story, { perforation: 'not-met', bleeding: 'out' })
  })
})
