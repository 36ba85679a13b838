import { daysBetween, isKnownBy, readMoment, spanOf } from '../fhir/dates.ts'
import type { Json } from '../fhir/json.ts'
import type { Colonoscopy } from '../record/colonoscopy.ts'
import { type Examination, sawFeed } from './examinations.ts'
import type { Reading } from './reading.ts'

type Death = Pick<Colonoscopy, 'death' | 'deathDay'>

/**
 * Whether the patient has died, and how many days after the examination. A death after the as-of instant is not known yet. One
 * that is dated before the examination contradicts it: neither fact is recorded.
 *
 * @param patient undefined where the patient's resource did not come, which says nothing of a death
 */
export function readDeath(examination: Examination, patient: Json | undefined, reading: Reading): Death {
  const { trail } = examination
  if (patient === undefined) return { death: undefined, deathDay: undefined }
  const { deceasedDateTime, deceasedBoolean } = patient
  if (deceasedDateTime !== undefined) {
    sawFeed(examination, 'deaths')
    const moment = readMoment(deceasedDateTime, examination.zone)
    if (moment === undefined) {
      trail?.cannotRead('death', patient, 'Patient.deceasedDateTime')
      return { death: undefined, deathDay: undefined }
    }
    if (isKnownBy(deceasedDateTime, reading.asOf, examination.zone)) {
      const { span, start } = examination
      const { first, last } = spanOf(moment)
      if (last < span.first || (start !== undefined && moment.instant !== undefined && moment.instant < start)) {
        trail?.contradict('death before the examination', patient, ...examination.all)
        return { death: undefined, deathDay: undefined }
      }
      const isDated = first === last && span.first === span.last
      trail?.note('death', patient, 'direct reference', 'Patient.deceasedDateTime')
      if (isDated) trail?.note('deathDay', patient, 'direct reference', 'Patient.deceasedDateTime')
      return { death: true, deathDay: isDated ? daysBetween(span.first, first) : undefined }
    }
  } else if (deceasedBoolean === true || deceasedBoolean === false) {
    sawFeed(examination, 'deaths')
    trail?.note('death', patient, 'direct reference', 'Patient.deceasedBoolean')
    return { death: deceasedBoolean, deathDay: undefined }
  } else if (deceasedBoolean !== undefined || patient._deceasedDateTime || patient._deceasedBoolean) {
    // Something was said of a death, be it only why its date is absent: silence would be read as life.
    trail?.cannotRead('death', patient, 'Patient.deceased[x]')
    return { death: undefined, deathDay: undefined }
  }
  if (!reading.complete('deaths')) return { death: undefined, deathDay: undefined }
  trail?.note('death', undefined, 'nothing found in a complete feed', 'Patient.deceased[x]')
  return { death: false, deathDay: undefined }
}
