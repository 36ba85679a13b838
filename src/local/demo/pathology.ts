import { asOfDay, dayOf } from './calendar.ts'
import type { Jar, PathologyForm } from './plan.ts'
import type { Random } from './random.ts'
import type { DemoUnit } from './region.ts'
import type { TruthRow } from './truth-row.ts'

export interface PathologyCourse {
  readonly state: TruthRow['pathology']
  readonly form: PathologyForm
  readonly issuedDay: number
}

/** Chances in 10,000 that a report never comes, and that it says nothing anybody can read. */
const losses: Readonly<Record<DemoUnit['id'], readonly [number, number]>> = {
  ellenby: [70, 50],
  tarnhollow: [130, 60],
  quernford: [190, 150],
}

/**
 * With a lag of 60 days, what was taken after 2026-06-16 may still come on 2026-08-15. Around that day every report is
 * prompt, so that no figure hangs on whether the sixtieth day is in or out.
 */
const lastMissing = dayOf('2026-06-12')
const firstPending = dayOf('2026-06-20')

export function sendToPathology(random: Random, unit: DemoUnit, day: number, jars: readonly Jar[]): PathologyCourse {
  const prompt = day + random.between(2, 21)
  if (jars.length === 0) return { state: 'not-sent', form: 'none', issuedDay: prompt }
  if (jars.every(({ polyps }) => polyps.length === 0)) return { state: 'final', form: 'final', issuedDay: prompt }
  const [lost, unreadable] = losses[unit.id]
  const afterAsOf = asOfDay + random.between(4, 20)
  if (day >= firstPending && random.chance(2200)) {
    const forms: PathologyForm[] = ['none', 'none', 'after-as-of', 'preliminary-only']
    if (jars.length > 1 && unit.id === 'ellenby') forms.push('one-jar-outstanding')
    const form = random.pick(forms)
    return { state: 'pending', form, issuedDay: form === 'after-as-of' ? afterAsOf : prompt }
  }
  if (day <= lastMissing && random.chance(lost))
    return random.chance(2500)
      ? { state: 'missing', form: 'after-as-of', issuedDay: afterAsOf }
      : { state: 'missing', form: 'none', issuedDay: prompt }
  if (random.chance(unreadable)) return { state: 'unreadable', form: 'unreadable', issuedDay: prompt }
  const slow = random.chance(400)
    ? day + random.between(22, 45)
    : random.chance(70)
      ? day + random.between(61, 85)
      : prompt
  const issuedDay = slow > asOfDay - 5 ? prompt : slow
  return { state: 'final', form: finalForm(random, unit), issuedDay }
}

function finalForm(random: Random, unit: DemoUnit): PathologyForm {
  const form = random.weighted<PathologyForm>([
    ['final', 920],
    ['amended', 40],
    ['replaces-preliminary', 30],
    ['beside-withdrawn', 10],
  ])
  // Where reports name no specimens, nothing could tell which of two reports speaks of what.
  return unit.id === 'tarnhollow' && form !== 'amended' ? 'final' : form
}
