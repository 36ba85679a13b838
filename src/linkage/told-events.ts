import type { Codes } from '../fhir/codes.ts'
import { isKnownBy } from '../fhir/dates.ts'
import { asObject, asObjects, asText, type Json } from '../fhir/json.ts'
import { unknownMeaning } from '../fhir/meaning.ts'
import { ownKey, referenceKey } from '../fhir/references.ts'
import { eventKinds } from '../record/afterwards.ts'
import { isRefuted, onsetOf } from './conditions.ts'
import type { Examination } from './examinations.ts'
import type { Ladder } from './ladder.ts'
import type { PatientKey } from './patients.ts'
import type { Reading } from './reading.ts'
import type { Survey } from './survey.ts'
import { readTellingProcedures } from './told-by-procedures.ts'
import {
  kindsOf,
  onTheDay,
  severityOf,
  type ToldEvent,
  tellsOfNoEvent,
  type When,
  whenOf,
  worst,
} from './told-event.ts'

export interface ToldEvents {
  readonly told: readonly ToldEvent[]
  /** Examinations of which something was told that no code we know names: it may have been of any kind, or none of ours. */
  readonly unknown: ReadonlySet<Examination>
}

/**
 * Reads the events known by the as-of instant. An adverse event and the conditions that resulted from it are one event; so
 * nothing is told by a condition whose adverse event was only potential.
 */
export function readToldEvents(
  { resources, codes, source, asOf, survey }: Reading,
  ladder: Ladder,
  patientKey: PatientKey,
): ToldEvents {
  const told: ToldEvent[] = []
  const isKnown = (recorded: unknown, when: unknown) => isKnownBy(asText(recorded) ?? when, asOf, source.zone)
  const isKnownCondition = (condition: Json) => isKnown(condition.recordedDate, onsetOf(condition))
  const { detailed, reasons, unknown } = readTellingProcedures(
    { resources, codes, survey, isKnownCondition },
    ladder,
    told,
  )

  const ofAdverseEvents = new Set<string>()
  for (const event of resources.ofType('AdverseEvent')) {
    if (!isKnown(event.recordedDate, event.date ?? event.detected)) continue
    const results: Json[] = []
    const lost: string[] = []
    for (const reference of asObjects(event.resultingCondition)) {
      const key = referenceKey(reference)
      const condition = resources.at(key)
      if (key === undefined || condition === undefined) {
        lost.push('AdverseEvent.resultingCondition')
        continue
      }
      ofAdverseEvents.add(key)
      if (!isRefuted(condition) && isKnownCondition(condition)) results.push(condition)
    }
    if (event.actuality === 'potential') continue
    const keys = results.map(ownKey)
    const suspected = asObjects(event.suspectEntity).map(({ instance }) => referenceKey(instance))
    // A drug or a device may be suspected as well, and needs not come.
    if (suspected.some((one) => one?.startsWith('Procedure/') && resources.at(one) === undefined))
      lost.push('AdverseEvent.suspectEntity.instance')
    const suspects = examinationsAt(suspected, ladder)
    const named = suspects.length > 0 ? suspects : from(detailed, keys)
    const own = kindsOf(event.event, codes)
    const found = eventKinds.filter((kind) => own.includes(kind) || results.some(({ code }) => codes.in(code, kind)))
    const zone = named[0]?.zone ?? source.zone
    const dates = [event.date, event.detected, ...results.flatMap((one) => [onsetOf(one), one.recordedDate])]
    const when = whenOf(dates, zone) ?? whenOf([event.recordedDate], zone)
    const subject = event.subject ?? results[0]?.subject
    const isOurs = survey !== undefined && isOfOurs(named, when, ladder.ofPatient(patientKey(subject)))
    if (isOurs) for (const element of lost) survey.deadEnd(element, event)
    if (found.length === 0 && !tellsOfNoEvent(event.event, codes)) {
      for (const examination of named) unknown.add(examination)
      if (isOurs) survey.missed('AdverseEvent.event', event.event, patientKey(subject))
    }
    if (isOurs && found.length > 0) {
      missUnknown(event, ['severity', 'outcome', 'seriousness'], patientKey(subject), codes, survey)
      for (const one of results) missUnknown(one, ['severity'], patientKey(subject), codes, survey)
    }
    for (const kind of found)
      told.push({
        resource: event,
        element: own.includes(kind) ? 'AdverseEvent.event' : 'AdverseEvent.resultingCondition',
        kind,
        named,
        rung: 'direct reference',
        subject,
        when,
        minor: isMinor(event),
        severity: worst([
          severityOf(event.severity, codes),
          severityOf(event.outcome, codes),
          ...results.filter(({ code }) => codes.in(code, kind)).map(({ severity }) => severityOf(severity, codes)),
        ]),
        reasonFor: from(reasons, keys),
      })
  }

  for (const condition of resources.ofType('Condition')) {
    const found = kindsOf(condition.code, codes)
    if (found.length === 0 || isRefuted(condition) || !isKnownCondition(condition)) continue
    const key = ownKey(condition)
    if (key !== undefined && ofAdverseEvents.has(key)) continue
    const named = from(detailed, [key])
    const dates = [onsetOf(condition), condition.recordedDate]
    const zone = named[0]?.zone ?? source.zone
    const when = whenOf(dates, zone)
    if (survey && isOfOurs(named, when, ladder.ofPatient(patientKey(condition.subject))))
      missUnknown(condition, ['severity'], patientKey(condition.subject), codes, survey)
    for (const kind of found)
      told.push({
        resource: condition,
        element: 'Condition.code',
        kind,
        named,
        rung: 'direct reference',
        subject: condition.subject,
        when: when ?? (dates.every((date) => date === undefined) ? onTheDay(named) : undefined),
        minor: false,
        severity: severityOf(condition.severity, codes),
        reasonFor: from(reasons, [key]),
      })
  }
  return { told, unknown }
}

/** Codes of R4 that say something, if nothing of how severe an event was. */
const ofNoSeverity: ReadonlySet<unknown> = new Set([
  ...['resolved', 'recovering', 'ongoing', 'resolvedWithSequelae', 'unknown'],
  ...['Serious', 'serious', 'Non-serious', 'non-serious'],
])

/** Takes down those of some elements of an event that are stated by no code we know. */
function missUnknown(
  resource: Json,
  elements: readonly string[],
  patient: string | undefined,
  codes: Codes,
  survey: Survey,
): void {
  for (const element of elements) {
    const concept = resource[element]
    if (codes.of(concept) !== unknownMeaning) continue
    if (!asObjects(asObject(concept)?.coding).some(({ code }) => ofNoSeverity.has(code)))
      survey.missed(`${String(resource.resourceType)}.${element}`, concept, patient)
  }
}

/** Immediate bleeding is told apart from one with consequences by AdverseEvent.seriousness (R4: `Non-serious`). */
const isMinor = (event: Json): boolean =>
  asObjects(asObject(event.seriousness)?.coding).some(({ code }) => code === 'Non-serious' || code === 'non-serious')

/**
 * Whether an event is this window's to list as not understood, so that it is listed once however a period is split: it names
 * an examination that the window owns, or else the window owns the patient's latest one before it.
 */
function isOfOurs(named: readonly Examination[], when: When | undefined, all: readonly Examination[]): boolean {
  if (named.length > 0) return named[0]?.owned === true
  return all.findLast(({ span }) => when === undefined || span.first <= when.last)?.owned === true
}

function examinationsAt(keys: readonly (string | undefined)[], ladder: Ladder): Examination[] {
  const found = new Set<Examination>()
  for (const key of keys) {
    const examination = ladder.direct(key)
    if (examination) found.add(examination)
  }
  return [...found]
}

const from = (map: ReadonlyMap<string, Examination[]>, keys: readonly (string | undefined)[]): Examination[] => [
  ...new Set(keys.flatMap((key) => (key === undefined ? [] : (map.get(key) ?? [])))),
]
