import type { Colonoscopy, Polyp } from '../../../src/record/colonoscopy.ts'
import type { Answer } from '../../../src/tally/answer.ts'
import { answerOf } from '../../../src/tally/answer-of.ts'
import { answerRow } from '../../../src/tally/answer-row.ts'
import { tally } from '../../../src/tally/tally.ts'
import { northmoor } from '../../stories/northmoor.ts'
import { measureOf } from '../measure-of.ts'

/** Facts of an examination that differ from those of another; undefined takes one away. */
export type Facts = Partial<Colonoscopy>

/** A screening outpatient of 60: complete, well prepared, nothing known before, nothing found, all of it recorded. */
export const negative: Colonoscopy = {
  procedure: 'Procedure/1',
  source: 'northmoor',
  unit: 'northmoor',
  operator: 'operator-1',
  examinationDate: '2026-03-10',
  age: 60,
  sex: 'female',
  setting: 'outpatient',
  report: 'final',
  referralReason: 'screening',
  referredForKnownLesion: false,
  inflammatoryBowelDisease: false,
  inflammatoryBowelDiseaseSeen: false,
  hereditarySyndrome: false,
  earlierResection: false,
  earlierColorectalCancer: false,
  earlierAdenoma: false,
  familyHistoryOfColorectalCancer: false,
  caecumReached: true,
  preparationScale: 'boston',
  segmentsAllAtLeast2: true,
  stoppedForPreparation: false,
  polypCount: 0,
  polypsWithoutObtainableHistology: 0,
  pathology: 'not-sent',
  adenomaFound: false,
  traditionalSerratedFound: false,
  sessileSerratedFound: false,
  cancerFound: false,
  adenomaCount: 0,
  adenomaCountLower: 0,
  adenomaCountUpper: 0,
  traditionalSerratedCount: 0,
  sessileSerratedCount: 0,
  hyperplasticCount: 0,
  cancerCount: 0,
  otherHistologyCount: 0,
  villousAdenomaFound: false,
  highGradeDysplasiaFound: false,
}

/** A polyp of which nobody can have tissue. */
const isLost = ({ handling, retrieval }: Polyp): boolean =>
  handling === 'left' ||
  handling === 'not-found-again' ||
  retrieval === 'not-retrieved' ||
  retrieval === 'discarded-under-protocol'

/** A polyp of a size, which is both bounds of it. */
export const sized = (sizeMillimetres: number, rest: Polyp): Polyp => ({
  sizeMillimetres,
  sizeAtLeastMillimetres: sizeMillimetres,
  sizeAtMostMillimetres: sizeMillimetres,
  ...rest,
})

/** True with one that has it; false where every one is said not to; else not recorded. */
const any = (polyps: readonly Polyp[], has: (polyp: Polyp) => boolean | undefined): boolean | undefined =>
  polyps.some((polyp) => has(polyp) === true) ? true : polyps.every((polyp) => has(polyp) === false) ? false : undefined

/**
 * What the record's fields say, by their own definitions, of these polyps and no others. A polyp that was sent and has no class
 * is one whose report never came: then every count stays open.
 */
export function found(...polyps: Polyp[]): Facts {
  const lost = polyps.filter(isLost).length
  const open = polyps.filter((polyp) => polyp.histology === undefined && !isLost(polyp)).length
  const of = (histology: NonNullable<Polyp['histology']>) => polyps.filter((polyp) => polyp.histology === histology)
  const count = (histology: NonNullable<Polyp['histology']>) => (open > 0 ? undefined : of(histology).length)
  const adenomas = of('conventional-adenoma')
  const isFound = (histology: NonNullable<Polyp['histology']>) =>
    of(histology).length > 0 ? true : open > 0 ? undefined : false
  return {
    polypCount: polyps.length,
    polyps,
    polypsWithoutObtainableHistology: lost,
    pathology: open > 0 ? 'missing' : lost === polyps.length ? 'not-sent' : 'final',
    adenomaFound: isFound('conventional-adenoma'),
    traditionalSerratedFound: isFound('traditional-serrated-adenoma'),
    sessileSerratedFound: isFound('sessile-serrated-lesion'),
    cancerFound: isFound('cancer'),
    adenomaCount: count('conventional-adenoma'),
    adenomaCountLower: adenomas.length,
    adenomaCountUpper: adenomas.length + open + lost,
    traditionalSerratedCount: count('traditional-serrated-adenoma'),
    sessileSerratedCount: count('sessile-serrated-lesion'),
    hyperplasticCount: count('hyperplastic'),
    cancerCount: count('cancer'),
    otherHistologyCount: count('other'),
    villousAdenomaFound: any(adenomas, ({ villous }) => villous),
    highGradeDysplasiaFound: any(adenomas, ({ dysplasia }) =>
      dysplasia === undefined ? undefined : dysplasia === 'high-grade',
    ),
  }
}

const longAgo = { day: 20_000, asOfDay: 21_000, pathologyLagDays: 60, eventLagDays: 0 }

/** What an examination answers to a measure long after it, as the negative one but for some facts. */
export const answerTo = (id: string, ...facts: Facts[]): Answer =>
  answerOf(measureOf(id), Object.assign({ ...negative }, ...facts), longAgo)

const asOf = '2027-01-01T12:00:00.000Z'

/** The figures of a measure over some examinations, all of them settled. */
export function figuresOf(id: string, records: readonly Colonoscopy[]): ReturnType<typeof tally> {
  const measure = measureOf(id)
  const rows = records.map((record) =>
    answerRow({ record, date: '2026-03-10', seen: ['polyps', 'pathology'] }, [measure], northmoor, Date.parse(asOf)),
  )
  const period = { start: '2026-01-01', end: '2026-06-30' }
  return tally({ measure: measure.definition, index: 0, period, asOf, asOfDate: '2027-01-01' }, rows, [northmoor])
}

/** The negative examination so many times, as it is but for some facts. */
export const times = (count: number, ...facts: Facts[]): Colonoscopy[] =>
  Array.from({ length: count }, () => Object.assign({ ...negative }, ...facts))
