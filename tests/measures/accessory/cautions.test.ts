import { describe, expect, it } from 'vitest'
import type { AnswerCode } from '../../../src/tally/answer.ts'
import { answerOn, besideOn, reportOn } from '../harm/asked.ts'
import { measureOf } from '../measure-of.ts'
import { colitis, type Facts, recorded, without } from './recorded.ts'

// Left out by the trials whose abstracts were read. doi 10.1055/s-0041-107900: obstruction, strictures, severe diverticular segments,
// active colitis. doi 10.1177/2050640620982952: age under 18, active Crohn's disease or ulcerative colitis, known stenosis,
// earlier resection of colon. That instructions caution against the first three is from memory.
const used = 'attachment-with-recorded-caution-share-descriptive'
const withheld = 'attachment-withheld-with-recorded-caution-share-descriptive'
const leftOut = 'attachment-with-trial-exclusion-share-descriptive'
const seen = 'attachment-left-on-after-finding-share-descriptive'

const stricture: Facts = { strictureKnown: true }
const diverticulosis: Facts = { severeDiverticulosis: true }
const told = {
  stricture: 'Of them with a known stricture or suspected obstruction',
  diverticulosis: 'Of them with a severe diverticular segment',
  colitis: 'Of them with active or severe colitis',
}

describe('used with a caution recorded beforehand', () => {
  it.each<[string, Facts, AnswerCode, string[]]>([
    ['nothing against it', {}, 'not-met', []],
    ['a known stricture', stricture, 'met', [told.stricture]],
    ['a severe diverticular segment', diverticulosis, 'met', [told.diverticulosis]],
    ['active colitis', colitis('active'), 'met', [told.colitis]],
    ['severe colitis', colitis('severe'), 'met', [told.colitis]],
    ['two of them', { ...stricture, ...colitis('severe') }, 'met', [told.stricture, told.colitis]],
    ['quiescent colitis, which is no caution', colitis('quiescent'), 'not-met', []],
    ['colitis of which nobody says how active', colitis(undefined), 'not-recorded', []],
    ['such a colitis beside a stricture', { ...stricture, ...colitis(undefined) }, 'met', [told.stricture]],
    ['nothing said of diverticula', { severeDiverticulosis: undefined }, 'not-recorded', []],
    [
      'a stricture, nothing said of the rest',
      { ...stricture, severeDiverticulosis: undefined },
      'met',
      [told.stricture],
    ],
    ['an earlier resection, a trial’s exclusion and no caution', { earlierResection: true }, 'not-met', []],
    ['age 16, a trial’s exclusion and no caution', { age: 16 }, 'not-met', []],
    ['colitis first seen during it', { inflammatoryBowelDiseaseSeen: true }, 'not-met', []],
    ['a stricture met on the way', { impassableStricture: true, completion: 'stopped' }, 'not-met', []],
    ['added later', { ...stricture, attachment: 'added-later' }, 'met', [told.stricture]],
    ['taken off', { ...stricture, attachmentOutcome: 'removed' }, 'met', [told.stricture]],
    ['no attachment', { ...stricture, ...without }, 'out', []],
    ['nobody says whether there was one', { ...stricture, attachment: undefined }, 'eligibility-not-recorded', []],
  ])('%s', (_, facts, code, beside) => {
    expect(answerOn(used, recorded(facts)).code).toBe(code)
    expect(besideOn(used, recorded(facts))).toEqual(beside)
  })

  it('of a source without history is not recorded, never none', () => {
    const silent = { strictureKnown: undefined, severeDiverticulosis: undefined, inflammatoryBowelDisease: undefined }
    const { whole } = reportOn(used, [[10, recorded(silent)]], { completeFeeds: [] })
    expect(whole).toMatchObject({ absentBecause: 'nothing-recorded', apart: { 'not-recorded': 10 } })
  })
})

describe('no attachment, with a caution recorded beforehand', () => {
  it.each<[string, Facts, AnswerCode, string[]]>([
    ['a known stricture', { ...without, ...stricture }, 'met', [told.stricture]],
    ['a severe diverticular segment', { ...without, ...diverticulosis }, 'met', [told.diverticulosis]],
    ['active colitis', { ...without, ...colitis('active') }, 'met', [told.colitis]],
    ['a stricture, and an attachment all the same', stricture, 'not-met', []],
    ['a stricture, and one added later', { ...stricture, attachment: 'added-later' }, 'not-met', []],
    ['a stricture, and nobody says whether there was one', { ...stricture, attachment: undefined }, 'not-recorded', []],
    ['no caution', without, 'out', []],
    ['quiescent colitis', { ...without, ...colitis('quiescent') }, 'out', []],
    ['colitis of which nobody says how active', { ...without, ...colitis(undefined) }, 'eligibility-not-recorded', []],
  ])('%s', (_, facts, code, beside) => {
    expect(answerOn(withheld, recorded(facts)).code).toBe(code)
    expect(besideOn(withheld, recorded(facts))).toEqual(beside)
  })
})

describe('used in patients whom trials left out', () => {
  it.each<[string, Facts, AnswerCode, string[]]>([
    ['none of them', {}, 'not-met', []],
    ['an earlier resection', { earlierResection: true }, 'met', ['Of them with an earlier resection']],
    ['age 17', { age: 17 }, 'met', ['Of them under 18']],
    ['age 18', { age: 18 }, 'not-met', []],
    ['age not recorded', { age: undefined }, 'not-recorded', []],
    ['resection not recorded', { earlierResection: undefined }, 'not-recorded', []],
    ['a known stricture, which is a caution', stricture, 'not-met', []],
    ['active colitis, which is a caution', colitis('active'), 'not-met', []],
    ['quiescent colitis', colitis('quiescent'), 'not-met', []],
    [
      'a syndrome',
      { hereditarySyndrome: true },
      'not-met',
      ['With a hereditary or polyposis syndrome known beforehand'],
    ],
    ['antithrombotics', { antithrombotics: true }, 'not-met', ['With antithrombotic treatment known beforehand']],
    ['no attachment', { ...without, earlierResection: true }, 'out', []],
  ])('%s', (_, facts, code, beside) => {
    expect(answerOn(leftOut, recorded(facts)).code).toBe(code)
    expect(besideOn(leftOut, recorded(facts))).toEqual(beside)
  })
})

describe('left on after a condition was first seen', () => {
  const stopped = (stopReason: Facts['stopReason']): Facts => ({
    completion: 'stopped',
    stopReason,
    impassableStricture: stopReason === undefined ? undefined : stopReason === 'impassable-stricture',
  })
  const disease = 'Of them inflammatory bowel disease first recognised'
  const blocked = 'Of them a stricture that could not be passed'
  const inflamed = 'Of them stopped for severe inflammation'

  it.each<[string, Facts, AnswerCode, string[]]>([
    ['nothing seen', {}, 'not-met', []],
    ['colitis first recognised', { inflammatoryBowelDiseaseSeen: true }, 'met', [disease]],
    ['a stricture that could not be passed', stopped('impassable-stricture'), 'met', [blocked]],
    ['stopped for severe inflammation', stopped('severe-inflammation'), 'met', [inflamed]],
    ['stopped for discomfort', stopped('discomfort'), 'not-met', []],
    ['stopped, and nobody says why', stopped(undefined), 'not-recorded', []],
    ['quiescent colitis flared up', { ...colitis('quiescent'), ...stopped('severe-inflammation') }, 'met', [inflamed]],
    ['known colitis: how it looked that day is no fact of the record', colitis('quiescent'), 'not-recorded', []],
    ['colitis known to be active before', { ...colitis('active'), ...stopped('severe-inflammation') }, 'not-met', []],
    ['a stricture known before', { ...stricture, ...stopped('impassable-stricture') }, 'not-met', []],
    [
      'a stricture of which nobody says whether it was known',
      { ...stopped('impassable-stricture'), strictureKnown: undefined },
      'not-recorded',
      [],
    ],
    [
      'colitis first recognised, attachment taken off',
      { inflammatoryBowelDiseaseSeen: true, attachmentOutcome: 'removed' },
      'not-met',
      [],
    ],
    [
      'colitis first recognised, attachment lost',
      { inflammatoryBowelDiseaseSeen: true, attachmentOutcome: 'detached' },
      'not-met',
      [],
    ],
    [
      'what became of it nobody says',
      { inflammatoryBowelDiseaseSeen: true, attachmentOutcome: undefined },
      'not-recorded',
      [],
    ],
    ['no attachment', { ...without, inflammatoryBowelDiseaseSeen: true }, 'out', []],
  ])('%s', (_, facts, code, beside) => {
    expect(answerOn(seen, recorded(facts)).code).toBe(code)
    expect(besideOn(seen, recorded(facts))).toEqual(beside)
  })
})

it.each([used, withheld, leftOut, seen])('%s says who decides, and where each condition comes from', (id) => {
  const { disclaimer, relatedArtifact } = measureOf(id).definition.resource
  expect(disclaimer).toContain('is the clinician’s decision')
  expect(disclaimer).toContain('manufacturer’s instructions and local policy come first')
  const sources = relatedArtifact?.map(({ url }) => url)
  expect(sources).toContain('https://doi.org/10.1055/s-0041-107900')
  expect(sources).toContain('https://doi.org/10.1177/2050640620982952')
})
