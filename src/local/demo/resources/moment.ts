import { londonTime, utcTime } from '../calendar.ts'
import type { Plan } from '../plan.ts'

/** One unit writes every moment in UTC, the others with London's offset. */
export function moment(plan: Plan, day: number, minute: number): string {
  return plan.unit.id === 'quernford' ? utcTime(day, minute) : londonTime(day, minute)
}
