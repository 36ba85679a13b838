import { describe, expect, it } from 'vitest'
import { generateDemo } from '../../src/local/demo/generate.ts'
import { endoscopists } from '../../src/local/demo/region.ts'
import type { TruthRow } from '../../src/local/demo/truth-row.ts'

const { truth } = generateDemo()
const examinations = truth.filter(({ kind }) => kind === 'examination')
const share = (rows: readonly TruthRow[], holds: (row: TruthRow) => boolean): number =>
  rows.filter(holds).length / rows.length
const settled = examinations.filter(({ pathology }) => pathology === 'final' || pathology === 'not-sent')
const withReason = (reason: TruthRow['reason']) => settled.filter((row) => row.reason === reason)
const foundAdenoma = ({ confirmedAdenomas }: TruthRow) => confirmedAdenomas > 0

describe('the truth table', () => {
  it('has about 6,000 examinations in three units by fourteen endoscopists over eighteen months', () => {
    expect(examinations.length).toBeGreaterThan(5900)
    expect(examinations.length).toBeLessThan(6100)
    expect(new Set(examinations.flatMap(({ unit }) => unit ?? []))).toEqual(
      new Set(['ellenby', 'tarnhollow', 'quernford']),
    )
    expect(new Set(examinations.flatMap(({ operator }) => operator ?? [])).size).toBe(14)
    expect(new Set(examinations.map(({ date }) => date?.slice(0, 7))).size).toBe(18)
    const dates = examinations.flatMap(({ date }) => date ?? [])
    expect(dates.every((date) => date >= '2025-01-01' && date <= '2026-06-30')).toBe(true)
  })

  it('gives each examination one row, and each copy the examination it copies', () => {
    expect(new Set(truth.map(({ procedure }) => procedure)).size).toBe(truth.length)
    const own = new Set(examinations.map(({ procedure }) => procedure))
    const copies = truth.filter(({ kind }) => kind === 'copy')
    expect(copies.length).toBeGreaterThan(40)
    expect(copies.every(({ copyOf }) => copyOf !== undefined && own.has(copyOf))).toBe(true)
  })

  // After a positive immunochemical test 47.8 % in print (Mohan, Gastrointest Endosc 2022, pooled over 34 studies), direct
  // screening 37.5 % (Wong, Gastrointest Endosc 2018); symptoms lower, surveillance a little higher.
  it.each([
    ['positive-screening-test', 0.46, 0.56],
    ['surveillance', 0.32, 0.42],
    ['screening', 0.27, 0.36],
    ['symptoms', 0.15, 0.22],
  ] as const)('finds adenomas after %s in a plausible share', (reason, least, most) => {
    expect(withReason(reason).length).toBeGreaterThan(800)
    expect(share(withReason(reason), foundAdenoma)).toBeGreaterThan(least)
    expect(share(withReason(reason), foundAdenoma)).toBeLessThan(most)
  })

  // UK national audit 2011: 92.3 % unadjusted (Gut 2013;62:242).
  it('reaches the caecum about as often as a national audit found, and prepares about nine in ten well', () => {
    const meant = examinations.filter(
      ({ intent, extent, stopped }) => intent === 'complete' && (extent !== undefined || stopped),
    )
    const reached = share(meant, ({ extent }) => extent === 'caecum' || extent === 'ileum' || extent === 'anastomosis')
    expect(reached).toBeGreaterThan(0.91)
    expect(reached).toBeLessThan(0.96)
    const scored = examinations.filter(({ preparation }) => preparation?.kind === 'segments')
    const clean = share(scored, ({ preparation }) =>
      preparation?.kind === 'segments'
        ? [preparation.left, preparation.transverse, preparation.right].every(
            (score) => score !== undefined && score >= 2,
          )
        : false,
    )
    expect(clean).toBeGreaterThan(0.84)
    expect(clean).toBeLessThan(0.94)
  })

  it('chooses an attachment more often after a positive screening test', () => {
    const used = ({ attachment }: TruthRow) => attachment === 'before-insertion'
    const recorded = examinations.filter(({ attachment }) => attachment !== undefined)
    const positive = recorded.filter(({ reason }) => reason === 'positive-screening-test')
    const others = recorded.filter(({ reason }) => reason !== 'positive-screening-test')
    expect(share(positive, used)).toBeGreaterThan(2 * share(others, used))
  })

  it('has what real records have: small volumes, trainees, gaps, late and missing pathology, events on the edge', () => {
    const volumes = endoscopists.map(
      ({ number }) => examinations.filter(({ operator }) => operator?.endsWith(`|${number}`)).length,
    )
    expect(Math.min(...volumes)).toBeLessThan(100)
    expect(Math.max(...volumes)).toBeGreaterThan(600)
    const trained = examinations.filter(({ operatorRole }) => operatorRole === 'trainee')
    expect(new Set(trained.map(({ operator }) => operator)).size).toBe(2)
    expect(trained.every(({ supervisor }) => supervisor !== undefined)).toBe(true)
    for (const state of ['not-sent', 'pending', 'final', 'unreadable', 'missing'] as const)
      expect(
        examinations.some(({ pathology }) => pathology === state),
        state,
      ).toBe(true)
    for (const gap of [
      'unit',
      'operator',
      'age',
      'reason',
      'setting',
      'report',
      'extent',
      'preparation',
      'withdrawalMinutes',
    ] as const)
      expect(
        examinations.some((row) => row[gap] === undefined),
        gap,
      ).toBe(true)
    const bleeding = examinations.flatMap(({ bleedingDay }) => bleedingDay ?? [])
    expect(bleeding.filter((day) => day > 12).sort()).toEqual([30, 31])
    expect(bleeding.length).toBe(24)
    const perforation = examinations.flatMap(({ perforationDay }) => perforationDay ?? [])
    expect(perforation.sort((one, other) => one - other)).toEqual([0, 0, 1, 1, 2, 33])
  })
})

describe('a truth row', () => {
  it('never contradicts itself', () => {
    const wrong = examinations.filter((row) => {
      const sent = row.polyps.filter(({ retrieval }) => retrieval === 'retrieved')
      const adenomasSent = sent.filter(({ nature }) => nature === 'conventional-adenoma').length
      return (
        (row.pathology === 'final' ? row.confirmedAdenomas !== adenomasSent : row.confirmedAdenomas !== 0) ||
        (row.pathology === 'not-sent') !== (sent.length + row.randomBiopsies === 0) ||
        (row.stopReason !== undefined && !row.stopped) ||
        (row.bleedingDay !== undefined && !row.polyps.some(({ handling }) => handling === 'removed')) ||
        (row.attachment === 'none' && row.attachmentKind !== undefined) ||
        (row.extent === 'anastomosis' && !row.earlierResection)
      )
    })
    expect(wrong).toEqual([])
  })

  it('is pending only while the lag of 60 days runs on 2026-08-15, and missing only after it', () => {
    const dates = (state: TruthRow['pathology']) =>
      examinations.filter(({ pathology }) => pathology === state).flatMap(({ date }) => date ?? [])
    // 2026-06-16 and 60 days is 2026-08-15.
    expect(dates('pending').every((date) => date > '2026-06-16')).toBe(true)
    expect(dates('missing').every((date) => date < '2026-06-16')).toBe(true)
  })
})

describe('the details of a truth row', () => {
  const tookTissue = ({ polyps, randomBiopsies }: TruthRow) =>
    randomBiopsies > 0 || polyps.some(({ handling }) => handling === 'removed' || handling === 'biopsied')

  it('take no tissue where none was taken, and help nobody but trainees', () => {
    const wrong = examinations.filter(
      (row) =>
        (row.tattooPlaced === true && !tookTissue(row)) ||
        (row.mucosalInjuryTreated === true && !tookTissue(row)) ||
        (row.takeover !== undefined && row.operatorRole !== 'trainee') ||
        row.polyps.some(
          ({ handling, tool, resection, tattooed }) =>
            (resection !== undefined && handling !== 'removed') ||
            ((tool !== undefined || tattooed === true) && handling !== 'removed' && handling !== 'biopsied'),
        ),
    )
    expect(wrong).toEqual([])
  })

  it('add up: doses to sedation, visits to the unplanned one, events to their number', () => {
    const drugs = ['midazolamMilligrams', 'fentanylMicrograms', 'pethidineMilligrams', 'propofolMilligrams'] as const
    const wrong = examinations.filter((row) => {
      const given = drugs.some((drug) => (row[drug] ?? 0) > 0)
      const unplanned = row.visits?.filter(({ planned }) => planned === false) ?? []
      const events = [row.bleedingDay, row.perforationDay, row.cardiopulmonaryEventDay].filter(
        (day) => day !== undefined,
      )
      return (
        (given && row.sedated !== true) ||
        (row.visits !== undefined && unplanned.length > 0 !== (row.unplannedVisit === true)) ||
        row.visits?.some(({ day }) => day < 0 || day > 30) ||
        row.eventCount !== events.length ||
        (row.deathDay !== undefined && (row.death !== true || row.deathDay < 0))
      )
    })
    expect(wrong).toEqual([])
  })

  // Common practice, no source: what matters is that nothing rare is common and nothing common rare.
  it.each<[string, (row: TruthRow) => boolean, number, number]>([
    ['sedation or an opioid', ({ sedated }) => sedated === true, 0.6, 0.9],
    ['an anaesthetist', ({ anaesthetistLed }) => anaesthetistLed === true, 0.005, 0.05],
    ['a reversal agent', ({ reversalAgent }) => reversalAgent === true, 0.0005, 0.01],
    ['antithrombotics', ({ antithrombotics }) => antithrombotics === true, 0.04, 0.12],
    ['an injury of the mucosa', ({ mucosalInjury }) => mucosalInjury === true, 0.002, 0.02],
    ['an unplanned visit', ({ unplannedVisit }) => unplannedVisit === true, 0.008, 0.04],
    ['a death by the as-of day', ({ death }) => death === true, 0.002, 0.02],
    ['a later cancer', ({ laterColorectalCancer }) => laterColorectalCancer === true, 0.0002, 0.005],
    ['a cardiopulmonary event', ({ cardiopulmonaryEvent }) => cardiopulmonaryEvent === true, 0.0002, 0.005],
    ['advice to come again', ({ advice }) => advice === 'repeat-colonoscopy', 0.2, 0.6],
  ])('%s in a plausible share', (_, holds, least, most) => {
    expect(share(examinations, holds)).toBeGreaterThan(least)
    expect(share(examinations, holds)).toBeLessThan(most)
  })

  it('make large adenomas villous or dysplastic more often than small ones', () => {
    const adenomas = examinations
      .flatMap(({ polyps }) => polyps)
      .filter(({ histology }) => histology === 'conventional-adenoma')
    const shareOf = (of: typeof adenomas, holds: (one: (typeof adenomas)[number]) => boolean) =>
      of.filter(holds).length / of.length
    const small = adenomas.filter(({ sizeMillimetres = 0 }) => sizeMillimetres > 0 && sizeMillimetres < 10)
    const large = adenomas.filter(({ sizeMillimetres = 0 }) => sizeMillimetres >= 10)
    expect(large.length).toBeGreaterThan(100)
    for (const holds of [
      ({ villous }: (typeof adenomas)[number]) => villous === true,
      ({ dysplasia }: (typeof adenomas)[number]) => dysplasia === 'high-grade',
    ])
      expect(shareOf(large, holds)).toBeGreaterThan(3 * shareOf(small, holds))
  })
})
