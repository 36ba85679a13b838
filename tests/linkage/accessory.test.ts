import { describe, expect, it } from 'vitest'
import { readAccessory } from '../../src/linkage/accessory.ts'
import { devicesUsed } from '../../src/linkage/devices.ts'
import { fact } from '../stories/examination.ts'
import { bareProcedure, observationOf, orders } from './bare-examination.ts'
import { oneExamination } from './one-examination.ts'

// Intention decides the arm of a comparison: attached before insertion or not (the usual analysis of randomised trials of
// attachments). What is recorded of the device afterwards is told apart from it. Words and rules are this project's.
type Resource = Record<string, unknown>
const attachment = (word: string, more: Resource = {}) =>
  observationOf(fact('distal-attachment'), { valueCodeableConcept: fact(word), ...more })
const outcome = (word: string, ...component: Resource[]) =>
  observationOf(fact('attachment-outcome'), { valueCodeableConcept: fact(word), component })
const coded = (code: string, word: string) => ({ code: fact(code), valueCodeableConcept: fact(word) })
const answer = (code: string, valueBoolean: boolean) => ({ code: fact(code), valueBoolean })
const cuff = { resourceType: 'Device', id: 'cuff', type: fact('cuff') }
const focal = (...actions: string[]) => ({
  focalDevice: actions.map((action) => ({ action: fact(action), manipulated: { reference: 'Device/cuff' } })),
})
const read = (procedure: Resource, ...more: Resource[]) => {
  const { examination, reading, trail, survey } = oneExamination([bareProcedure(procedure), ...more])
  const facts = readAccessory(examination, devicesUsed(examination, reading), reading)
  return {
    facts,
    recorded: Object.fromEntries(Object.entries(facts).filter(([, value]) => value !== undefined)),
    kinds: trail.contradictions.map(({ kind }) => kind),
    doubts: trail.doubts.map(({ kind }) => kind),
    trail,
    survey,
  }
}

describe('the attachment that came off, and its twins', () => {
  it('on from the start, taken off in a narrowed sigmoid before the caecum, with a tear', () => {
    const { recorded, kinds } = read(
      { usedCode: [fact('cuff')] },
      attachment('before-insertion'),
      outcome(
        'removed',
        answer('attachment-removed-before-caecum', true),
        coded('attachment-removal-reason', 'narrowed-sigmoid'),
        answer('attachment-reinserted', false),
      ),
      observationOf(fact('mucosal-injury'), {
        valueBoolean: true,
        bodySite: fact('sigmoid'),
        component: [answer('mucosal-injury-treated', false)],
      }),
    )
    expect(recorded).toEqual({
      attachment: 'before-insertion',
      attachmentKind: 'cuff',
      attachmentOutcome: 'removed',
      attachmentRemovedBeforeCaecum: true,
      attachmentRemovalReason: 'narrowed-sigmoid',
      attachmentReinserted: false,
      mucosalInjury: true,
      mucosalInjurySite: 'sigmoid',
      mucosalInjuryTreated: false,
    })
    expect(kinds).toEqual([])
  })

  it('added on a second pass is a class of its own', () => {
    expect(read(focal('added-later'), cuff).recorded).toEqual({ attachment: 'added-later', attachmentKind: 'cuff' })
  })

  it('none, as decided beforehand: nothing was taken off', () => {
    expect(read({}, attachment('none')).recorded).toEqual({
      attachment: 'none',
      attachmentRemovedBeforeCaecum: false,
    })
  })

  it('lost inside the patient is not taken off', () => {
    expect(read(focal('before-insertion', 'detached'), cuff).recorded).toEqual({
      attachment: 'before-insertion',
      attachmentKind: 'cuff',
      attachmentOutcome: 'detached',
      attachmentRemovedBeforeCaecum: false,
    })
  })
})

describe('what devices say', () => {
  it.each<[string, Resource]>([
    ['a used code', { usedCode: [fact('cap')] }],
    ['a used device', { usedReference: [{ reference: 'Device/cap' }] }],
    [
      'a device said to be attached',
      { focalDevice: [{ action: fact('attached'), manipulated: { reference: 'Device/cap' } }] },
    ],
  ])('%s gives the kind, not the time, and is listed', (_, procedure) => {
    const { recorded, doubts } = read(procedure, { resourceType: 'Device', id: 'cap', type: fact('cap') })
    expect(recorded).toEqual({ attachmentKind: 'cap' })
    expect(doubts).toEqual(['device used, time of attachment not stated'])
  })

  it('a stent that was removed is no attachment', () => {
    const stent = { resourceType: 'Device', id: 'stent', type: { text: 'stent' } }
    const procedure = { focalDevice: [{ action: fact('removed'), manipulated: { reference: 'Device/stent' } }] }
    expect(read(procedure, stent).recorded).toEqual({})
  })

  it('a device that is not there still tells what only an attachment can', () => {
    expect(read(focal('before-insertion')).recorded).toEqual({ attachment: 'before-insertion' })
    expect(read(focal('removed')).recorded).toEqual({})
  })

  it('taken off and added again was there before insertion', () => {
    expect(read(focal('before-insertion', 'removed', 'added-later'), cuff).recorded).toMatchObject({
      attachment: 'before-insertion',
      attachmentOutcome: 'removed',
    })
  })

  it('a cuff and a cap are no one kind', () => {
    const { facts, kinds } = read({ usedCode: [fact('cuff'), fact('cap')] }, attachment('before-insertion'))
    expect(facts.attachmentKind).toBeUndefined()
    expect(kinds).toEqual(['two different values of one measurement'])
  })
})

describe('contradictions', () => {
  it('none stated, and one used: not recorded, in any order', () => {
    const { facts, kinds } = read({ usedCode: [fact('cuff')] }, attachment('none'))
    expect(facts.attachment).toBeUndefined()
    expect(facts.attachmentRemovedBeforeCaecum).toBeUndefined()
    expect(kinds).toEqual(['no attachment stated, but one used'])
  })

  it('two different statements are none; a final one stands against a preliminary one', () => {
    for (const two of orders([attachment('before-insertion'), attachment('none')]))
      expect(read({}, ...two).facts.attachment).toBeUndefined()
    for (const two of orders([attachment('before-insertion'), attachment('none', { status: 'preliminary' })]))
      expect(read({}, ...two).facts.attachment).toBe('before-insertion')
  })

  it('kept on, and taken off before the caecum, cannot both be so', () => {
    const { facts, kinds } = read(
      {},
      attachment('before-insertion'),
      outcome('kept', answer('attachment-removed-before-caecum', true)),
    )
    expect(facts.attachmentRemovedBeforeCaecum).toBeUndefined()
    expect(kinds).toEqual(['two different values of one measurement'])
  })

  it('taken off without a word on when leaves that open', () => {
    expect(
      read({}, attachment('before-insertion'), outcome('removed')).facts.attachmentRemovedBeforeCaecum,
    ).toBeUndefined()
  })
})

describe('injuries of the mucosa', () => {
  const injury = (more: Resource) => observationOf(fact('mucosal-injury'), more)

  it.each<[string, Resource, boolean | undefined]>([
    ['yes', { valueBoolean: true }, true],
    ['no', { valueBoolean: false }, false],
    ['a site alone', { bodySite: fact('rectum') }, true],
    ['neither', {}, undefined],
    [
      'a site with a reason for having no value',
      { bodySite: fact('rectum'), dataAbsentReason: { text: 'unknown' } },
      undefined,
    ],
    ['words', { valueString: 'small tear', bodySite: fact('rectum') }, undefined],
  ])('%s', (_, more, answered) => {
    expect(read({}, injury(more)).facts.mucosalInjury).toBe(answered)
  })

  it('two at different sites have no one site, and one treated makes them treated', () => {
    const { facts } = read(
      {},
      injury({ valueBoolean: true, bodySite: fact('rectum'), component: [answer('mucosal-injury-treated', false)] }),
      injury({ valueBoolean: true, bodySite: fact('sigmoid'), component: [answer('mucosal-injury-treated', true)] }),
    )
    expect(facts).toMatchObject({ mucosalInjury: true, mucosalInjuryTreated: true })
    expect(facts.mucosalInjurySite).toBeUndefined()
  })
})

describe('what became of the attachment, told by observations of their own', () => {
  it('is read as components are', () => {
    const { recorded, kinds, survey } = read(
      {},
      attachment('before-insertion'),
      outcome('removed'),
      observationOf(fact('attachment-removed-before-caecum'), { valueBoolean: true }),
      observationOf(fact('attachment-removal-reason'), { valueCodeableConcept: fact('looping') }),
      observationOf(fact('attachment-reinserted'), { valueCodeableConcept: fact('no') }),
      observationOf(fact('mucosal-injury'), { valueBoolean: true }),
      observationOf(fact('mucosal-injury-treated'), { valueBoolean: true }),
    )
    expect(recorded).toEqual({
      attachment: 'before-insertion',
      attachmentOutcome: 'removed',
      attachmentRemovedBeforeCaecum: true,
      attachmentRemovalReason: 'looping',
      attachmentReinserted: false,
      mucosalInjury: true,
      mucosalInjuryTreated: true,
    })
    expect(kinds).toEqual([])
    expect(survey.unmatched.size).toBe(0)
  })

  it('in words is unreadable, and listed', () => {
    const { recorded, trail } = read({}, observationOf(fact('attachment-removal-reason'), { valueString: 'tight' }))
    expect(recorded).toEqual({})
    expect(trail.unreadable).toMatchObject([{ field: 'attachmentRemovalReason', element: 'Observation.valueString' }])
  })

  it('a treatment tells of an injury, and contradicts that there was none; none by itself tells nothing', () => {
    const treated = (valueBoolean: boolean) => observationOf(fact('mucosal-injury-treated'), { valueBoolean })
    expect(read({}, treated(true)).recorded).toEqual({ mucosalInjury: true, mucosalInjuryTreated: true })
    const none = observationOf(fact('mucosal-injury'), { valueBoolean: false })
    const { recorded, kinds } = read({}, none, treated(true))
    expect(recorded).toEqual({})
    expect(kinds).toEqual(['two different values of one measurement'])
    const alone = read({}, treated(false))
    expect(alone.recorded).toEqual({})
    expect(alone.trail.unreadable).toMatchObject([{ field: 'mucosalInjuryTreated' }])
  })
})

it('a panel carries what it says in its components, each once', () => {
  const panel = observationOf(
    { text: 'accessories' },
    {
      component: [
        coded('distal-attachment', 'before-insertion'),
        coded('attachment-outcome', 'removed'),
        coded('attachment-removal-reason', 'looping'),
        answer('attachment-removed-before-caecum', false),
      ],
    },
  )
  const { recorded, kinds, trail } = read({}, panel)
  expect(recorded).toEqual({
    attachment: 'before-insertion',
    attachmentOutcome: 'removed',
    attachmentRemovalReason: 'looping',
    attachmentRemovedBeforeCaecum: false,
  })
  expect(kinds).toEqual([])
  expect(trail.evidence).toHaveLength(4)
})
