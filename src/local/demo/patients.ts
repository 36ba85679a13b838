import { dateOf } from './calendar.ts'
import type { HistoryItem, PatientPlan } from './plan.ts'
import type { Random } from './random.ts'
import type { DemoReason } from './region.ts'

/** Ages at which people come for a reason, least and most. */
const ages: Readonly<Record<DemoReason, readonly [number, number]>> = {
  'known-lesion': [48, 84],
  'site-check': [48, 84],
  'positive-screening-test': [50, 75],
  surveillance: [42, 84],
  'symptoms-positive-test': [40, 86],
  symptoms: [18, 88],
  screening: [42, 76],
}

/** Makes a patient who first comes on `day` for `reason`; patients have no names, only dates of birth and a gender. */
export function newPatient(random: Random, id: string, reason: DemoReason, day: number): PatientPlan {
  const [least, most] = ages[reason]
  // The mean of two draws: the middle of the range is more usual than its ends.
  const age = (random.between(least, most) + random.between(least, most)) >> 1
  const birthDate = dateOf(day - age * 365 - (age >> 2) - random.below(365) - 1)
  const precision = random.weighted([
    [10, 9955],
    [7, 15],
    [4, 20],
    [0, 10],
  ] as const)
  return {
    id,
    birthDate,
    birthDateWritten: precision === 0 ? undefined : birthDate.slice(0, precision),
    sex: random.weighted([
      ['female', 4960],
      ['male', 5010],
      ['other', 10],
      ['unknown', 20],
    ] as const),
    history: pastHistory(random, reason, day),
  }
}

function pastHistory(random: Random, reason: DemoReason, day: number): HistoryItem[] {
  const items: HistoryItem[] = []
  const add = (kind: HistoryItem['kind'], recordedDay: number, stands = true) =>
    items.push({ kind, recordedDay, stands })
  const earlier = () => day - random.between(200, 3650)
  const often = reason === 'surveillance' || reason === 'symptoms'
  if (random.chance(often ? 420 : 40)) add('inflammatory-bowel-disease', earlier())
  // First recognised at this very examination, or soon after: not known beforehand.
  else if (reason === 'symptoms' && random.chance(150))
    add('inflammatory-bowel-disease', day + random.pick([0, 0, 1, 6]))
  else if (random.chance(20)) add('inflammatory-bowel-disease', earlier(), false)
  if (random.chance(reason === 'surveillance' ? 200 : 25)) add('hereditary-syndrome', earlier())
  if (random.chance(often ? 320 : 60)) add('earlier-resection', earlier())
  return items
}

/** Whether something stood in the record before the day of the examination. */
export function knownBefore(patient: PatientPlan, kind: HistoryItem['kind'], day: number): boolean {
  return patient.history.some((item) => item.kind === kind && item.stands && item.recordedDay < day)
}

/** Whole years on `date`, where the recorded part of the date of birth decides them: every day it leaves open must agree. */
export function recordedAge(birthDateWritten: string | undefined, date: string): number | undefined {
  if (birthDateWritten === undefined) return undefined
  const eldest = yearsBetween(`${birthDateWritten}-01-01`.slice(0, 10), date)
  const youngest = yearsBetween(
    birthDateWritten.length === 7 ? `${birthDateWritten}-31` : `${birthDateWritten}-12-31`.slice(0, 10),
    date,
  )
  return eldest === youngest ? eldest : undefined
}

function yearsBetween(birth: string, date: string): number {
  const years = Number(date.slice(0, 4)) - Number(birth.slice(0, 4))
  return date.slice(5) < birth.slice(5) ? years - 1 : years
}
