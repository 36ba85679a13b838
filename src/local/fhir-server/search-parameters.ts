/** What can be searched, by resource type: the FHIR R4 parameters that this server knows, and where each one looks. */
export type ParameterKind = 'token' | 'reference' | 'date'

export interface SearchParameter {
  readonly kind: ParameterKind
  /** Elements whose values are compared; dots lead into a list or an object. */
  readonly paths: readonly string[]
  /** Types that a reference may point at. */
  readonly targets?: readonly string[]
}

const token = (...paths: string[]): SearchParameter => ({ kind: 'token', paths })
const date = (...paths: string[]): SearchParameter => ({ kind: 'date', paths })
const reference = (path: string, ...targets: string[]): SearchParameter => ({
  kind: 'reference',
  paths: [path],
  targets,
})

const subject = reference('subject', 'Patient', 'Group')
const subjectOfMore = reference('subject', 'Patient', 'Group', 'Device', 'Location')
const subjectOfSpecimen = reference('subject', 'Patient', 'Group', 'Device', 'Location', 'Substance')
const patient = reference('subject', 'Patient')
const encounter = reference('encounter', 'Encounter')
const id = token('id')

export const searchParameters: Readonly<Record<string, Readonly<Record<string, SearchParameter>>>> = {
  Procedure: {
    _id: id,
    code: token('code'),
    date: date('performedDateTime', 'performedPeriod'),
    patient,
    subject,
    encounter,
    'part-of': reference('partOf', 'Procedure', 'Observation', 'MedicationAdministration'),
    'based-on': reference('basedOn', 'ServiceRequest', 'CarePlan'),
    status: token('status'),
    category: token('category'),
  },
  Observation: {
    _id: id,
    code: token('code'),
    date: date('effectiveDateTime', 'effectivePeriod', 'effectiveInstant'),
    patient,
    subject: subjectOfMore,
    encounter,
    'part-of': reference('partOf', 'Procedure', 'MedicationAdministration', 'ImagingStudy', 'Immunization'),
    'based-on': reference('basedOn', 'ServiceRequest', 'CarePlan'),
    specimen: reference('specimen', 'Specimen'),
    status: token('status'),
    category: token('category'),
  },
  DiagnosticReport: {
    _id: id,
    code: token('code'),
    date: date('effectiveDateTime', 'effectivePeriod'),
    issued: date('issued'),
    patient,
    subject: subjectOfMore,
    encounter,
    'based-on': reference('basedOn', 'ServiceRequest', 'CarePlan'),
    specimen: reference('specimen', 'Specimen'),
    result: reference('result', 'Observation'),
    status: token('status'),
    category: token('category'),
  },
  Specimen: {
    _id: id,
    patient,
    subject: subjectOfSpecimen,
    type: token('type'),
    status: token('status'),
    collected: date('collection.collectedDateTime', 'collection.collectedPeriod'),
  },
  Encounter: {
    _id: id,
    date: date('period'),
    patient,
    subject,
    'part-of': reference('partOf', 'Encounter'),
    status: token('status'),
    class: token('class'),
  },
  Condition: {
    _id: id,
    code: token('code'),
    patient,
    subject,
    encounter,
    category: token('category'),
    'recorded-date': date('recordedDate'),
    'onset-date': date('onsetDateTime', 'onsetPeriod'),
  },
  AdverseEvent: {
    _id: id,
    date: date('date'),
    event: token('event'),
    subject: reference('subject', 'Patient', 'Practitioner'),
  },
  MedicationAdministration: {
    _id: id,
    code: token('medicationCodeableConcept'),
    patient,
    subject,
    context: reference('context', 'Encounter', 'EpisodeOfCare'),
    status: token('status'),
    'effective-time': date('effectiveDateTime', 'effectivePeriod'),
  },
  ServiceRequest: {
    _id: id,
    code: token('code'),
    patient,
    subject: subjectOfMore,
    encounter,
    'based-on': reference('basedOn', 'ServiceRequest', 'CarePlan', 'MedicationRequest'),
    specimen: reference('specimen', 'Specimen'),
    status: token('status'),
    category: token('category'),
    authored: date('authoredOn'),
  },
  CarePlan: {
    _id: id,
    patient,
    subject,
    encounter,
    'based-on': reference('basedOn', 'CarePlan'),
    'part-of': reference('partOf', 'CarePlan'),
    status: token('status'),
    category: token('category'),
    date: date('period'),
  },
  Media: {
    _id: id,
    patient,
    subject: reference(
      'subject',
      'Patient',
      'Practitioner',
      'PractitionerRole',
      'Group',
      'Device',
      'Specimen',
      'Location',
    ),
    encounter,
    'based-on': reference('basedOn', 'ServiceRequest', 'CarePlan'),
    type: token('type'),
    modality: token('modality'),
    site: token('bodySite'),
    status: token('status'),
    created: date('createdDateTime', 'createdPeriod'),
  },
  DeviceUseStatement: {
    _id: id,
    patient,
    subject,
    device: reference('device', 'Device'),
    identifier: token('identifier'),
  },
  Patient: { _id: id, gender: token('gender'), identifier: token('identifier') },
  Practitioner: { _id: id, identifier: token('identifier') },
  PractitionerRole: { _id: id, practitioner: reference('practitioner', 'Practitioner') },
  Organization: { _id: id },
  Location: { _id: id },
  Device: { _id: id },
  Medication: { _id: id, code: token('code'), status: token('status') },
}

/** Everything that lies at a path, through lists and objects. */
export function valuesAt(resource: unknown, path: string): unknown[] {
  let values: unknown[] = [resource]
  for (const name of path.split('.'))
    values = values
      .flatMap((value) =>
        typeof value === 'object' && value !== null ? (value as Record<string, unknown>)[name] : undefined,
      )
      .filter((value) => value !== undefined)
  return values
}
