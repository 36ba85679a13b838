import { clockChanges, firstDay, isWorkday, lastDay } from './calendar.ts'
import { newPatient } from './patients.ts'
import type { PatientPlan } from './plan.ts'
import type { Random } from './random.ts'
import { type DemoReason, type DemoUnit, units } from './region.ts'

/** A place on a list: who comes, when, why, and in which setting. */
export interface Slot {
  readonly unit: DemoUnit
  readonly day: number
  readonly minute: number
  readonly setting: 'outpatient' | 'inpatient' | 'emergency'
  readonly reason: DemoReason
  readonly patient: PatientPlan
  /** A planned second sitting on the day after the first. */
  readonly staged: boolean
}

/** Days after which a patient may come again; long enough that nothing of the first examination is still open. */
const daysBetweenVisits = 150

/** Fills the lists of all units, in order of time. */
export function fillSchedule(random: Random, size: number): Slot[] {
  const times = Array.from({ length: size }, () => pickTime(random))
  times.sort((one, other) => one.day - other.day || one.minute - other.minute || (one.unit.id < other.unit.id ? -1 : 1))
  const returning = new Map<DemoUnit, { patient: PatientPlan; day: number }[]>(units.map((unit) => [unit, []]))
  const slots: Slot[] = []
  let patients = 0
  for (const time of times) {
    const queue = returning.get(time.unit) ?? []
    const first = queue[0]
    const comesAgain = first !== undefined && first.day + daysBetweenVisits <= time.day && random.chance(700)
    if (comesAgain) queue.shift()
    const reason = comesAgain
      ? random.weighted<DemoReason>([
          ['surveillance', 6],
          ['site-check', 2],
          ['symptoms', 2],
        ])
      : random.weighted(time.unit.reasons)
    if (!comesAgain) patients += 1
    const patient = comesAgain
      ? first.patient
      : newPatient(random, `patient-${String(patients).padStart(5, '0')}`, reason, time.day)
    const slot = { ...time, reason, patient, staged: false }
    slots.push(slot)
    if (!comesAgain && random.chance(1500)) queue.push({ patient, day: time.day })
    else if (!comesAgain && time.setting === 'outpatient' && time.day < lastDay && random.chance(18))
      slots.push({ ...slot, day: time.day + 1, minute: time.minute + 35, reason: 'known-lesion', staged: true })
  }
  return slots.filter(({ day }) => day <= lastDay && !clockChanges(day))
}

function pickTime(random: Random): Pick<Slot, 'unit' | 'day' | 'minute' | 'setting'> {
  const unit = random.weighted(units.map((one) => [one, one.weight] as const))
  const setting = random.weighted([
    ['outpatient', 870],
    ['inpatient', 90],
    ['emergency', 40],
  ] as const)
  for (;;) {
    const day = random.between(firstDay, lastDay)
    if (clockChanges(day) || (setting !== 'emergency' && !isWorkday(day))) continue
    // Emergencies come at night too, which is where civil dates and UTC dates differ.
    const minute = setting === 'emergency' ? random.below(288) * 5 : random.between(96, 203) * 5
    return { unit, day, minute, setting }
  }
}
