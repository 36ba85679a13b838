import type { Source } from '../../config.ts'
import type { Rung } from '../../linkage/rungs.ts'

/** What each rung of the ladder says, for whoever sends the resources. */
export const rungMeanings: Readonly<Record<Rung, string>> = {
  'own element': 'An element of the colonoscopy’s own Procedure.',
  'direct reference':
    'A reference between the two: partOf of an Observation, Media, sub-procedure or MedicationAdministration; Procedure.report, which may name pathology too; the specimen of a polyp or a report; suspectEntity of an AdverseEvent; the subject’s own Patient.',
  'shared order': 'Both are based on one ServiceRequest (of a specimen: request), and the dates fit.',
  'shared encounter':
    'Both are of one Encounter, and what is dated falls on the examination’s days (pathology: within its lag).',
  'same patient within the time window':
    'One patient, dates that fit, no encounter that says otherwise, and no other examination that fits as well. Observations, drugs and pictures, polypectomies and tattoos: the very day. Pathology of the large bowel: the day of collection, else within the lag. Events: the latest examination before.',
  'record of the same patient':
    'A resource of the patient that belongs to no examination; its dates decide whether it was there before, or came after.',
  'read from free text': 'Words, of a source that has its text read.',
  'final report in a complete feed': 'Nothing of the kind, and the examination’s report is final.',
  'completed examination without a report, in a complete feed':
    'Nothing of the kind, and the source sends no report of the examination.',
  'nothing found in a complete feed': 'Nothing of the kind, in a feed that the source declares complete.',
  'inferred from pathology': 'Follows from specimens or their histology.',
  'inferred from the procedure code': 'The code of the Procedure itself says it.',
  'inferred from the status': 'Follows from Procedure.status.',
  'inferred from the stop reason': 'Follows from Procedure.statusReason.',
  'inferred from the extent': 'Follows from the deepest point reached.',
  'inferred from the findings': 'Follows from what else is recorded of the examination.',
  'inferred from the history': 'Follows from what was known before.',
  'inferred from who led the sedation': 'Follows from an anaesthetist among the performers.',
  'default: no limitation stated': 'Nothing is said against it.',
}

/** What each setting of a source does. */
export const settingMeanings: Readonly<Record<keyof Source, string>> = {
  id: 'Name of the source, in reports and in keys.',
  baseUrl: 'Base address of its FHIR server.',
  zone: 'IANA time zone in which civil dates are decided, such as Europe/London.',
  units:
    'Its units, each with id, name, zone where it has its own, and match: the references by which it is recognised.',
  practitionerSystem:
    'Identifier system of its people: two Practitioner resources with one identifier of that system are one person.',
  completeFeeds: 'Kinds of fact of which it sends every one, so that silence means none.',
  pathologyLagDays: 'Days after which histology that has not come is missing, not pending; 60 by default.',
  eventLagDays: 'Days after the event window within which an event may still arrive; 0 by default.',
  eventsKnownBy: 'How events become known: own-hospital, call-back, register, not-stated.',
  readsText: 'Whether its free text is read; false by default.',
  comfortMap: 'What a comfort score from 0 to 4 is on the scale from 1 to 5, score by score.',
  conceptMaps: 'Its own codes, mapped to codes of this guide.',
}
