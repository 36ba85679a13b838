import type { Plan } from '../plan.ts'
import type { Random } from '../random.ts'
import type { Severity, TruthDetails } from '../truth-details.ts'
import type { Added } from './details.ts'

/** Severity of the events that somebody reported as such, and a few events of the heart and lungs on the day. */
export function detailEvents(random: Random, { row, events }: Plan): Added {
  const severity = random.chance(7000) ? severityOf(random) : undefined
  const isCardiopulmonary = random.chance(14)
  const graded = random.chance(6000) ? severityOf(random) : undefined
  const isReported = events.some(({ form }) => form.includes('adverse-event'))
  const stated = isReported ? severity : undefined
  const count = [row.bleedingDay, row.perforationDay].filter((day) => day !== undefined).length
  const truth: TruthDetails = {
    eventCount: count + Number(isCardiopulmonary),
    bleedingSeverity: row.bleedingDay === undefined ? undefined : stated,
    perforationSeverity: row.perforationDay === undefined ? undefined : stated,
    cardiopulmonaryEvent: isCardiopulmonary,
    cardiopulmonaryEventDay: isCardiopulmonary ? 0 : undefined,
  }
  return {
    truth,
    written: { severity: stated, ...(isCardiopulmonary && { cardiopulmonary: graded ? { severity: graded } : {} }) },
  }
}

const severityOf = (random: Random): Severity =>
  random.weighted([
    ['mild', 50],
    ['moderate', 38],
    ['severe', 12],
  ] as const)
