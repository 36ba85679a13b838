import { describe, expect, it } from 'vitest'
import { ask } from '../ask.ts'
import { examination, fact, type PolypFacts, type Resource, snomed, word, yesNo } from '../examination.ts'
import { expectFacts } from '../expectations.ts'
import { northmoor } from '../northmoor.ts'

// Random biopsies for chronic diarrhoea, attempts before surgery, and tattoos of suspected cancers: UK key performance indicators
// 2016 and US quality indicators 2015 name them. How resources tell of them: FHIR R4.
const pot = (site: string, code: string, pieces?: number): Resource => ({
  resourceType: 'Specimen',
  id: `pot-${site}`,
  subject: { reference: 'Patient/patient-a' },
  collection: {
    collectedDateTime: '2026-03-10T09:20:00Z',
    bodySite: snomed(code),
    ...(pieces !== undefined && { quantity: { value: pieces, code: '{biopsies}' } }),
  },
})
const biopsies: Resource = {
  resourceType: 'Procedure',
  id: 'biopsies',
  status: 'completed',
  code: snomed('76164006'),
  partOf: [{ reference: 'Procedure/a' }],
}
const sites = [
  ['caecum', '32713005'],
  ['ascending', '9040008'],
  ['transverse', '485005'],
  ['descending', '32622004'],
  ['sigmoid', '60184004'],
  ['rectum', '34402009'],
] as const
const diarrhoea = examination({ id: 'a', reasons: ['chronic-diarrhoea'] })

describe('chronic diarrhoea, a normal-looking bowel, and six pots of random biopsies', () => {
  it('has two pieces in each: six right, four left, two of the rectum', () => {
    // Usual wrong answer: six biopsies, one for each pot; or six polyps.
    const story = ask([...diarrhoea, biopsies, ...sites.map(([site, code]) => pot(site, code, 2))])
    expectFacts(story, {
      polypCount: 0,
      tissueTakenOrTreated: true,
      biopsiesRight: 6,
      biopsiesLeft: 4,
      biopsiesRectum: 2,
      biopsiesRightAtLeast: 6,
      biopsiesLeftAtLeast: 4,
      biopsiesRectumAtLeast: 2,
    })
    expect(story.takenDown().contradictions).toEqual([])
  })

  it('whose pieces nobody counted: how many is not recorded, and that there were some is', () => {
    // Usual wrong answer: three, two and one; or that nothing is known.
    expectFacts(ask([...diarrhoea, biopsies, ...sites.map(([site, code]) => pot(site, code))]), {
      biopsiesRight: undefined,
      biopsiesLeft: undefined,
      biopsiesRectum: undefined,
      biopsiesRightAtLeast: 3,
      biopsiesLeftAtLeast: 2,
      biopsiesRectumAtLeast: 1,
    })
  })

  it('from a source that may leave polyps out could be of polyps', () => {
    // Usual wrong answer: any pot is random biopsies, so that a removed polyp makes a diarrhoea well examined.
    const source = { ...northmoor, completeFeeds: [] }
    expectFacts(ask([...diarrhoea, ...sites.map(([site, code]) => pot(site, code, 2))], '2027-01-01', source), {
      biopsiesRight: undefined,
      biopsiesRightAtLeast: undefined,
    })
  })

  it('and none at all in a final report: none were taken', () => {
    // Usual wrong answer: not recorded, so that the missed biopsies leave the rate.
    expectFacts(ask(diarrhoea), { biopsiesRight: 0, biopsiesLeft: 0, biopsiesRectum: 0 })
  })
})

const only = (polyp: PolypFacts, ...more: Resource[]) => ask([...examination({ id: 'a', polyps: [polyp] }), ...more])

describe('polyps that endoscopy did not finish', () => {
  it('sent for surgery after an attempt: attempted, and left', () => {
    // Usual wrong answer: left on purpose, so nobody tried; or removed, because a polypectomy was billed.
    const story = only(
      {
        site: 'ascending',
        millimetres: 18,
        handling: 'left',
        said: [word('polyp-shape', 'sessile'), yesNo('polyp-sent-for-surgery', true)],
      },
      {
        resourceType: 'Procedure',
        id: 'attempt',
        status: 'completed',
        code: fact('polypectomy'),
        partOf: [{ reference: 'Procedure/a' }],
        reasonReference: [{ reference: 'Observation/a-observation-07' }],
      },
    )
    expectFacts(story, {
      polyps: [{ handling: 'left', sentForSurgery: true, removalAttempted: true, inaccessible: undefined }],
    })
  })

  it('sent for surgery because no endoscope can reach it: not attempted, and documented', () => {
    // Usual wrong answer: sent to surgery untried, with no word of why.
    expectFacts(
      only({
        site: 'caecum',
        millimetres: 15,
        handling: 'left',
        said: [
          yesNo('polyp-sent-for-surgery', true),
          yesNo('polyp-removal-attempted', false),
          yesNo('polyp-inaccessible', true),
        ],
      }),
      { polyps: [{ sentForSurgery: true, removalAttempted: false, inaccessible: true }], polypsLeftCount: 1 },
    )
  })

  it('a suspected cancer, biopsied and tattooed, is suspected whatever histology says, and no removal', () => {
    // Usual wrong answer: suspicion read off histology.
    expectFacts(
      only({
        site: 'sigmoid',
        millimetres: 30,
        handling: 'biopsied',
        said: [yesNo('polyp-suspected-cancer', true), yesNo('polyp-tattooed', true)],
      }),
      {
        polyps: [{ suspectedCancer: true, tattooed: true, removalAttempted: undefined, histology: undefined }],
        tattooPlaced: true,
        polypRemoved: false,
      },
    )
  })

  it('piecemeal, with something left behind: removed, and not cleared', () => {
    // Usual wrong answer: removed, so cleared.
    const story = only({
      site: 'rectum',
      millimetres: 40,
      handling: 'removed',
      said: [word('polyp-resection', 'piecemeal'), word('polyp-clearance', 'incomplete')],
    })
    expectFacts(story, {
      polyps: [{ resection: 'piecemeal', clearance: 'incomplete', removalAttempted: true }],
      polypRemoved: true,
    })
    expect(story.takenDown().contradictions).toEqual([])
  })
})
