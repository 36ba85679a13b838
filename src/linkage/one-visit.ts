import { addDays, readMoment } from '../fhir/dates.ts'
import { asObject } from '../fhir/json.ts'
import type { Examination } from './examinations.ts'

/** Whether an examination's encounters were for the examination alone, and no stay of days. */
export const isOfOneVisit = ({ stays, span, lastDay, zone }: Examination): boolean =>
  stays.every((stay) => {
    const period = asObject(stay.period)
    const end = readMoment(period?.end, zone)?.date
    const start = readMoment(period?.start, zone)?.date
    if (end === undefined) return asObject(stay.class)?.code === 'AMB'
    return end <= addDays(lastDay, 1) && (start === undefined || start >= addDays(span.first, -1))
  })
