import { isKnownBy, readMoment, spanOf } from '../fhir/dates.ts'
import { asObject, asObjects, asText, type Json } from '../fhir/json.ts'
import { ownKey, referenceKey } from '../fhir/references.ts'
import { eventKinds } from '../record/afterwards.ts'
import { conditionDates, noLaterThan } from './condition-dates.ts'
import { isRefuted, isUnconfirmed, onsetOf } from './conditions.ts'
import { suspectedBy } from './suspects.ts'
import { elsewhereOf, from, isOfOurs, missUnknown, type Telling, zoneOf } from './telling.ts'
import { kindsOf, severityOf, type ToldEvent, tellsOfNoEvent, type When, whenOf, worst } from './told-event.ts'

/**
 * Reads one adverse event with the conditions that resulted from it: together they tell of one event, of one kind or more.
 *
 * @param told takes what it tells: nothing where it was only potential
 * @param taken takes the keys of the conditions, which tell nothing by themselves any more
 */
export function readAdverseEvent(event: Json, telling: Telling, told: ToldEvent[], taken: Set<string>): void {
  const { reading, ladder, patientKey, byProcedures, isKnownCondition } = telling
  const { resources, codes, source, asOf, survey } = reading
  const conditions: Json[] = []
  const lost: string[] = []
  for (const reference of asObjects(event.resultingCondition)) {
    const condition = resources.at(referenceKey(reference))
    if (condition !== undefined) conditions.push(condition)
    else lost.push('AdverseEvent.resultingCondition')
  }
  const keys = conditions.map(ownKey)
  const subject = event.subject ?? conditions[0]?.subject
  const patient = patientKey(subject)
  const suspected = suspectedBy(event, { resources, codes, ladder })
  if (suspected.isLost) lost.push('AdverseEvent.suspectEntity.instance')
  const named = suspected.examinations.length > 0 ? suspected.examinations : from(byProcedures.detailed, keys)
  const all = ladder.ofPatient(patient)
  const written = event.date ?? event.detected
  const zone = named[0]?.zone ?? zoneOf(all, written ?? conditions.map(onsetOf)[0], source.zone)
  if (!isKnownBy(asText(event.recordedDate) ?? written, asOf, zone)) return
  for (const key of keys) if (key !== undefined) taken.add(key)
  if (event.actuality === 'potential') return

  const results = conditions.filter((one) => !isRefuted(one) && isKnownCondition(one, zone))
  const own = kindsOf(event.event, codes)
  const kinds = eventKinds.filter((kind) => own.includes(kind) || results.some(({ code }) => codes.in(code, kind)))
  const concepts = [event.event, ...results.map(({ code }) => code)]
  // What resulted and did not come may have been of any kind, whatever the event is called.
  const isLost = lost.includes('AdverseEvent.resultingCondition')
  const isNone = kinds.length === 0 && !isLost && concepts.some((concept) => tellsOfNoEvent(concept, codes))
  const when = whenItWas(event, results, zone)
  if (survey && isOfOurs(named, when, all)) {
    for (const element of lost) survey.deadEnd(element, event)
    if (kinds.length === 0 && !isNone) survey.missed('AdverseEvent.event', event.event, patient)
    if (kinds.length > 0) {
      missUnknown(event, ['severity', 'outcome', 'seriousness'], patient, codes, survey)
      for (const one of results) missUnknown(one, ['severity'], patient, codes, survey)
    }
  }
  if (isNone) return
  for (const kind of kinds.length > 0 ? kinds : [undefined]) {
    const ofKind = kind === undefined ? [] : results.filter(({ code }) => codes.in(code, kind))
    const isOwn = kind === undefined || own.includes(kind)
    told.push({
      resource: event,
      element: isOwn ? 'AdverseEvent.event' : 'AdverseEvent.resultingCondition',
      kind,
      named,
      other: suspected.other ?? elsewhereOf(byProcedures, keys),
      rung: 'direct reference',
      subject,
      encounter: referenceKey(event.encounter),
      when,
      minor: isMinor(event),
      isSuspicion: !isOwn && ofKind.every(isUnconfirmed),
      severity: worst([
        severityOf(event.severity, codes),
        severityOf(event.outcome, codes),
        ...ofKind.map(({ severity }) => severityOf(severity, codes)),
      ]),
      reasonFor: from(byProcedures.reasons, keys),
    })
  }
}

/** Its date, its detection, or the onset of what resulted from it. What was recorded then had happened on some day before. */
function whenItWas(event: Json, results: readonly Json[], zone: string): When | undefined {
  const dated = whenOf([event.date, event.detected, ...results.map(onsetOf)], zone)
  if (dated !== undefined) return dated
  const recorded = readMoment(event.recordedDate, zone)
  const by = results.flatMap((one) => conditionDates(one, undefined, zone).by)
  return noLaterThan(recorded === undefined ? by : [spanOf(recorded), ...by])
}

/** Immediate bleeding is told apart from one with consequences by AdverseEvent.seriousness (R4: `Non-serious`). */
const isMinor = (event: Json): boolean =>
  asObjects(asObject(event.seriousness)?.coding).some(({ code }) => code === 'Non-serious' || code === 'non-serious')
