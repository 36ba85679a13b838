import type { Plan } from '../plan.ts'
import type { Random } from '../random.ts'
import { anaesthetists } from '../region.ts'
import type { Added } from './details.ts'
import { habits } from './habits.ts'

/** Whether an anaesthetist led the sedation, whatever was written of it. */
export interface Led {
  readonly byAnaesthetist: boolean
}

/**
 * Who helped a trainee and who led the sedation. One unit names the anaesthetist among the performers, one answers a question, one
 * writes it down only where it was so.
 */
export function detailPeople(random: Random, plan: Plan): Added & Led {
  const { unit, row, form } = plan
  const habit = habits[unit.id]
  const led =
    form.performer === 'person' && random.chance(row.setting === undefined || row.setting === 'outpatient' ? 120 : 650)
  const { number } = random.pick(anaesthetists)
  const isSaid = random.chance(habit.anaesthetistLed) && (led || unit.id === 'tarnhollow')
  const help = random.weighted([
    ['none', 55],
    ['verbal', 33],
    ['hands-on', 12],
  ] as const)
  const isHelpSaid = row.operatorRole === 'trainee' && random.chance(habit.takeover)
  return {
    byAnaesthetist: led,
    truth: { anaesthetistLed: isSaid ? led : undefined, takeover: isHelpSaid ? help : undefined },
    written: { anaesthetist: led && unit.id === 'ellenby' ? number : undefined },
  }
}
