import type { MeasureDefinition } from '../measures/measure.ts'
import { clopperPearsonInterval } from '../statistics/clopper-pearson-interval.ts'
import { meanInterval } from '../statistics/mean-interval.ts'
import { meanOfCounts, ratioInterval } from '../statistics/ratio-interval.ts'
import { wilsonInterval } from '../statistics/wilson-interval.ts'
import type { Count } from './count.ts'
import type { AbsentReason, GroupResult } from './result.ts'

/** Above this share not recorded, the bounds and not the score are to be read. */
const readableShare = 0.05

/** Divides, once, at the end: score, interval and bounds of one group's counts. */
export function groupResult(count: Count, measure: MeasureDefinition, tooLittleSettled: boolean): GroupResult {
  const { met, notMet, excluded, excepted, initialPopulation, apart } = count
  const members = met + notMet
  const notRecorded = apart['not-recorded'] ?? 0
  const proportion = measure.scoring === 'proportion'
  const absentBecause = absent(count, tooLittleSettled)
  const score =
    absentBecause === undefined ? (proportion ? met / members : count.valueThousandths / 1000 / members) : undefined
  const interval = score === undefined ? undefined : intervalOf(count, measure)
  const bounds = absentBecause === undefined ? boundsOf(count, measure) : undefined
  const wholePeriodBounds = wholeBoundsOf(count, measure)
  return {
    settled: {
      initialPopulation,
      denominator: excluded + excepted + members,
      excluded,
      excepted,
      met,
      notMet,
      ...(!proportion && { valueSum: count.valueThousandths / 1000 }),
    },
    apart,
    ...(score !== undefined && { score }),
    ...(absentBecause !== undefined && { absentBecause }),
    ...(interval && { interval }),
    ...(bounds && { bounds }),
    ...(wholePeriodBounds && { wholePeriodBounds }),
    readBounds: absentBecause === undefined && notRecorded > readableShare * (members + notRecorded),
  }
}

function absent({ met, notMet, apart }: Count, tooLittleSettled: boolean): AbsentReason | undefined {
  const members = met + notMet
  if (members > 0 && !tooLittleSettled) return undefined
  const open =
    (apart.pending ?? 0) +
    (apart['later-met'] ?? 0) +
    (apart['later-not-met'] ?? 0) +
    (apart['later-not-recorded'] ?? 0)
  if (members === 0 && open === 0) {
    if ((apart['not-available'] ?? 0) > 0) return 'not-available'
    const unrecorded = (apart['not-recorded'] ?? 0) + (apart['eligibility-not-recorded'] ?? 0)
    return unrecorded > 0 ? 'nothing-recorded' : 'nobody-eligible'
  }
  return members === 0 ? 'nothing-settled' : 'too-little-settled'
}

function intervalOf(
  { met, notMet, valueThousandths, valueSquareMillionths }: Count,
  measure: MeasureDefinition,
): GroupResult['interval'] {
  const members = met + notMet
  if (measure.scoring === 'proportion') {
    // Events are rare: there the exact interval keeps its promise, and Wilson's lower limit does not.
    return measure.eventWindowDays === undefined
      ? { ...wilsonInterval(met, members), method: 'Wilson' }
      : { ...clopperPearsonInterval(met, members), method: 'exact (Clopper-Pearson)' }
  }
  if (members < 2) return undefined
  const sum = valueThousandths / 1000
  const squares = valueSquareMillionths / 1e6
  const interval =
    measure.scoring === 'ratio'
      ? ratioInterval(meanOfCounts(members, sum, squares), 'log')
      : meanInterval(members, sum, squares)
  return (
    interval && {
      ...interval,
      method: measure.scoring === 'ratio' ? 'ratio of sums by examination, log scale, Student t' : 'mean, Student t',
    }
  )
}

function boundsOf(
  { met, notMet, lowerSum, upperSum, apart }: Count,
  measure: MeasureDefinition,
): GroupResult['bounds'] {
  const notRecorded = apart['not-recorded'] ?? 0
  const all = met + notMet + notRecorded
  if (measure.scoring === 'proportion') return { lower: met / all, upper: (met + notRecorded) / all }
  return ratioBounds(measure, lowerSum, upperSum, all)
}

function wholeBoundsOf(
  { met, notMet, wholeLowerSum, wholeUpperSum, apart }: Count,
  measure: MeasureDefinition,
): GroupResult['bounds'] {
  const allMet = met + (apart['later-met'] ?? 0)
  const pending = apart.pending ?? 0
  const unknown = (apart['not-recorded'] ?? 0) + (apart['later-not-recorded'] ?? 0)
  const all = allMet + notMet + (apart['later-not-met'] ?? 0) + unknown + pending
  if (all === 0) return undefined
  if (measure.scoring === 'proportion')
    return { lower: (allMet + (apart['pending-already-met'] ?? 0)) / all, upper: (allMet + unknown + pending) / all }
  return ratioBounds(measure, wholeLowerSum, wholeUpperSum, all)
}

/** A mean of times has no bounds: an unrecorded time could be anything. */
function ratioBounds(measure: MeasureDefinition, lower: number, upper: number, all: number): GroupResult['bounds'] {
  return measure.scoring === 'ratio' && Number.isFinite(upper) ? { lower: lower / all, upper: upper / all } : undefined
}
