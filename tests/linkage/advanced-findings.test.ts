import { describe, expect, it } from 'vitest'
import type { Colonoscopy } from '../../src/record/colonoscopy.ts'
import { ask } from '../stories/ask.ts'
import {
  dysplasia,
  examination,
  fact,
  hyperplastic,
  type PolypFacts,
  pathology,
  type Resource,
  snomed,
  tubularAdenoma,
  word,
  yesNo,
} from '../stories/examination.ts'
import { northmoor } from '../stories/northmoor.ts'

// What makes an adenoma advanced: 10 mm or more, a villous part, or high-grade dysplasia (US Multi-Society Task Force, Gupta,
// Gastroenterology 2020;158:1131). Dysplasia in random biopsies of colitis is no adenoma: common practice, no source.
const issued = '2026-03-14T10:00:00Z'
const tubulovillous = '61722000'
const adenomaOfAnyKind = '399432003'
const normal = '30389008'
type Told = { polyp?: PolypFacts; code: string; more?: Resource }
const story = (...told: Told[]) => [
  ...examination({
    id: 'a',
    polyps: told.map(({ polyp }, index) => ({ handling: 'removed', specimen: `p${index}`, ...polyp })),
  }),
  ...pathology('r', {
    issued,
    results: told.map(({ code, more = {} }, index) => ({ specimen: `p${index}`, code, more })),
  }),
]
const of = (...told: Told[]) => ask(story(...told)).only()
const graded = (grade: string) => ({ component: [word('dysplasia-grade', grade)] })

describe('the largest adenoma', () => {
  it('is that of the polyps that proved to be one', () => {
    expect(
      of(
        { polyp: { millimetres: 4 }, code: tubularAdenoma },
        { polyp: { millimetres: 12 }, code: tubularAdenoma },
        { polyp: { millimetres: 30 }, code: hyperplastic },
      ).largestAdenomaMillimetres,
    ).toBe(12)
  })

  it('is not known while the size of any is not, unless it is known to be smaller', () => {
    const large = { polyp: { millimetres: 12 }, code: tubularAdenoma }
    expect(of(large, { code: tubularAdenoma }).largestAdenomaMillimetres).toBeUndefined()
    const bound = { valueQuantity: { value: 5, code: 'mm', comparator: '<' } }
    expect(of(large, { polyp: { size: bound }, code: tubularAdenoma }).largestAdenomaMillimetres).toBe(12)
    expect(of({ polyp: { size: bound }, code: tubularAdenoma }).largestAdenomaMillimetres).toBeUndefined()
  })

  it('is absent without one, and while a specimen may still hold one', () => {
    expect(of({ polyp: { millimetres: 12 }, code: hyperplastic }).largestAdenomaMillimetres).toBeUndefined()
    const [record] = ask([
      ...examination({
        id: 'a',
        polyps: [
          { handling: 'removed', millimetres: 5, specimen: 'p0' },
          { handling: 'removed', millimetres: 20, specimen: 'p1' },
        ],
      }),
      ...pathology('r', { issued, results: [{ specimen: 'p0', code: tubularAdenoma }] }),
    ]).records
    expect(record).toMatchObject({ adenomaFound: true, largestAdenomaMillimetres: undefined })
  })
})

describe('villous and high grade', () => {
  const both = ({ villousAdenomaFound, highGradeDysplasiaFound }: Colonoscopy) => [
    villousAdenomaFound,
    highGradeDysplasiaFound,
  ]

  it.each([
    ['one tubulovillous adenoma of high grade', [{ code: tubulovillous, more: graded('high-grade') }], [true, true]],
    ['tubular adenomas of low grade', [{ code: tubularAdenoma, more: graded('low-grade') }], [false, false]],
    ['a tubular adenoma without a grade', [{ code: tubularAdenoma }], [false, undefined]],
    ['an adenoma of a kind not stated', [{ code: adenomaOfAnyKind, more: graded('low-grade') }], [undefined, false]],
    ['no adenoma', [{ code: hyperplastic }], [false, false]],
    [
      'a sessile serrated lesion with dysplasia is no adenoma of high grade',
      [{ code: '783210009', more: graded('high-grade') }],
      [false, false],
    ],
    [
      'one of two adenomas villous',
      [{ code: tubulovillous }, { code: tubularAdenoma, more: graded('high-grade') }],
      [true, true],
    ],
    [
      'one of two adenomas not graded',
      [{ code: tubularAdenoma, more: graded('low-grade') }, { code: tubularAdenoma }],
      [false, undefined],
    ],
  ])('%s', (_, told, expected) => {
    expect(both(of(...told))).toEqual(expected)
  })

  it('are open while a specimen is without a result, true as soon as one is', () => {
    const open = (code: string) =>
      ask(
        [
          ...examination({ id: 'a', polyps: ['p0', 'p1'].map((specimen) => ({ handling: 'removed', specimen })) }),
          ...pathology('r', { issued, results: [{ specimen: 'p0', code, more: graded('low-grade') }] }),
        ],
        '2026-03-20',
      ).only()
    expect(both(open(tubularAdenoma))).toEqual([undefined, undefined])
    expect(both(open(tubulovillous))).toEqual([true, undefined])
  })

  it('of a grade told once for a pot with two adenomas one has it, and nobody can say which', () => {
    const pot: PolypFacts = { handling: 'removed', specimen: 'pot' }
    const codes = [snomed(tubularAdenoma), snomed(tubularAdenoma), fact('high-grade')]
    const record = ask([
      ...examination({ id: 'a', polyps: [pot, pot] }),
      ...pathology('r', {
        issued,
        results: codes.map((valueCodeableConcept) => ({ specimen: 'pot', code: '', more: { valueCodeableConcept } })),
      }),
    ]).only()
    expect(record).toMatchObject({ adenomaCount: 2, otherHistologyCount: 0, highGradeDysplasiaFound: true })
    expect(record.polyps?.map((polyp) => polyp.dysplasia)).toEqual([undefined, undefined])
  })
})

describe('dysplasia of flat mucosa', () => {
  const pots = ['random-1', 'random-2']
  const told = (polyps: PolypFacts[], ...codes: (string | undefined)[]) =>
    ask([
      ...examination({ id: 'a', polyps, biopsyPots: pots }),
      ...pathology('r', {
        issued,
        encounterOf: 'a',
        results: codes.flatMap((code, index) => (code === undefined ? [] : [{ specimen: pots[index] ?? '', code }])),
      }),
    ]).only()

  it('is a class of its own: no adenoma, not advanced', () => {
    expect(told([], dysplasia, normal)).toMatchObject({
      colitisDysplasiaFound: true,
      adenomaFound: false,
      adenomaCount: 0,
      highGradeDysplasiaFound: false,
      otherHistologyCount: 2,
      polypCount: 0,
    })
  })

  it('is denied only by pathology that is all final', () => {
    expect(told([], normal, normal).colitisDysplasiaFound).toBe(false)
    expect(ask(examination({ id: 'a' })).only().colitisDysplasiaFound).toBeUndefined()
    const open = ask(
      [
        ...examination({ id: 'a', biopsyPots: pots }),
        ...pathology('r', { issued, encounterOf: 'a', results: [{ specimen: 'random-1', code: normal }] }),
        {
          resourceType: 'DiagnosticReport',
          id: 'r2',
          status: 'preliminary',
          encounter: { reference: 'Encounter/encounter-a' },
          code: { coding: [{ system: 'http://loinc.org', code: '11526-1' }] },
          specimen: [{ reference: 'Specimen/random-2' }],
        },
      ],
      '2026-03-20',
    ).only()
    expect(open).toMatchObject({ pathology: 'pending', colitisDysplasiaFound: undefined })
  })

  it('in a polyp’s own pot is the polyp’s, and does not say what the polyp is', () => {
    const record = of({ code: dysplasia })
    expect([record.pathology, record.colitisDysplasiaFound, record.adenomaFound]).toEqual([
      'unreadable',
      undefined,
      undefined,
    ])
    expect(record.polyps?.[0]?.histology).toBeUndefined()
  })

  it('as a detail of a diagnosis that nobody can read is no finding of its own', () => {
    const [record] = ask([
      ...examination({ id: 'a', biopsyPots: ['random-1'] }),
      ...pathology('r', {
        issued,
        encounterOf: 'a',
        results: [{ specimen: 'random-1', code: '999999', more: graded('high-grade') }],
      }),
    ]).records
    expect(record).toMatchObject({ pathology: 'unreadable', colitisDysplasiaFound: undefined, adenomaFound: undefined })
  })

  it('may be of a polyp that went without a pot: then nobody can say', () => {
    expect(told([{ handling: 'removed' }], dysplasia, normal).colitisDysplasiaFound).toBeUndefined()
  })
})

describe('a lesion known before, removed without a pot of its own', () => {
  const known: PolypFacts = { handling: 'removed', said: [yesNo('known-lesion-seen-again', true)] }
  const asked = (polyps: PolypFacts[], ...codes: string[]) =>
    ask([
      ...examination({ id: 'a', reasons: ['surveillance'], polyps }),
      ...pathology('r', { issued, encounterOf: 'a', results: codes.map((code) => ({ code })) }),
    ]).only()

  it('has the one adenoma that came back: nothing is newly found', () => {
    expect(asked([known], tubularAdenoma)).toMatchObject({ polypCount: 0, adenomaFound: false, adenomaCount: 0 })
  })

  it('leaves open whose adenoma it is where a new polyp was taken too', () => {
    const record = asked([known, { handling: 'removed' }], tubularAdenoma)
    expect(record).toMatchObject({ polypCount: 1, adenomaCountLower: 0, adenomaCountUpper: 1 })
    expect([record.adenomaFound, record.adenomaCount]).toEqual([undefined, undefined])
  })

  it('is not all where two came back', () => {
    const record = asked([known], tubularAdenoma, hyperplastic)
    expect(record.polypCount).toBe(1)
    expect(record.adenomaFound).toBeUndefined()
  })
})

describe('what cannot all be so', () => {
  const contradictions = (resources: Resource[], source = northmoor) =>
    ask(resources, '2027-01-01', source).takenDown().contradictions

  it('pathology finds a polyp that a complete feed of polyps never told of', () => {
    const unseen = [
      ...examination({ id: 'a' }),
      ...pathology('r', { issued, encounterOf: 'a', results: [{ code: tubularAdenoma }] }),
    ]
    expect(contradictions(unseen)).toEqual(['pathology finds a polyp where none was recorded'])
    expect(contradictions(unseen, { ...northmoor, completeFeeds: [] })).toEqual([])
  })

  it('more diagnoses than there are pieces of tissue', () => {
    const pot: PolypFacts = { handling: 'removed', specimen: 'pot' }
    const results = [tubularAdenoma, hyperplastic].map((code) => ({ specimen: 'pot', code }))
    const resources = [...examination({ id: 'a', polyps: [pot] }), ...pathology('r', { issued, results })]
    expect(contradictions(resources)).toEqual(['more diagnoses than pieces of tissue'])
    // The worst of the two stands: the polyp is not counted twice.
    expect(ask(resources).only()).toMatchObject({ adenomaCount: 1, hyperplasticCount: 0 })
  })

  it('a polyp that was lost, read all the same, is counted once', () => {
    const lost = story({ polyp: { retrieval: 'not-retrieved' }, code: tubularAdenoma })
    expect(contradictions(lost)).toEqual(['polyp left or lost, with histology of its own'])
    expect(ask(lost).only()).toMatchObject({ adenomaCount: 1, adenomaCountUpper: 1 })
  })
})

describe('taking anything away', () => {
  const facts = [
    'adenomaFound',
    'villousAdenomaFound',
    'highGradeDysplasiaFound',
    'colitisDysplasiaFound',
    'polypRemoved',
    'tissueTakenOrTreated',
    'tattooPlaced',
  ] as const
  const rich = [
    ...story(
      {
        polyp: { millimetres: 12, said: [yesNo('polyp-tattooed', true)] },
        code: tubulovillous,
        more: graded('high-grade'),
      },
      { polyp: { millimetres: 4 }, code: tubularAdenoma, more: graded('low-grade') },
    ),
    {
      resourceType: 'Procedure',
      id: 'snare',
      status: 'completed',
      code: snomed('274025005'),
      partOf: [{ reference: 'Procedure/a' }],
    },
  ]
  const plain = story({
    polyp: { handling: 'biopsied', millimetres: 3, said: [yesNo('polyp-tattooed', false)] },
    code: hyperplastic,
  })
  // Nothing is declared complete, so that no silence means no.
  const undeclared = { ...northmoor, completeFeeds: [] }
  const recordOf = (resources: Resource[]) => ask(resources, '2027-01-01', undeclared).records[0]

  it.each([
    ['much found', rich],
    ['little found', plain],
  ])('turns no fact into its opposite: %s', (_, resources) => {
    const before = recordOf(resources)
    let tried = 0
    const check = (changed: Resource[], what: string) => {
      const after = recordOf(changed)
      if (before === undefined || after === undefined) return
      for (const fact of facts) {
        if (before[fact] === undefined) continue
        tried++
        expect([before[fact], undefined], `${fact} without ${what}`).toContain(after[fact])
      }
    }
    for (const one of resources) {
      const others = resources.filter((other) => other !== one)
      check(others, `${one.resourceType}/${one.id}`)
      for (const name of Object.keys(one)) {
        if (name === 'resourceType' || name === 'id') continue
        const { [name]: _, ...rest } = one
        check([...others, rest], `${one.resourceType}/${one.id}.${name}`)
      }
    }
    expect(tried).toBeGreaterThan(100)
  })
})
