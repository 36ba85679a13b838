import { asOfDay, dateOf, dayOf } from './calendar.ts'
import type { EventForm, EventPlan, Plan } from './plan.ts'
import { planExamination } from './plans.ts'
import type { Random } from './random.ts'

/** Days between two examinations of one patient within which an event could be laid at either door. */
const entangled = 70
const lastHalfYear = dayOf('2026-01-01')

/**
 * Lets a few examinations have consequences: bleeding up to day 12, one on day 30 and one on day 31, perforations on the
 * day and on the next, one found too late to count. Beside them what is no event: bleeding that was controlled at once,
 * and a near miss.
 */
export function addEvents(random: Random, plans: readonly Plan[]): Plan[] {
  const events = new Map<Plan, EventPlan>()
  const alone = lonePlans(plans)
  const removed = alone.filter(({ row }) => row.polyps.some(({ handling }) => handling === 'removed'))
  const forms: EventForm[] = [
    'condition',
    'adverse-event',
    'condition-as-complication',
    'adverse-event-unlinked',
    'condition-and-adverse-event',
  ]
  const days = [1, 7, 2, 12, 1, 5, 3, 9, 0, 6, 4, 10, 1, 8, 2, 11, 3, 5, 1, 7, 2]
  const choose = (from: readonly Plan[]): Plan => {
    for (;;) {
      const plan = random.pick(from)
      if (!events.has(plan) && plan.day + 40 < asOfDay) return plan
    }
  }
  days.forEach((day, position) => {
    events.set(choose(removed), { kind: 'bleeding', day, form: forms[position % forms.length] ?? 'condition' })
  })
  events.set(choose(removed), { kind: 'bleeding', day: 30, form: 'condition' })
  events.set(choose(removed), { kind: 'bleeding', day: 31, form: 'adverse-event' })
  for (let count = 0; count < 14; count++)
    events.set(choose(removed), { kind: 'bleeding', day: 0, form: 'controlled-at-once' })
  events.set(choose(removed), { kind: 'perforation', day: 0, form: 'complication-code' })
  events.set(choose(removed), { kind: 'perforation', day: 0, form: 'adverse-event' })
  // One lies in the last half-year, which is the period that people look at first.
  events.set(choose(alone.filter(({ day }) => day >= lastHalfYear)), { kind: 'perforation', day: 1, form: 'condition' })
  events.set(choose(alone), { kind: 'perforation', day: 2, form: 'condition-as-complication' })
  events.set(choose(removed), { kind: 'perforation', day: 1, form: 'condition-and-adverse-event' })
  events.set(choose(alone), { kind: 'perforation', day: 33, form: 'adverse-event' })
  for (let count = 0; count < 2; count++) events.set(choose(alone), { kind: 'perforation', day: 0, form: 'near-miss' })

  return plans.map((plan) => {
    const event = events.get(plan)
    return event ? withEvent(plan, event) : plan
  })
}

/**
 * A patient who comes back ten days after a polypectomy, has nothing done, and bleeds two days later: the bleeding belongs
 * to the first examination, the only one that could have caused it.
 */
export function addReturnBeforeBleeding(random: Random, plans: readonly Plan[], nextNumber: number): Plan[] {
  const first = lonePlans(plans).find(
    (plan) =>
      plan.unit.id === 'ellenby' &&
      plan.row.setting === 'outpatient' &&
      plan.row.kind === 'examination' &&
      plan.row.polyps.some(({ handling }) => handling === 'removed') &&
      plan.row.pathology === 'final' &&
      plan.form.date === 'period' &&
      plan.events.length === 0,
  )
  if (!first) throw new RangeError('addReturnBeforeBleeding requires an examination with a polyp removed')
  const slot = { ...first, day: first.day + 10, setting: 'outpatient', reason: 'site-check', staged: true } as const
  for (;;) {
    const second = planExamination(random, slot, nextNumber)
    if (second.row.polyps.length > 0 || second.row.randomBiopsies > 0 || second.row.report !== 'final') continue
    const cause = withEvent(first, { kind: 'bleeding', day: 12, form: 'condition' })
    return [...plans.map((plan) => (plan === first ? cause : plan)), second]
  }
}

function withEvent(plan: Plan, event: EventPlan): Plan {
  const counts = event.form !== 'controlled-at-once' && event.form !== 'near-miss'
  const row = counts
    ? { ...plan.row, [event.kind === 'bleeding' ? 'bleedingDay' : 'perforationDay']: event.day }
    : plan.row
  return { ...plan, row, events: [...plan.events, event] }
}

/** Examinations whose patient had no other one near in time. */
function lonePlans(plans: readonly Plan[]): Plan[] {
  const ofPatient = Map.groupBy(plans, ({ patient }) => patient)
  return plans.filter((plan) =>
    (ofPatient.get(plan.patient) ?? []).every((other) => other === plan || Math.abs(other.day - plan.day) >= entangled),
  )
}

/** Civil date of an event, for whoever writes it down. */
export const eventDate = (plan: Plan, event: EventPlan): string => dateOf(plan.day + event.day)
