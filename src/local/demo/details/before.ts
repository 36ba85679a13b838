import { dateOf } from '../calendar.ts'
import type { Plan } from '../plan.ts'
import type { Random } from '../random.ts'
import type { TruthDetails } from '../truth-details.ts'
import type { Added } from './details.ts'

/** Days of a month on average, over the 400 years after which the calendar repeats itself. */
const daysOfMonth = 146_097 / 4_800

/**
 * What one unit asks before an examination, and two of them when the last one was: which symptom it is, when the test was, whether
 * the last one was incomplete. Where nobody asks, other examinations of the patient and the stated reasons tell what they can.
 *
 * @param others the patient's other examinations
 */
export function detailBefore(random: Random, plan: Plan, others: readonly Plan[]): Added {
  const { unit, form, day, row } = plan
  const { reasons, reasonBy } = form
  // Who takes biopsies of a mucosa without a polyp mostly has this reason.
  const [asksWhich, isDiarrhoea] = [random.chance(5000), random.chance(row.randomBiopsies > 0 ? 7500 : 300)]
  const [asksForTest, sinceTest] = [random.chance(8500), random.between(9, 62)]
  const [asksForRepeat, isRepeat] = [random.chance(6000), random.chance(8000)]
  const [asksForLast, sinceLast, yearsSinceLast] = [
    random.chance(7500),
    random.between(330, 1900),
    random.between(1, 5),
  ]
  const [asksForExperience, experience] = [
    random.chance(5500),
    random.weighted([
      ['good', 70],
      ['acceptable', 22],
      ['poor', 8],
    ] as const),
  ]
  const isCoded = reasons.length > 0 && reasonBy !== 'procedure-code'
  const isSymptomatic = reasons.includes('symptoms') || reasons.includes('symptoms-positive-test')
  const last = others.filter((one) => one.day < day).sort((one, other) => other.day - one.day)[0]
  const isEllenby = unit.id === 'ellenby'
  const mayHaveHadOne = last === undefined && reasons.includes('surveillance') && asksForLast

  const diarrhoeaSaid = isEllenby && isSymptomatic && asksWhich ? isDiarrhoea : undefined
  const diarrhoeaCoded = !isEllenby && reasons.includes('symptoms') && asksWhich && isDiarrhoea ? true : undefined
  const repeatSaid = isEllenby && last?.row.stopped && asksForRepeat ? isRepeat : undefined
  const testDay = isEllenby && reasons.includes('positive-screening-test') && asksForTest ? day - sinceTest : undefined
  const lastDay = isEllenby && mayHaveHadOne ? day - sinceLast : undefined
  const lastYears = unit.id === 'tarnhollow' && mayHaveHadOne ? yearsSinceLast : undefined
  const patientExperience = isEllenby && asksForExperience ? experience : undefined
  const truth: TruthDetails = {
    chronicDiarrhoea: diarrhoeaSaid ?? diarrhoeaCoded ?? (isCoded && !isSymptomatic ? false : undefined),
    afterIncompleteExamination: repeatSaid ?? (isCoded && !last?.row.stopped ? false : undefined),
    daysFromPositiveTest: testDay === undefined ? undefined : day - testDay,
    monthsSinceLastColonoscopy: lastYears === undefined ? monthsBetween(last?.day ?? lastDay, day) : lastYears * 12,
    lastExaminationInadequate: last?.row.stopped ? true : undefined,
    patientExperience,
  }
  return { truth, written: { diarrhoeaSaid, diarrhoeaCoded, repeatSaid, testDay, lastDay, lastYears } }
}

/** Months of the calendar and the days left over, with one decimal. */
function monthsBetween(from: number | undefined, until: number): number | undefined {
  if (from === undefined) return undefined
  const [one, other] = [dateOf(from), dateOf(until)].map((date) => date.split('-').map(Number))
  const [years = 0, months = 0, days = 0] = [0, 1, 2].map((part) => (other?.[part] ?? 0) - (one?.[part] ?? 0))
  return Math.round((years * 12 + months + days / daysOfMonth) * 10) / 10
}
