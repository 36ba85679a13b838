import { describe, expect, it } from 'vitest'
import type { Polyp } from '../../../src/record/colonoscopy.ts'
import { answerTo, measureOf } from '../measure-of.ts'
import { found, millimetres, type Sums, sumsOf } from './polyps.ts'

const id = 'endoscopic-attempt-before-surgery-rate-us-2015'
const met: Sums = [1, 1, 0, 0]
const notMet: Sums = [0, 1, 0, 0]
const notRecorded: Sums = [0, 0, 1, 0]
const undecided: Sums = [0, 0, 0, 1]
const out: Sums = [0, 0, 0, 0]
const sent = (more: Polyp): Polyp => ({ sentForSurgery: true, shape: 'sessile', ...millimetres(15), ...more })

// US 2015, from memory: pedunculated polyps, and sessile ones below 20 mm, sent for surgery; attempted, or documented as
// inaccessible, in 98 %.
describe('endoscopic attempt before surgery', () => {
  it.each<[what: string, polyp: Polyp, sums: Sums]>([
    ['attempted', sent({ removalAttempted: true }), met],
    ['not attempted, documented as inaccessible', sent({ removalAttempted: false, inaccessible: true }), met],
    ['documented as inaccessible', sent({ inaccessible: true }), met],
    ['neither', sent({ removalAttempted: false, inaccessible: false }), notMet],
    ['not attempted, and nothing said of access', sent({ removalAttempted: false }), notRecorded],
    ['not inaccessible, and nothing said of an attempt', sent({ inaccessible: false }), notRecorded],
    ['nothing said', sent({}), notRecorded],
    ['sessile, 19.9 mm', sent({ ...millimetres(19.9), removalAttempted: true }), met],
    ['sessile, 20 mm', sent({ ...millimetres(20), removalAttempted: true }), out],
    ['sessile, of no stated size', { sentForSurgery: true, shape: 'sessile', removalAttempted: true }, undecided],
    ['pedunculated, 40 mm', sent({ shape: 'pedunculated', ...millimetres(40), removalAttempted: true }), met],
    ['pedunculated, of no stated size', { sentForSurgery: true, shape: 'pedunculated', inaccessible: true }, met],
    ['flat', sent({ shape: 'flat', removalAttempted: true }), out],
    ['depressed', sent({ shape: 'depressed', removalAttempted: true }), out],
    ['of no stated shape', { sentForSurgery: true, ...millimetres(15), removalAttempted: true }, undecided],
    ['not sent', sent({ sentForSurgery: false, removalAttempted: true }), out],
    ['nobody says whether sent', { shape: 'sessile', ...millimetres(15), removalAttempted: true }, undecided],
    ['nobody says whether sent, flat', { shape: 'flat', ...millimetres(15) }, out],
  ])('%s', (_, polyp, sums) => {
    expect(sumsOf(id, found(polyp))).toEqual(sums)
  })

  it('without a polyp it is out, and where polyps are only counted it is not recorded', () => {
    expect(answerTo(id, found()).code).toBe('out')
    expect(answerTo(id, { polypCount: 2, polyps: undefined }).code).toBe('not-recorded')
  })

  it('counts beside one that looked malignant; the standard is from memory', () => {
    expect(answerTo(id, found(sent({ removalAttempted: true, suspectedCancer: true }))).besides).toEqual([0])
    expect(measureOf(id).definition.standard).toMatchObject({ minimum: 0.98, fromMemory: true })
  })
})
