import { daysBetween, isKnownBy, type Moment, readMoment, spanOf } from '../fhir/dates.ts'
import type { Json } from '../fhir/json.ts'
import type { Colonoscopy } from '../record/colonoscopy.ts'
import { type Examination, sawFeed } from './examinations.ts'
import type { Reading } from './reading.ts'

type Death = Pick<Colonoscopy, 'death' | 'deathDay'>

const notRecorded: Death = { death: undefined, deathDay: undefined }

/** What one of the patient's records says. */
type Said = { readonly patient: Json; readonly death: Moment | boolean | 'unreadable' }

/**
 * Whether the patient has died, and how many days after the examination. A death after the as-of instant is not known yet. One
 * that is dated before the examination contradicts it: neither fact is recorded.
 *
 * Of merged records one that says that the patient died is enough, unless the surviving one says that the patient lives; a
 * replaced one may have said so before the death. Where their dates differ, the day is not recorded.
 *
 * @param patients every record of the patient, the surviving one first; none says nothing of a death
 */
export function readDeath(examination: Examination, patients: readonly Json[], reading: Reading): Death {
  const { trail } = examination
  if (patients.length === 0) return notRecorded
  const said = patients.flatMap((patient) => saidBy(patient, examination, reading))
  if (said.length === 0) {
    if (!reading.complete('deaths')) return notRecorded
    trail?.note('death', undefined, 'nothing found in a complete feed', 'Patient.deceased[x]')
    return { death: false, deathDay: undefined }
  }
  sawFeed(examination, 'deaths')
  const deaths = said.filter(({ death }) => death !== false)
  const [first] = deaths
  if (first === undefined) {
    for (const { patient } of said) trail?.note('death', patient, 'direct reference', 'Patient.deceasedBoolean')
    return { death: false, deathDay: undefined }
  }
  if (said.some(({ patient, death }) => death === false && patient === patients[0])) {
    trail?.contradict('two different values of one measurement', ...said.map(({ patient }) => patient))
    return notRecorded
  }
  return readDeaths(deaths, examination)
}

/** Nothing where it says nothing, or tells of a death that is not known yet. */
function saidBy(patient: Json, { zone }: Examination, { asOf }: Reading): Said[] {
  const { deceasedDateTime, deceasedBoolean } = patient
  if (deceasedDateTime !== undefined) {
    const moment = readMoment(deceasedDateTime, zone)
    if (moment !== undefined && !isKnownBy(deceasedDateTime, asOf, zone)) return []
    return [{ patient, death: moment ?? 'unreadable' }]
  }
  if (deceasedBoolean === true || deceasedBoolean === false) return [{ patient, death: deceasedBoolean }]
  // Something was said of a death, be it only why its date is absent: silence would be read as life.
  const isHinted = deceasedBoolean !== undefined || patient._deceasedDateTime || patient._deceasedBoolean
  return isHinted ? [{ patient, death: 'unreadable' }] : []
}

function readDeaths(deaths: readonly Said[], examination: Examination): Death {
  const { span, start, trail } = examination
  const days = new Set<number>()
  let isKnown = false
  for (const { patient, death } of deaths) {
    const dated = typeof death === 'object'
    const element = dated ? 'Patient.deceasedDateTime' : 'Patient.deceasedBoolean'
    if (death === 'unreadable') {
      trail?.cannotRead('death', patient, 'Patient.deceased[x]')
      continue
    }
    isKnown = true
    if (dated) {
      const { first, last } = spanOf(death)
      if (last < span.first || (start !== undefined && death.instant !== undefined && death.instant < start)) {
        trail?.contradict('death before the examination', patient, ...examination.all)
        return notRecorded
      }
      if (first === last && span.first === span.last) days.add(daysBetween(span.first, first))
    }
    trail?.note('death', patient, 'direct reference', element)
  }
  if (!isKnown) return notRecorded
  const [day] = days
  if (days.size > 1) {
    trail?.contradict('two different values of one measurement', ...deaths.map(({ patient }) => patient))
    return { death: true, deathDay: undefined }
  }
  for (const { patient, death } of deaths)
    if (day !== undefined && typeof death === 'object' && death.date !== undefined)
      trail?.note('deathDay', patient, 'direct reference', 'Patient.deceasedDateTime')
  return { death: true, deathDay: day }
}
