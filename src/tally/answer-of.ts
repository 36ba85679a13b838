import type { CompiledMeasure } from '../measures/compiled-measure.ts'
import type { Beside } from '../measures/measure.ts'
import type { Colonoscopy } from '../record/colonoscopy.ts'
import type { Answer } from './answer.ts'

/** When the record is read, in days since 1970-01-01, and how late facts may come to it. */
export interface Settlement {
  /** Day of the examination. */
  readonly day: number
  /** Civil day of the as-of instant, in the unit's zone. */
  readonly asOfDay: number
  readonly pathologyLagDays: number
  readonly eventLagDays: number
}

// Most answers carry nothing but their code: one frozen object serves them all.
const plain = {
  out: Object.freeze({ code: 'out' }),
  outOfDenominator: Object.freeze({ code: 'out', inPopulation: true }),
  denominatorNotRecorded: Object.freeze({ code: 'eligibility-not-recorded', inPopulation: true }),
  eligibilityNotRecorded: Object.freeze({ code: 'eligibility-not-recorded' }),
  excluded: Object.freeze({ code: 'excluded' }),
  pending: Object.freeze({ code: 'pending' }),
} as const satisfies Record<string, Answer>

/**
 * What one examination answers to one measure, decided in this order:
 * 1. initial population or denominator false: out; neither false but one unknown: eligibility not recorded (pending while the
 *    examination's own report, or histology that decides it, is open);
 * 2. exclusion true: excluded (an unknown exclusion does not exclude, and is counted);
 * 3. not settled at the as-of instant: pending;
 * 4. numerator true: met; unknown: not recorded; else exception true: excepted; else not met.
 */
export function answerOf(measure: CompiledMeasure, record: Colonoscopy, settlement: Settlement): Answer {
  const inPopulation = measure.initialPopulation(record)
  const inDenominator = measure.denominator === undefined ? inPopulation : measure.denominator(record)
  const isPending = () => !isSettled(measure, record, settlement)
  if (inPopulation === false || inDenominator === false) return inPopulation ? plain.outOfDenominator : plain.out
  if (inPopulation === undefined || inDenominator === undefined) {
    // While the examination's own report is open, what it does not say may still come; so may histology that decides it.
    const mayCome = measure.definition.eligibilityWaitsForHistology && record.pathology === 'pending'
    if (mayCome || isReportOpen(record, settlement)) return plain.pending
    return inPopulation ? plain.denominatorNotRecorded : plain.eligibilityNotRecorded
  }
  const excluded = measure.exclusion?.(record) ?? (measure.exclusion ? undefined : false)
  if (excluded === true) {
    const besides = besidesOf(measure, record, 'excluded')
    return besides === undefined ? plain.excluded : { code: 'excluded', besides }
  }

  const met = measure.numerator ? measure.numerator(record) : true
  const value = measure.observation?.(record)
  const over = measure.denominatorObservation?.(record)
  const valued = measure.observation !== undefined
  const observed =
    !valued || (value !== undefined && (measure.denominatorObservation === undefined || over !== undefined))
  const code = ((): Answer['code'] => {
    if (isPending()) return 'pending'
    if (met === undefined || (met && !observed)) return 'not-recorded'
    if (met) return 'met'
    return measure.exception?.(record) === true ? 'excepted' : 'not-met'
  })()

  const answer: { -readonly [Part in keyof Answer]: Answer[Part] } = { code }
  if (valued) {
    if (code === 'met' && value !== undefined) answer.value = value
    if (over === undefined) {
      const lower = measure.observationLower?.(record)
      const upper = measure.observationUpper?.(record)
      if (lower !== undefined) answer.lower = lower
      if (upper !== undefined) answer.upper = upper
    } else if (value !== undefined) {
      const unknown = measure.itemsNotRecorded?.(record) ?? 0
      answer.over = over
      answer.lower = value
      answer.upper = value + unknown
      if (unknown > 0) answer.itemsNotRecorded = unknown
      const undecided = measure.itemsUndecided?.(record) ?? 0
      if (undecided > 0) answer.itemsUndecided = undecided
    }
  }
  if (excluded === undefined) answer.exclusionUnrecorded = true
  if (code === 'pending' && met === true && !valued) answer.alreadyMet = true
  const besides = besidesOf(measure, record, code)
  if (besides !== undefined) answer.besides = besides
  return answer
}

/** Populations of which an answer is a member. */
const populationsOf: Readonly<Partial<Record<Answer['code'], readonly Beside['population'][]>>> = {
  excluded: ['denominator-exclusion'],
  met: ['numerator', 'denominator'],
  'not-met': ['denominator'],
  // What makes an outcome unrecorded may be just what is to be known.
  'not-recorded': ['denominator'],
}

function besidesOf({ besides }: CompiledMeasure, record: Colonoscopy, code: Answer['code']): number[] | undefined {
  const populations = populationsOf[code]
  if (besides.length === 0 || populations === undefined) return undefined
  let found: number[] | undefined
  for (const [index, { population, test }] of besides.entries()) {
    if (!populations.includes(population) || test(record) !== true) continue
    found ??= []
    found.push(index)
  }
  return found
}

/** Whether the examination's own report may still come: not beyond the lag, after which it never will. */
const isReportOpen = ({ report }: Colonoscopy, { day, asOfDay, pathologyLagDays }: Settlement): boolean =>
  report === 'preliminary' && asOfDay - day <= pathologyLagDays

/** Whether nothing that could still change the answer may come: the examination's report, histology, an event. */
function isSettled(measure: CompiledMeasure, record: Colonoscopy, settlement: Settlement): boolean {
  const { day, asOfDay, eventLagDays } = settlement
  const { waitsForHistology, eventWindowDays } = measure.definition
  if (isReportOpen(record, settlement)) return false
  if (waitsForHistology && record.pathology === 'pending') return false
  // Day 30 itself must have passed, and the lag after it.
  return eventWindowDays === undefined || day + eventWindowDays + eventLagDays < asOfDay
}
