import { describe, expect, it } from 'vitest'
import type { Colonoscopy, LinkedColonoscopy } from '../../src/record/colonoscopy.ts'
import type { FeedKind } from '../../src/record/field.ts'
import {
  addChanges,
  addSeen,
  emptyFindings,
  type FeedFinding,
  proposalFor,
  withOtherDeclaration,
} from '../../src/wiring/feed-findings.ts'
import { ask } from '../stories/ask.ts'
import { examination, hyperplastic, pathology } from '../stories/examination.ts'
import { northmoor } from '../stories/northmoor.ts'

const undeclared = { ...northmoor, completeFeeds: [] }
const linked = (facts: object, seen: FeedKind[] = []): LinkedColonoscopy => ({
  record: { procedure: 'Procedure/1', source: 'northmoor', completionPhotographed: false, ...facts },
  date: '2026-03-10',
  seen,
})
const finding = (kind: FeedKind, declared: boolean, seenIn: number, examinations: number): FeedFinding => ({
  kind,
  declared,
  seenIn,
  examinations,
  facts: new Map(),
  answers: new Map(),
})

describe('the other declaration of a feed', () => {
  it('adds what was not declared, and takes away what was', () => {
    const declared = withOtherDeclaration(undeclared, 'deaths')
    expect(declared.completeFeeds).toEqual(['deaths'])
    expect(withOtherDeclaration(declared, 'deaths').completeFeeds).toEqual([])
    expect(undeclared.completeFeeds).toEqual([])
  })
})

describe('what a window shows of the feeds', () => {
  it('counts the examinations for which anything of a kind arrived', () => {
    const findings = emptyFindings(undeclared)
    addSeen(findings, [linked({}, ['polyps']), linked({}, ['polyps', 'pathology']), linked({})])
    const counted = new Map(findings.map(({ kind, seenIn, examinations }) => [kind, [seenIn, examinations]]))
    expect(counted.get('polyps')).toEqual([2, 3])
    expect(counted.get('pathology')).toEqual([1, 3])
    expect(counted.get('deaths')).toEqual([0, 3])
  })

  it('counts the facts that the other declaration would record, those it would not, those of another value, and the answers that change', () => {
    const deaths = finding('deaths', false, 0, 2)
    addChanges(
      deaths,
      [linked({ death: undefined, age: 60 }), linked({ death: undefined, polypCount: 0 })],
      [linked({ death: false, age: 61 }), linked({ death: false, polypCount: undefined })],
      [{ id: 'detection', codes: ['notRecorded', 'met'] }],
      [{ id: 'detection', codes: ['notMet', 'met'] }],
    )
    expect([...deaths.facts]).toEqual([
      ['death', { gained: 2, lost: 0, changed: 0 }],
      ['age', { gained: 0, lost: 0, changed: 1 }],
      ['polypCount', { gained: 0, lost: 1, changed: 0 }],
    ])
    expect([...deaths.answers]).toEqual([['detection: notRecorded → notMet', 1]])
  })
})

describe('a declaration that turns one answer into another', () => {
  it('is told: two polyps removed and one report are all of pathology only where nothing says that all of it comes', () => {
    const polyps = [
      { specimen: 'jar', handling: 'removed' },
      { handling: 'removed', retrieval: 'retrieved' },
    ] as const
    const resources = [
      ...examination({ id: 'a', polyps: [...polyps] }),
      ...pathology('r', { issued: '2026-03-15T12:00:00Z', results: [{ specimen: 'jar', code: hyperplastic }] }),
    ]
    const before = ask(resources, '2027-01-01', undeclared).records
    const after = ask(resources, '2027-01-01', withOtherDeclaration(undeclared, 'pathology')).records
    const same = (records: readonly Colonoscopy[]) =>
      records.map((record): LinkedColonoscopy => ({ record, date: '2026-03-10', seen: [] }))
    const told = finding('pathology', false, 1, 1)
    addChanges(told, same(before), same(after), [], [])
    const [one, other] = [before[0]?.pathology, after[0]?.pathology]
    expect(other).not.toBe(one)
    expect(told.facts.get('pathology')).toEqual({ gained: 0, lost: 0, changed: 1 })
  })

  it('is not told of lists that say the same', () => {
    const told = finding('pathology', false, 1, 1)
    const list = (histology: string | undefined) => linked({ polyps: [{ site: 'rectum', histology }] })
    addChanges(told, [list(undefined)], [list(undefined)], [], [])
    expect(told.facts.size).toBe(0)
    addChanges(told, [list(undefined)], [list('other')], [], [])
    expect([...told.facts]).toEqual([['polyps', { gained: 0, lost: 0, changed: 1 }]])
  })
})

// A choice of this project, no source: a fifth of a hundred examinations, for kinds that are frequent.
describe('the proposal', () => {
  it.each([
    ['polyps', false, 20, 100, 'declare'],
    ['polyps', false, 19, 100, 'keep undeclared'],
    ['polyps', true, 0, 100, 'withdraw'],
    ['polyps', true, 1, 100, 'keep declared'],
    ['polyps', true, 0, 99, 'keep declared'],
    ['polyps', false, 99, 99, 'decide with the department'],
    ['deaths', true, 0, 1000, 'keep declared'],
    ['deaths', false, 0, 1000, 'keep undeclared'],
    ['events', false, 500, 1000, 'decide with the department'],
  ] as const)('of %s, declared %s, seen in %i of %i, is to %s', (kind, declared, seenIn, examinations, proposal) => {
    expect(proposalFor(finding(kind, declared, seenIn, examinations))).toBe(proposal)
  })
})
