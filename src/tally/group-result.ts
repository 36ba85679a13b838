import type { MeasureDefinition } from '../measures/measure.ts'
import { countsRareEvents } from '../measures/rare-events.ts'
import { clopperPearsonInterval } from '../statistics/clopper-pearson-interval.ts'
import { meanInterval } from '../statistics/mean-interval.ts'
import { medianInterval } from '../statistics/median-interval.ts'
import { medianOfCounts } from '../statistics/median-of-counts.ts'
import { ratioInterval } from '../statistics/ratio-interval.ts'
import { wilsonInterval } from '../statistics/wilson-interval.ts'
import type { Count } from './count.ts'
import type { AbsentReason, GroupResult } from './result.ts'
import type { Range } from './values.ts'

/** Above this share not recorded, the bounds and not the score are to be read. */
const readableShare = 0.05

/** Divides, once, at the end: score, interval and bounds of one group's counts. */
export function groupResult(count: Count, measure: MeasureDefinition, tooLittleSettled: boolean): GroupResult {
  const { met, notMet, excluded, excepted, initialPopulation, apart, besides, values } = count
  const members = met + notMet
  const notRecorded = apart['not-recorded'] ?? 0
  const absentBecause = measure.scoring === 'cohort' ? 'no-score' : absent(count, tooLittleSettled)
  const score = absentBecause === undefined ? scoreOf(count, measure) : undefined
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
      ...(values && { valueSum: values.thousandths / 1000, overSum: values.over }),
      ...(measure.criteria.denominatorObservation && {
        itemsNotRecorded: values?.itemsNotRecorded ?? 0,
        itemsUndecided: values?.itemsUndecided ?? 0,
      }),
    },
    besides,
    apart,
    ...(score !== undefined && { score }),
    ...(absentBecause !== undefined && { absentBecause }),
    ...(interval && { interval }),
    ...(bounds && { bounds }),
    ...(wholePeriodBounds && { wholePeriodBounds }),
    readBounds: absentBecause === undefined && isMuchUnrecorded(count, notRecorded, members),
  }
}

function absent({ met, notMet, values, apart }: Count, tooLittleSettled: boolean): AbsentReason | undefined {
  const members = met + notMet
  if (members > 0 && values?.over === 0 && !tooLittleSettled)
    return values.itemsNotRecorded + values.itemsUndecided > 0 ? 'nothing-recorded' : 'nobody-eligible'
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

/** Of examinations, or of the things in them. */
function isMuchUnrecorded({ values }: Count, notRecorded: number, members: number): boolean {
  const items = values?.itemsNotRecorded ?? 0
  return notRecorded > readableShare * (members + notRecorded) || items > readableShare * ((values?.over ?? 0) + items)
}

function scoreOf({ met, notMet, values }: Count, measure: MeasureDefinition): number {
  if (values === undefined) return met / (met + notMet)
  return values.often && measure.aggregate === 'median'
    ? medianOfCounts(values.often) / 1000
    : values.thousandths / 1000 / values.over
}

function intervalOf({ met, notMet, values }: Count, measure: MeasureDefinition): GroupResult['interval'] {
  const members = met + notMet
  if (values === undefined) {
    // Events are rare: there the exact interval keeps its promise, and Wilson's lower limit does not.
    return countsRareEvents(measure)
      ? { ...clopperPearsonInterval(met, members), method: 'exact (Clopper-Pearson)' }
      : { ...wilsonInterval(met, members), method: 'Wilson' }
  }
  if (values.often && measure.aggregate === 'median') {
    const interval = medianInterval(values.often)
    return (
      interval && { lower: interval.lower / 1000, upper: interval.upper / 1000, method: 'median, order statistics' }
    )
  }
  if (members < 2) return undefined
  const sums = {
    count: members,
    y: values.thousandths / 1000,
    yy: values.squareMillionths / 1e6,
    x: values.over,
    xy: values.productThousandths / 1000,
    xx: values.overSquares,
  }
  if (measure.scoring !== 'ratio') {
    const interval = meanInterval(members, sums.y, sums.yy)
    return interval && { ...interval, method: 'mean, Student t' }
  }
  const isShare = measure.criteria.denominatorObservation !== undefined
  const interval = ratioInterval(sums, isShare ? 'logit' : 'log')
  // All or none of the things: as sure as if every examination held one of them, which asks least of their likeness.
  if (interval === undefined && isShare && (sums.y === 0 || sums.y === sums.x)) {
    const holding = Math.min(members, values.over)
    return {
      ...clopperPearsonInterval(sums.y === 0 ? 0 : holding, holding),
      method: 'exact (Clopper-Pearson), one thing for each examination',
    }
  }
  return (
    interval && {
      ...interval,
      method: `ratio of sums by examination, ${isShare ? 'logit' : 'log'} scale, Student t`,
    }
  )
}

function boundsOf({ met, notMet, values, apart }: Count, measure: MeasureDefinition): GroupResult['bounds'] {
  if (values) return ratioBounds(measure, values.settled)
  const notRecorded = apart['not-recorded'] ?? 0
  const all = met + notMet + notRecorded
  return { lower: met / all, upper: (met + notRecorded) / all }
}

function wholeBoundsOf({ met, notMet, values, apart }: Count, measure: MeasureDefinition): GroupResult['bounds'] {
  if (measure.scoring === 'cohort') return undefined
  if (values) return ratioBounds(measure, values.whole)
  const allMet = met + (apart['later-met'] ?? 0)
  const pending = apart.pending ?? 0
  const unknown = (apart['not-recorded'] ?? 0) + (apart['later-not-recorded'] ?? 0)
  const all = allMet + notMet + (apart['later-not-met'] ?? 0) + unknown + pending
  if (all === 0) return undefined
  return { lower: (allMet + (apart['pending-already-met'] ?? 0)) / all, upper: (allMet + unknown + pending) / all }
}

/** A mean of times has no bounds: an unrecorded time could be anything. */
const ratioBounds = (measure: MeasureDefinition, { lower, upper, over }: Range): GroupResult['bounds'] =>
  measure.scoring === 'ratio' && over > 0 && Number.isFinite(upper)
    ? { lower: lower / over, upper: upper / over }
    : undefined
