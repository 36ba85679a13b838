import type { MeasureDefinition } from '../measures/measure.ts'
import type { Answer } from './answer.ts'
import type { AnswerRow } from './answer-row.ts'
import type { ApartReason } from './result.ts'

/** Sums over answer rows; nothing here divides, so parts add up in any order. */
export interface Count {
  initialPopulation: number
  excluded: number
  excepted: number
  met: number
  notMet: number
  /**
   * Sums of observed values and of their squares, over the settled examinations that have one. In thousandths and
   * millionths: linkage keeps three decimals, so these are whole numbers and add up the same in any order.
   */
  valueThousandths: number
  valueSquareMillionths: number
  /** Fewest and most the sum of values could be, over settled examinations in the denominator; NaN once one is unbounded. */
  lowerSum: number
  upperSum: number
  /** The same with pending and later examinations. */
  wholeLowerSum: number
  wholeUpperSum: number
  apart: Partial<Record<ApartReason, number>>
}

export const emptyCount = (): Count => ({
  initialPopulation: 0,
  excluded: 0,
  excepted: 0,
  met: 0,
  notMet: 0,
  valueThousandths: 0,
  valueSquareMillionths: 0,
  lowerSum: 0,
  upperSum: 0,
  wholeLowerSum: 0,
  wholeUpperSum: 0,
  apart: {},
})

/** Adds the sums of another count. */
export function addCount(sum: Count, part: Count): void {
  sum.initialPopulation += part.initialPopulation
  sum.excluded += part.excluded
  sum.excepted += part.excepted
  sum.met += part.met
  sum.notMet += part.notMet
  sum.valueThousandths += part.valueThousandths
  sum.valueSquareMillionths += part.valueSquareMillionths
  sum.lowerSum += part.lowerSum
  sum.upperSum += part.upperSum
  sum.wholeLowerSum += part.wholeLowerSum
  sum.wholeUpperSum += part.wholeUpperSum
  for (const [reason, count] of Object.entries(part.apart) as [ApartReason, number][])
    sum.apart[reason] = (sum.apart[reason] ?? 0) + count
}

/**
 * Adds one examination's answer.
 *
 * @param settled it lies on or before the report's last settled day
 * @param available its source feeds what the measure needs
 */
export function add(
  count: Count,
  answer: Answer,
  row: AnswerRow,
  measure: MeasureDefinition,
  settled: boolean,
  available: boolean,
): void {
  for (const reason of reasonsApart(answer, row, settled, available))
    count.apart[reason] = (count.apart[reason] ?? 0) + 1
  const { code, value = 0 } = answer
  if (!available) return
  if (code === 'out' || code === 'eligibility-not-recorded') {
    if (settled && answer.inPopulation) count.initialPopulation++
    return
  }

  if (measure.scoring === 'ratio' && code !== 'excluded' && code !== 'excepted') {
    const [lower, upper] = rangeOf(answer)
    count.wholeLowerSum += lower
    count.wholeUpperSum += upper
    if (settled && code !== 'pending') {
      count.lowerSum += lower
      count.upperSum += upper
    }
  }
  if (!settled || code === 'pending') return
  count.initialPopulation++
  if (code === 'excluded') count.excluded++
  else if (code === 'excepted') count.excepted++
  else if (code === 'not-met') count.notMet++
  else if (code === 'met') {
    count.met++
    const thousandths = Math.round(value * 1000)
    count.valueThousandths += thousandths
    count.valueSquareMillionths += thousandths ** 2
  }
}

/** Everything about an answer that is counted beside the populations. */
function reasonsApart(answer: Answer, { operator }: AnswerRow, settled: boolean, available: boolean): ApartReason[] {
  const { code } = answer
  if (code === 'out') return ['out']
  const reasons: ApartReason[] = operator === undefined ? ['unattributed'] : []
  if (!available) return [...reasons, 'not-available']
  if (code === 'eligibility-not-recorded') return [...reasons, code]
  if (answer.exclusionUnrecorded) reasons.push('exclusion-not-recorded')
  if (code === 'pending') return answer.alreadyMet ? [...reasons, code, 'pending-already-met'] : [...reasons, code]
  if (!settled) return [...reasons, `later-${code}`]
  if (answer.beside) reasons.push('beside')
  return code === 'not-recorded' ? [...reasons, code] : reasons
}

/** Range of an examination's value: its bounds where the measure states them, else the value itself, else open. */
function rangeOf({ code, value, lower, upper }: Answer): [number, number] {
  if (code === 'not-met') return [0, 0]
  return [lower ?? value ?? 0, upper ?? value ?? Number.NaN]
}
