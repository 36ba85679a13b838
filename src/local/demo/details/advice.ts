import { asOfDay, dateOf } from '../calendar.ts'
import type { Plan } from '../plan.ts'
import type { Random } from '../random.ts'
import type { Added, WrittenAdvice } from './details.ts'
import { habits } from './habits.ts'

/** Days of a month on average, over the 400 years after which the calendar repeats itself. */
const daysOfMonth = 146_097 / 4_800

/**
 * What was advised next. One unit signs it with the report and amends it after pathology, one orders the next examination or
 * writes a sentence, one has a local code in the procedure and the interval in years beside it.
 */
export function detailAdvice(random: Random, plan: Plan): Added {
  const { unit, row, day, pathology } = plan
  const first = advise(random, plan, false)
  const later = advise(random, plan, true)
  const isSaid = random.chance(habits[unit.id].advice)
  const waits = random.chance(4500)
  const afterDays = random.between(2, 6)
  const spoil = random.chance(130) ? 'range' : random.chance(60) ? 'contradiction' : undefined
  if (row.report === 'preliminary' || !isSaid) return { truth: {}, written: {} }
  const informed = row.pathology === 'final' && row.polyps.some(({ retrieval }) => retrieval === 'retrieved')
  if (unit.id === 'ellenby') {
    const amendedOn = pathology.issuedDay + afterDays
    if (!informed || amendedOn >= asOfDay)
      return { truth: inRecord(first), written: { advice: { first, how: 'observation' } } }
    const before: WrittenAdvice = waits ? { advice: 'clinic-review' } : first
    return {
      truth: inRecord(later),
      written: { advice: { first: before, amended: { ...later, day: amendedOn }, how: 'observation' } },
    }
  }
  if (unit.id === 'tarnhollow') {
    const { advice, months } = first
    if (advice !== 'repeat-colonoscopy' || months === undefined)
      return { truth: {}, written: { advice: { first, how: 'text' } } }
    return {
      truth: { advice, advisedIntervalMonths: monthsTo(day, months) },
      written: { advice: { first, how: 'order' } },
    }
  }
  const written = { first, how: 'follow-up' } as const
  if (spoil === 'range' && first.months !== undefined)
    return { truth: { advice: first.advice }, written: { advice: { ...written, spoilt: spoil } } }
  if (spoil === 'contradiction' && first.advice === 'no-further-colonoscopy')
    return { truth: {}, written: { advice: { ...written, spoilt: spoil } } }
  return { truth: inRecord(first), written: { advice: written } }
}

const inRecord = ({ advice, months }: WrittenAdvice) => ({ advice, advisedIntervalMonths: months })

/** By what was found, with the leeway that people take; before pathology every polyp taken may be an adenoma. */
function advise(random: Random, { row }: Plan, informed: boolean): WrittenAdvice {
  const repeat = (months: number): WrittenAdvice => ({ advice: 'repeat-colonoscopy', months })
  const [leeway, months] = [random.below(10), random.pick([1, 2, 3])]
  const taken = row.polyps.filter(({ handling }) => handling === 'removed' || handling === 'biopsied')
  const adenomas = informed ? row.confirmedAdenomas : taken.length
  if (taken.some(({ nature }) => nature === 'cancer')) return { advice: 'clinic-review' }
  if (row.stopped) return leeway < 6 ? repeat(months) : { advice: 'clinic-review' }
  if (row.inflammatoryBowelDisease) return repeat(leeway < 5 ? 12 : 36)
  if (row.hereditarySyndrome) return repeat(leeway < 5 ? 12 : 24)
  if ((row.age ?? 60) >= 76) return { advice: leeway < 9 ? 'no-further-colonoscopy' : 'clinic-review' }
  if (adenomas >= 3 || taken.some(({ sizeMillimetres = 0 }) => sizeMillimetres >= 10)) return repeat(36)
  if (adenomas > 0) return leeway < 6 ? repeat(60) : leeway < 8 ? repeat(84) : { advice: 'no-further-colonoscopy' }
  if (row.reason === 'screening') return repeat(120)
  if (row.reason === 'surveillance') return leeway < 6 ? repeat(60) : { advice: 'no-further-colonoscopy' }
  return { advice: leeway < 8 ? 'no-further-colonoscopy' : 'clinic-review' }
}

/** Day on which an examination in so many months is planned: the same day of the month, or its 28th. */
export function plannedDate(day: number, months: number): string {
  const [year = 0, month = 1, date = 1] = dateOf(day).split('-').map(Number)
  const later = month - 1 + months
  const written = (part: number) => String(part).padStart(2, '0')
  return `${year + Math.trunc(later / 12)}-${written((later % 12) + 1)}-${written(Math.min(date, 28))}`
}

/** Months to that day, with one decimal. */
function monthsTo(day: number, months: number): number {
  const date = Number(dateOf(day).slice(8))
  return Math.round((months - Math.max(0, date - 28) / daysOfMonth) * 10) / 10
}
