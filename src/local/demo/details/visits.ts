import type { Plan } from '../plan.ts'
import type { Random } from '../random.ts'
import type { TruthDetails, TruthVisit } from '../truth-details.ts'
import type { Added, VisitPlan } from './details.ts'

/**
 * Visits to a hospital afterwards, every one of which is sent: after an event, by chance, or planned; and what is no such visit: in
 * a clinic, cancelled, or after the thirtieth day.
 *
 * @param isAlone whether the patient had no other examination soon after, and did not die: then all of them are of this one
 */
export function detailVisits(random: Random, plan: Plan, isAlone: boolean): Added {
  const { row, unit } = plan
  const visits: VisitPlan[] = []
  const add = (day: number, visit: Omit<VisitPlan, 'day' | 'minute' | 'status'>, status: VisitPlan['status']) =>
    visits.push({ day, minute: random.between(9, 20) * 60 + random.below(60), status, ...visit })
  const event = row.bleedingDay ?? row.perforationDay
  if (event !== undefined && event > 0 && random.chance(8500)) {
    add(event, { class: 'EMER' }, 'finished')
    if (random.chance(6000)) add(event + 1, { class: 'IMP', fromEmergency: true }, 'finished')
  }
  if (random.chance(110)) add(random.between(1, 30), { class: 'EMER' }, 'finished')
  if (random.chance(30)) add(random.between(1, 30), { class: 'IMP', priority: 'EM' }, 'finished')
  if (random.chance(25)) add(random.between(2, 30), { class: 'IMP' }, 'finished')
  if (random.chance(12)) add(random.between(1, 30), { class: 'OBSENC' }, 'finished')
  if (random.chance(40)) add(random.between(8, 30), { class: 'SS', priority: 'R' }, 'finished')
  if (row.polyps.some(({ nature }) => nature === 'cancer') && random.chance(5500))
    add(random.between(12, 30), { class: 'IMP', priority: 'EL' }, 'finished')
  if (random.chance(35)) add(random.between(31, 45), { class: 'EMER' }, 'finished')
  if (random.chance(25)) add(random.between(1, 30), { class: 'IMP', priority: 'EL' }, 'cancelled')
  if (random.chance(500)) add(random.between(5, 40), { class: 'AMB' }, 'finished')
  if (unit.id === 'quernford' && random.chance(30)) add(random.between(3, 28), { class: 'unmapped' }, 'finished')
  const all = isAlone ? visits : []
  return { truth: told(all), written: { visits: all } }
}

function told(visits: readonly VisitPlan[]): TruthDetails {
  const within = visits.filter((one) => one.day <= 30 && one.status === 'finished' && one.class !== 'AMB')
  const isOpen = within.some((one) => one.class === 'unmapped')
  const found = within
    .filter((one) => one.class !== 'unmapped')
    .map((one): TruthVisit => {
      const planned = isPlanned(one)
      return { day: one.day, ...(planned !== undefined && { planned }) }
    })
    .sort((one, other) => one.day - other.day)
  const unplanned = found.some(({ planned }) => planned === false)
  const mayBe = found.filter(({ planned }) => planned !== true)
  const first = mayBe.filter(({ day }) => day === mayBe[0]?.day)
  return {
    visits: isOpen ? undefined : found,
    unplannedVisit: unplanned ? true : isOpen || mayBe.length > 0 ? undefined : false,
    unplannedVisitDay: !isOpen && first.some(({ planned }) => planned === false) ? mayBe[0]?.day : undefined,
  }
}

function isPlanned(visit: VisitPlan): boolean | undefined {
  if (visit.class === 'EMER' || visit.fromEmergency || visit.priority === 'EM') return false
  return visit.priority === undefined ? undefined : true
}
