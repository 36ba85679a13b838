import { describe, expect, it } from 'vitest'
import { ask } from '../stories/ask.ts'
import {
  examination,
  fact,
  type PolypFacts,
  pathology,
  type Resource,
  snomed,
  tubularAdenoma,
  whole,
} from '../stories/examination.ts'
import { northmoor } from '../stories/northmoor.ts'

// Specimen.collection.bodySite and quantity, Procedure.bodySite: FHIR R4. Right and left of the splenic flexure: common practice, no
// source. SNOMED CT 76164006 is a biopsy of the colon.
const pot = (id: string, site: string | undefined, pieces?: number | Resource, more: Resource = {}): Resource => ({
  resourceType: 'Specimen',
  id,
  subject: { reference: 'Patient/patient-a' },
  collection: {
    collectedDateTime: '2026-03-10T09:20:00Z',
    ...(site !== undefined && { bodySite: fact(site) }),
    ...(pieces !== undefined && { quantity: typeof pieces === 'number' ? { value: pieces, code: '1' } : pieces }),
  },
  ...more,
})
const biopsy = (id: string, site?: string, more: Resource = {}): Resource => ({
  resourceType: 'Procedure',
  id,
  status: 'completed',
  code: snomed('76164006'),
  subject: { reference: 'Patient/patient-a' },
  partOf: [{ reference: 'Procedure/a' }],
  ...(site !== undefined && { bodySite: [fact(site)] }),
  ...more,
})
type Facts = Partial<Parameters<typeof examination>[0]>
const story = (facts: Facts, more: readonly Resource[] = [], source = northmoor) =>
  ask([...examination({ id: 'a', ...facts }), ...more], '2027-01-01', source)
/** Numbers of right, left and rectum, then the fewest of each. */
function numbers(asked: ReturnType<typeof ask>) {
  const one = asked.only()
  return [
    [one.biopsiesRight, one.biopsiesLeft, one.biopsiesRectum],
    [one.biopsiesRightAtLeast, one.biopsiesLeftAtLeast, one.biopsiesRectumAtLeast],
  ]
}
const of = (facts: Facts, ...more: Resource[]) => numbers(story(facts, more))
const open = [undefined, undefined, undefined]
const none = [0, 0, 0]

describe('biopsies that observations count', () => {
  it('are as many as stated, and none of the parts of which nothing is told', () => {
    expect(of({ said: [whole('biopsies-right', 3)] })).toEqual([
      [3, 0, 0],
      [3, 0, 0],
    ])
  })

  it('are known from an incomplete feed too, where silence means nothing', () => {
    const asked = story({ said: [whole('biopsies-right', 3)] }, [], { ...northmoor, completeFeeds: [] })
    expect(numbers(asked)).toEqual([
      [3, undefined, undefined],
      [3, undefined, undefined],
    ])
    expect(asked.only().tissueTakenOrTreated).toBe(true)
  })

  it('of which the number cannot be read are not recorded, and listed', () => {
    for (const value of [
      { valueString: 'a few' },
      { valueInteger: -1 },
      { valueInteger: 120 },
      { valueQuantity: { value: 3, code: 'mm' } },
    ]) {
      const asked = story({ said: [{ code: fact('biopsies-left'), ...value }] })
      expect(numbers(asked)).toEqual([
        [0, undefined, 0],
        [0, undefined, 0],
      ])
      expect(asked.takenDown().unreadable).toContain('biopsiesLeft')
    }
  })

  it('stated twice and differently are not recorded, and a contradiction', () => {
    const asked = story({ said: [whole('biopsies-left', 2), whole('biopsies-left', 4)] })
    expect(asked.only().biopsiesLeft).toBeUndefined()
    expect(asked.takenDown().contradictions).toEqual(['two different values of one measurement'])
  })

  it('issued after the as-of instant are not known yet', () => {
    const said = [whole('biopsies-left', 2, { issued: '2026-03-20T09:00:00Z' })]
    expect(ask(examination({ id: 'a', said }), '2026-03-15').only().biopsiesLeft).toBe(0)
    expect(ask(examination({ id: 'a', said }), '2026-03-21').only().biopsiesLeft).toBe(2)
  })

  it('fewer than the pots hold are a contradiction, and none of the numbers stands', () => {
    const asked = story({ said: [whole('biopsies-rectum', 1)] }, [pot('r', 'rectum', 3)])
    expect(numbers(asked)).toEqual([
      [0, 0, undefined],
      [0, 0, 1],
    ])
    expect(asked.takenDown().contradictions).toEqual(['fewer biopsies stated than sent'])
  })

  it('more than the pots hold stand: not all need be sent', () => {
    expect(of({ said: [whole('biopsies-rectum', 4)] }, pot('r', 'rectum', 3))).toEqual([
      [0, 0, 4],
      [0, 0, 4],
    ])
  })
})

describe('biopsies in pots that are no polyp’s', () => {
  it.each([
    ['caecum', [2, 0, 0]],
    ['ascending', [2, 0, 0]],
    ['hepatic-flexure', [2, 0, 0]],
    ['transverse', [2, 0, 0]],
    ['splenic-flexure', [0, 2, 0]],
    ['descending', [0, 2, 0]],
    ['sigmoid', [0, 2, 0]],
    ['rectosigmoid', [0, 2, 0]],
    ['rectum', [0, 0, 2]],
    ['ileum', none],
    ['anal-canal', none],
  ])('of the %s count for its part', (site, expected) => {
    expect(of({}, pot('p', site, 2))).toEqual([expected, expected])
  })

  it.each([undefined, 'anastomosis', 'right-segment'])(
    'of a place that leaves the part open (%s) leave every number open',
    (site) => {
      expect(of({}, pot('p', site, 2), pot('q', 'rectum', 1), biopsy('b'))).toEqual(
        // A pot without a site is not known to be of the bowel at all: only what else is told counts.
        site === undefined
          ? [
              [0, 0, 1],
              [0, 0, 1],
            ]
          : [open, [undefined, undefined, 1]],
      )
    },
  )

  it('without a quantity are one at least', () => {
    expect(of({}, pot('p', 'caecum', 2), pot('q', 'caecum'))).toEqual([
      [undefined, 0, 0],
      [3, 0, 0],
    ])
  })

  it.each([{ value: 0, code: '1' }, { value: 4, code: 'mm' }, { code: '1' }, { value: 2.5 }])(
    'with a quantity that is no number of pieces (%o) are one at least, and it is listed',
    (quantity) => {
      const asked = story({}, [pot('p', 'rectum', quantity)])
      expect(numbers(asked)).toEqual([
        [0, 0, undefined],
        [0, 0, 1],
      ])
      expect(asked.takenDown().unreadable).toEqual(['biopsiesRectum'])
    },
  )

  it('that a laboratory divided are counted once', () => {
    const block = pot('block', 'rectum', 1, { parent: [{ reference: 'Specimen/p' }] })
    expect(of({}, pot('p', 'rectum', 3), block)).toEqual([
      [0, 0, 3],
      [0, 0, 3],
    ])
  })

  it('are not recorded where a polyp that has no pot may lie in them', () => {
    const removed = (site: string | undefined): PolypFacts => ({ handling: 'removed', ...(site && { site }) })
    expect(of({ polyps: [removed('rectum')] }, pot('p', 'rectum', 2))).toEqual([
      [0, 0, undefined],
      [0, 0, undefined],
    ])
    expect(of({ polyps: [removed(undefined)] }, pot('p', 'rectum', 2))).toEqual([
      [0, 0, undefined],
      [0, 0, undefined],
    ])
    expect(of({ polyps: [removed('caecum')] }, pot('p', 'rectum', 2))).toEqual([
      [0, 0, 2],
      [0, 0, 2],
    ])
    expect(of({ polyps: [{ site: 'rectum', handling: 'left' }] }, pot('p', 'rectum', 2))).toEqual([
      [0, 0, 2],
      [0, 0, 2],
    ])
  })

  it('are not the pots of polyps, known ones among them', () => {
    const polyps: PolypFacts[] = [
      { site: 'sigmoid', handling: 'removed', specimen: 'polyp' },
      {
        site: 'caecum',
        handling: 'biopsied',
        specimen: 'known',
        said: [{ code: fact('known-lesion-seen-again'), valueBoolean: true }],
      },
    ]
    expect(of({ polyps })).toEqual([none, none])
  })

  it('in which pathology finds a lesion are not known to be of the mucosa', () => {
    const report = pathology('r', {
      issued: '2026-03-14T10:00:00Z',
      results: [
        { specimen: 'p', code: tubularAdenoma },
        { specimen: 'q', code: '30389008' },
      ],
    })
    expect(of({}, pot('p', 'rectum', 2), pot('q', 'sigmoid', 2), ...report)).toEqual([
      [0, 2, undefined],
      [0, 2, undefined],
    ])
  })

  it('are not recorded where the source may leave polyps out, or the report is preliminary', () => {
    const partial = story({}, [pot('p', 'rectum', 2)], { ...northmoor, completeFeeds: [] })
    expect(numbers(partial)).toEqual([open, open])
    expect(of({ report: 'preliminary' }, pot('p', 'rectum', 2))).toEqual([open, open])
  })
})

describe('biopsy procedures that name no polyp', () => {
  it('are one biopsy at least of the site that they name', () => {
    expect(of({}, biopsy('b', 'rectum'))).toEqual([
      [0, 0, undefined],
      [0, 0, 1],
    ])
  })

  it('without a site leave every number open, unless pots or numbers tell of it', () => {
    expect(of({}, biopsy('b'))).toEqual([open, open])
    expect(of({}, biopsy('b'), pot('p', 'rectum', 2))).toEqual([
      [0, 0, 2],
      [0, 0, 2],
    ])
    expect(of({ said: [whole('biopsies-left', 2)] }, biopsy('b'))).toEqual([
      [0, 2, 0],
      [0, 2, 0],
    ])
    expect(of({ said: [whole('biopsies-left', 0)] }, biopsy('b'))).toEqual([
      [undefined, 0, undefined],
      [undefined, 0, undefined],
    ])
  })

  it('are of the polyps that were biopsied and that no biopsy names', () => {
    expect(of({ polyps: [{ site: 'rectum', handling: 'biopsied' }] }, biopsy('b'))).toEqual([none, none])
    expect(of({ polyps: [{ site: 'rectum', handling: 'biopsied' }] }, biopsy('b', 'caecum'))).toEqual([
      [undefined, 0, 0],
      [1, 0, 0],
    ])
  })

  it('may be of a polyp of which nobody says what was done', () => {
    expect(of({ polyps: [{ site: 'rectum' }] }, biopsy('b', 'rectum'))).toEqual([
      [0, 0, undefined],
      [0, 0, undefined],
    ])
  })

  it('are told from those that name one', () => {
    const named = biopsy('b', 'rectum', { reasonReference: [{ reference: 'Observation/a-observation-07' }] })
    expect(of({ polyps: [{ site: 'rectum', handling: 'biopsied' }] }, named)).toEqual([none, none])
  })

  it('may be hidden in the code of the examination, or in one that does not tell a biopsy from a removal', () => {
    expect(of({ procedure: { code: snomed('446745002') } })).toEqual([open, open])
    const cpt = { code: { coding: [{ system: 'http://www.ama-assn.org/go/cpt', code: '45380' }] } }
    expect(of({}, biopsy('b', undefined, cpt))).toEqual([open, open])
    expect(
      of({ polyps: [{ site: 'rectum', handling: 'removed', specimen: 'polyp' }] }, biopsy('b', undefined, cpt)),
    ).toEqual([none, none])
  })
})

describe('no biopsies', () => {
  it('are none where the source sends every polyp and the report is final, and are else not recorded', () => {
    expect(of({})).toEqual([none, none])
    expect(of({ report: 'preliminary' })).toEqual([open, open])
    expect(numbers(story({}, [], { ...northmoor, completeFeeds: [] }))).toEqual([open, open])
  })
})
