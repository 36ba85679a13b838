/** What may stand in an element: a type of R4, a code of one of R4's own lists, or elements within. */
export type Shape =
  | 'text'
  | 'number'
  | 'boolean'
  | 'date'
  | 'concept'
  | 'coding'
  | 'reference'
  | 'quantity'
  | 'identifier'
  | ReadonlySet<string>
  | Shapes

/** Elements by name. Whether one repeats makes no difference: a lone object is read as a list of one. */
export interface Shapes {
  readonly [name: string]: Shape
}

const codes = (words: string): ReadonlySet<string> => new Set(words.split(' '))

const period: Shapes = { start: 'date', end: 'date' }
const range: Shapes = { low: 'quantity', high: 'quantity' }

const value: Shapes = {
  valueQuantity: 'quantity',
  valueInteger: 'number',
  valueDecimal: 'number',
  valueCodeableConcept: 'concept',
  valueBoolean: 'boolean',
  valueString: 'text',
  valueRange: range,
  valuePeriod: period,
  dataAbsentReason: 'concept',
}

const effective: Shapes = { effectiveDateTime: 'date', effectivePeriod: period }

/**
 * Shapes of the elements that linkage reads, by type of resource, and the codes of elements with a required binding.
 *
 * Source: HL7 FHIR R4 (4.0.1), the definitions of the resources and of their required value sets.
 */
export const elementShapes: Readonly<Record<string, Shapes>> = {
  Patient: {
    gender: codes('male female other unknown'),
    birthDate: 'date',
    deceasedDateTime: 'date',
    deceasedBoolean: 'boolean',
    link: { other: 'reference', type: codes('replaced-by replaces refer seealso') },
  },
  Practitioner: { identifier: 'identifier' },
  PractitionerRole: { practitioner: 'reference' },
  Encounter: {
    status: codes('planned arrived triaged in-progress onleave finished cancelled entered-in-error unknown'),
    class: 'coding',
    subject: 'reference',
    period,
    partOf: 'reference',
    priority: 'concept',
    serviceProvider: 'reference',
    appointment: 'reference',
    hospitalization: { admitSource: 'concept' },
    location: { location: 'reference' },
    participant: { individual: 'reference', type: 'concept' },
  },
  Procedure: {
    identifier: 'identifier',
    status: codes('preparation in-progress not-done on-hold stopped completed entered-in-error unknown'),
    statusReason: 'concept',
    code: 'concept',
    subject: 'reference',
    encounter: 'reference',
    performedDateTime: 'date',
    performedPeriod: period,
    performer: { function: 'concept', actor: 'reference', onBehalfOf: 'reference' },
    partOf: 'reference',
    basedOn: 'reference',
    location: 'reference',
    reasonCode: 'concept',
    reasonReference: 'reference',
    bodySite: 'concept',
    report: 'reference',
    complication: 'concept',
    complicationDetail: 'reference',
    followUp: 'concept',
    usedCode: 'concept',
    usedReference: 'reference',
    focalDevice: { action: 'concept', manipulated: 'reference' },
  },
  Observation: {
    status: codes('registered preliminary final amended corrected cancelled entered-in-error unknown'),
    code: 'concept',
    subject: 'reference',
    encounter: 'reference',
    partOf: 'reference',
    ...effective,
    issued: 'date',
    performer: 'reference',
    bodySite: 'concept',
    specimen: 'reference',
    interpretation: 'concept',
    hasMember: 'reference',
    derivedFrom: 'reference',
    focus: 'reference',
    ...value,
    component: { code: 'concept', ...value },
  },
  DiagnosticReport: {
    status: codes('registered partial preliminary final amended corrected appended cancelled entered-in-error unknown'),
    category: 'concept',
    code: 'concept',
    subject: 'reference',
    encounter: 'reference',
    basedOn: 'reference',
    ...effective,
    issued: 'date',
    specimen: 'reference',
    result: 'reference',
    media: { link: 'reference' },
    conclusion: 'text',
    conclusionCode: 'concept',
    presentedForm: { data: 'text', contentType: 'text' },
  },
  Media: {
    status: codes('preparation in-progress not-done on-hold stopped completed entered-in-error unknown'),
    partOf: 'reference',
    subject: 'reference',
    encounter: 'reference',
    createdDateTime: 'date',
    createdPeriod: period,
    issued: 'date',
    bodySite: 'concept',
  },
  Specimen: {
    status: codes('available unavailable unsatisfactory entered-in-error'),
    subject: 'reference',
    request: 'reference',
    parent: 'reference',
    collection: { collectedDateTime: 'date', collectedPeriod: period, bodySite: 'concept', quantity: 'quantity' },
  },
  Condition: {
    clinicalStatus: { coding: { code: codes('active recurrence relapse inactive remission resolved') } },
    verificationStatus: {
      coding: { code: codes('unconfirmed provisional differential confirmed refuted entered-in-error') },
    },
    severity: 'concept',
    code: 'concept',
    bodySite: 'concept',
    subject: 'reference',
    encounter: 'reference',
    onsetDateTime: 'date',
    onsetPeriod: period,
    abatementDateTime: 'date',
    abatementPeriod: period,
    recordedDate: 'date',
    evidence: { detail: 'reference' },
  },
  AdverseEvent: {
    actuality: codes('actual potential'),
    event: 'concept',
    subject: 'reference',
    date: 'date',
    detected: 'date',
    recordedDate: 'date',
    resultingCondition: 'reference',
    seriousness: 'concept',
    severity: 'concept',
    outcome: 'concept',
    suspectEntity: { instance: 'reference' },
  },
  Medication: { code: 'concept' },
  MedicationAdministration: {
    status: codes('in-progress not-done on-hold completed entered-in-error stopped unknown'),
    medicationCodeableConcept: 'concept',
    medicationReference: 'reference',
    subject: 'reference',
    context: 'reference',
    partOf: 'reference',
    ...effective,
    dosage: { dose: 'quantity' },
  },
  Device: { type: 'concept' },
  ServiceRequest: {
    status: codes('draft active on-hold revoked completed entered-in-error unknown'),
    intent: codes('proposal plan directive order original-order reflex-order filler-order instance-order option'),
    doNotPerform: 'boolean',
    code: 'concept',
    subject: 'reference',
    encounter: 'reference',
    authoredOn: 'date',
    occurrenceDateTime: 'date',
    occurrencePeriod: period,
    reasonCode: 'concept',
    reasonReference: 'reference',
  },
}

/**
 * Elements without which a resource, or a part of one, cannot be placed or says nothing, by where they stand; of several with a bar
 * between them one is enough. R4 requires them, but for the codes that say what a procedure, a condition, an adverse event, an
 * order, a medication or a device is.
 */
export const neededElements: Readonly<Record<string, readonly string[]>> = {
  'Patient.link': ['other', 'type'],
  Encounter: ['status', 'class'],
  Procedure: ['status', 'code', 'subject'],
  'Procedure.performer': ['actor'],
  'Procedure.focalDevice': ['manipulated'],
  Observation: ['status', 'code'],
  'Observation.component': ['code'],
  DiagnosticReport: ['status', 'code'],
  'DiagnosticReport.media': ['link'],
  Media: ['status'],
  Condition: ['code', 'subject'],
  AdverseEvent: ['actuality', 'event', 'subject'],
  'AdverseEvent.suspectEntity': ['instance'],
  Medication: ['code'],
  MedicationAdministration: [
    'status',
    'subject',
    'medicationCodeableConcept|medicationReference',
    'effectiveDateTime|effectivePeriod',
  ],
  Device: ['type'],
  ServiceRequest: ['status', 'intent', 'code', 'subject'],
}
