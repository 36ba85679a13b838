import { isKnownBy } from '../fhir/dates.ts'
import { asText, type Json } from '../fhir/json.ts'
import { ownKey, referenceKey } from '../fhir/references.ts'
import { beganIn } from './condition-dates.ts'
import { isRefuted, isUnconfirmed, onsetOf } from './conditions.ts'
import type { Examination } from './examinations.ts'
import type { Ladder } from './ladder.ts'
import type { PatientKey } from './patients.ts'
import type { Reading } from './reading.ts'
import { elsewhereOf, from, isOfOurs, missUnknown, type Telling, zoneOf } from './telling.ts'
import { readAdverseEvent } from './told-by-adverse-event.ts'
import { readTellingProcedures } from './told-by-procedures.ts'
import { type EventKind, kindsOf, onTheDay, severityOf, type ToldEvent, type When } from './told-event.ts'

/**
 * Reads the events known by the as-of instant. An adverse event and the conditions that resulted from it are one event; so
 * nothing is told by a condition whose adverse event was only potential. Dates are read in the zone of the examination that an
 * event may be of.
 */
export function readToldEvents(reading: Reading, ladder: Ladder, patientKey: PatientKey): readonly ToldEvent[] {
  const { resources, procedures, codes, asOf, survey } = reading
  const told: ToldEvent[] = []
  const isKnownCondition = (condition: Json, zone: string) =>
    isKnownBy(asText(condition.recordedDate) ?? onsetOf(condition), asOf, zone)
  const byProcedures = readTellingProcedures({ resources, procedures, codes, survey, isKnownCondition }, ladder, told)
  const telling: Telling = { reading, ladder, patientKey, byProcedures, isKnownCondition }
  const taken = new Set<string>()
  for (const event of resources.ofType('AdverseEvent')) readAdverseEvent(event, telling, told, taken)
  for (const condition of resources.ofType('Condition')) {
    const kinds = kindsOf(condition.code, codes)
    if (kinds.length > 0 && !taken.has(ownKey(condition) ?? '')) readCondition(condition, kinds, telling, told)
  }
  return told
}

function readCondition(condition: Json, kinds: readonly EventKind[], telling: Telling, told: ToldEvent[]): void {
  const { reading, ladder, patientKey, byProcedures, isKnownCondition } = telling
  const { resources, codes, source, survey } = reading
  const { subject, recordedDate, severity } = condition
  const keys = [ownKey(condition)]
  const patient = patientKey(subject)
  const all = ladder.ofPatient(patient)
  const named = from(byProcedures.detailed, keys)
  const zone = named[0]?.zone ?? zoneOf(all, onsetOf(condition) ?? recordedDate, source.zone)
  if (isRefuted(condition) || !isKnownCondition(condition, zone)) return
  const dated = beganIn(condition, resources.at(patient)?.birthDate, zone, named.length > 0)
  // Of a complication that has no date at all nothing says that it was later.
  const when = dated ?? (hasNoDate(condition) ? onTheDay(named) : undefined)
  if (survey && isOfOurs(named, when, all)) missUnknown(condition, ['severity'], patient, codes, survey)
  for (const kind of kinds)
    told.push({
      resource: condition,
      element: 'Condition.code',
      kind,
      named,
      other: elsewhereOf(byProcedures, keys),
      rung: 'direct reference',
      subject,
      encounter: referenceKey(condition.encounter),
      when,
      minor: false,
      isSuspicion: isUnconfirmed(condition),
      severity: severityOf(severity, codes),
      reasonFor: [
        ...from(byProcedures.reasons, keys),
        ...(byProcedures.reasonKinds.get(kind) ?? []).filter((one) => all.includes(one) && isOnOrBefore(when, one)),
      ],
    })
}

const hasNoDate = (condition: Json): boolean =>
  Object.keys(condition).every(
    (name) => !name.startsWith('onset') && !name.startsWith('abatement') && name !== 'recordedDate',
  )

/** Whether something is of the examination's day at the latest, and not certainly of a time after its start. */
function isOnOrBefore(when: When | undefined, { span, start }: Examination): boolean {
  if (when === undefined || when.last > span.first) return false
  return when.last < span.first || when.instant === undefined || start === undefined || when.instant < start
}
