/**
 * Every fact of the colonoscopy record: its type, its meaning, its unit, what fills it, and which feed makes its
 * absence mean something. The TypeScript type (`colonoscopy.ts`), the published logical model
 * (`measures/StructureDefinition-colonoscopy.json`) and the type check of the criteria are all made from this table, so they cannot
 * drift apart.
 *
 * An absent field always means *not recorded*, never *no*. Rules that keep three-valued logic honest: every list has a
 * scalar count beside it, and a fact over a list ("every segment at least 2") is a scalar made in linkage.
 */

/** A kind of fact whose absence from a *complete* feed means "none". */
export const feedKinds = ['polyps', 'pathology', 'history', 'events', 'deaths', 'visits', 'photographs'] as const
export type FeedKind = (typeof feedKinds)[number]

export type FieldType = 'string' | 'boolean' | 'integer' | 'decimal' | 'date' | 'code' | 'list'

export interface Field {
  readonly type: FieldType
  /** What it means, in one sentence; the unit where it has one. */
  readonly short: string
  /** What fills it, and what *not recorded* looks like. */
  readonly filledBy: string
  /** UCUM unit of a number. */
  readonly unit?: string
  /** The allowed words of a `code`. */
  readonly values?: readonly string[]
  /** The fields of one element of a `list`. */
  readonly of?: Readonly<Record<string, Field>>
  /** The feed this fact depends on: where a source never sends it, a measure that needs it is *not available*. */
  readonly feed?: FeedKind
}

export const referralReasons = [
  'known-lesion',
  'site-check',
  'positive-screening-test',
  'surveillance',
  'symptoms-positive-test',
  'symptoms',
  'screening',
] as const

export const bowelSites = [
  'anal-canal',
  'rectum',
  'rectosigmoid',
  'sigmoid',
  'descending',
  'splenic-flexure',
  'transverse',
  'hepatic-flexure',
  'ascending',
  'caecum',
  'ileum',
  'anastomosis',
] as const

export const histologyClasses = [
  'conventional-adenoma',
  'traditional-serrated-adenoma',
  'sessile-serrated-lesion',
  'hyperplastic',
  'cancer',
  'other',
] as const

export const polypFields = {
  site: {
    type: 'code',
    values: bowelSites,
    short: 'Segment in which the polyp lay.',
    filledBy: 'Observation.bodySite of the polyp, or of its specimen.',
  },
  sizeMillimetres: {
    type: 'decimal',
    unit: 'mm',
    short: 'Largest diameter as estimated or measured at endoscopy.',
    filledBy: 'Size component or observation; cm is converted. A bound such as "<5 mm" is not a size.',
  },
  handling: {
    type: 'code',
    values: ['removed', 'biopsied', 'left'],
    short: 'What was done with it.',
    filledBy: 'Handling component, or a polypectomy that refers to the polyp.',
  },
  retrieval: {
    type: 'code',
    values: ['retrieved', 'not-retrieved', 'discarded-under-protocol'],
    short: 'Whether tissue was recovered for histology.',
    filledBy: 'Retrieval component, or a specimen that belongs to the polyp.',
  },
  histology: {
    type: 'code',
    values: histologyClasses,
    feed: 'pathology',
    short:
      'Histology class of the polyp, from a final pathology report only; a prediction at endoscopy is never histology.',
    filledBy: 'Final pathology result of the polyp’s specimen.',
  },
} as const satisfies Record<string, Field>

export const fields = {
  // --- who, when, where
  procedure: {
    type: 'string',
    short: 'Procedure resource of the examination, as Type/id.',
    filledBy: 'The Procedure itself; of several resources of one examination, the one that carries most.',
  },
  source: { type: 'string', short: 'Configured source the examination was read from.', filledBy: 'Configuration.' },
  unit: {
    type: 'string',
    short: 'Unit in which it was done.',
    filledBy:
      'The source’s unit rules, in order: Procedure.location, Encounter.location, Encounter.serviceProvider, performer.onBehalfOf. Absent: unit unassigned.',
  },
  examinationDate: {
    type: 'date',
    short: 'Civil date on which the examination began, in the unit’s time zone.',
    filledBy:
      'Start of Procedure.performedPeriod or performedDateTime. Absent when the date is missing or coarser than a day.',
  },
  age: {
    type: 'integer',
    unit: 'a',
    short: 'Age in whole years on the examination date.',
    filledBy: 'Patient.birthDate, when it is precise enough to decide the year of age.',
  },
  sex: {
    type: 'code',
    values: ['female', 'male', 'other', 'unknown'],
    short: 'Administrative gender.',
    filledBy: 'Patient.gender.',
  },
  operator: {
    type: 'string',
    short: 'Key of the person who performed it: identifier system and value, else source and id; never the name.',
    filledBy:
      'Procedure.performer, through PractitionerRole; else the encounter’s only performing participant. Absent: unattributed.',
  },
  supervisor: {
    type: 'string',
    short: 'Key of the supervising person.',
    filledBy: 'Procedure.performer whose function is a supervisor.',
  },
  supervisorInRoom: {
    type: 'boolean',
    short: 'Whether the supervisor was in the room.',
    filledBy: 'The supervisor’s function code.',
  },
  operatorRole: {
    type: 'code',
    values: ['independent', 'trainee'],
    short: 'Whether the operator was in training.',
    filledBy: 'The operator’s function code.',
  },
  setting: {
    type: 'code',
    values: ['outpatient', 'inpatient', 'emergency'],
    short: 'Setting of the encounter.',
    filledBy: 'Encounter.class.',
  },

  // --- why
  reasonCount: {
    type: 'integer',
    short: 'Number of different reasons stated.',
    filledBy: 'Procedure.reasonCode, reasonReference and the order’s reasons.',
  },
  referralReason: {
    type: 'code',
    values: referralReasons,
    short:
      'The one referral reason, by this precedence of all stated: known lesion, site check, positive screening test, surveillance, symptoms with a positive stool test, symptoms, screening.',
    filledBy:
      'Procedure.reasonCode, reasonReference, the ServiceRequest’s reasons; else a procedure code that itself says screening.',
  },
  intent: {
    type: 'code',
    values: ['complete', 'limited'],
    short: 'Whether the whole colon was meant to be examined.',
    filledBy: 'Stated limitation; a colonoscopy without one was meant to be complete (an inference the trail names).',
  },

  // --- history recorded beforehand
  inflammatoryBowelDisease: {
    type: 'boolean',
    feed: 'history',
    short: 'Inflammatory bowel disease recorded before the examination.',
    filledBy:
      'Condition with onset or recording before the examination date. Not recorded where its dates cannot decide that. False only in a complete history feed.',
  },
  hereditarySyndrome: {
    type: 'boolean',
    feed: 'history',
    short: 'Polyposis or hereditary colorectal cancer syndrome recorded before the examination.',
    filledBy:
      'Condition with onset or recording before the examination date. Not recorded where its dates cannot decide that. False only in a complete history feed.',
  },
  earlierResection: {
    type: 'boolean',
    feed: 'history',
    short: 'Part of the colon or rectum resected before the examination.',
    filledBy:
      'Condition with onset or recording before the examination date; a completed Procedure dated before it, where one is among what was read (no search asks for it). Not recorded where the dates cannot decide that. False only in a complete history feed.',
  },

  // --- course
  report: {
    type: 'code',
    values: ['preliminary', 'final'],
    short: 'State of the examination’s own report; preliminary means that nothing the report says is settled yet.',
    filledBy: 'Status of the report in Procedure.report, or of a colonoscopy report of the same encounter.',
  },
  completion: {
    type: 'code',
    values: ['completed', 'stopped'],
    short: 'Whether the examination was carried through.',
    filledBy: 'Procedure.status; evidence of extent outranks it.',
  },
  stopReason: {
    type: 'code',
    values: [
      'inadequate-preparation',
      'discomfort',
      'looping',
      'impassable-stricture',
      'obstructing-lesion',
      'severe-inflammation',
      'sedation',
      'equipment',
      'other',
    ],
    short: 'Why it was stopped.',
    filledBy: 'Procedure.statusReason.',
  },
  extent: {
    type: 'code',
    values: bowelSites,
    short: 'Deepest point reached.',
    filledBy: 'Extent observation; a photographed landmark; an observation of the caecum or ileum.',
  },
  caecumReached: {
    type: 'boolean',
    short: 'Caecum, ileum or, after resection, the anastomosis reached.',
    filledBy: 'Extent; photographs of a caecal landmark. A stopped examination without any of these did not reach it.',
  },
  completionPhotographed: {
    type: 'boolean',
    feed: 'photographs',
    short:
      'Whether a photograph of appendix orifice, ileocaecal valve, ileum or anastomosis is in the record. It is a fact about the record, so it is always true or false.',
    filledBy: 'Landmark photograph observations. False when none is found.',
  },
  landmarkPhotographCount: {
    type: 'integer',
    feed: 'photographs',
    short: 'Number of different landmarks photographed.',
    filledBy: 'Landmark photograph observations; 0 only in a complete feed of photographs.',
  },
  impassableStricture: {
    type: 'boolean',
    short: 'A stricture or obstructing lesion that the instrument could not pass stopped the examination.',
    filledBy: 'Procedure.statusReason. False when completed or stopped for another stated reason.',
  },
  insertionMinutes: {
    type: 'decimal',
    unit: 'min',
    short: 'Minutes from first insertion to the caecum.',
    filledBy: 'Insertion time observation; never the length of the procedure.',
  },
  withdrawalMinutes: {
    type: 'decimal',
    unit: 'min',
    short: 'Minutes from leaving the caecum to leaving the anus.',
    filledBy: 'Withdrawal time observation; never the length of the procedure.',
  },
  tissueTakenOrTreated: {
    type: 'boolean',
    feed: 'polyps',
    short: 'Anything removed, biopsied, injected or treated.',
    filledBy:
      'Sub-procedures, polyp handling, specimens. False only where the polyp feed is complete and the report final.',
  },

  // --- preparation
  preparationScale: {
    type: 'code',
    values: ['boston', 'stated-level'],
    short: 'How preparation is recorded: Boston segment scores, or a stated level.',
    filledBy: 'The observation that carries it.',
  },
  preparationRight: {
    type: 'integer',
    short: 'Boston score of the right colon, 0 to 3.',
    filledBy: 'Segment observation or component.',
  },
  preparationTransverse: {
    type: 'integer',
    short: 'Boston score of the transverse colon, 0 to 3.',
    filledBy: 'Segment observation or component.',
  },
  preparationLeft: {
    type: 'integer',
    short: 'Boston score of the left colon, 0 to 3.',
    filledBy: 'Segment observation or component.',
  },
  preparationTotal: {
    type: 'integer',
    short: 'Boston total, 0 to 9.',
    filledBy: 'Sum of the three segments, else a total as recorded.',
  },
  segmentsAllAtLeast2: {
    type: 'boolean',
    short: 'Every segment scored 2 or 3. A total of 6 made of 3, 3 and 0 is not.',
    filledBy:
      'Segments: false as soon as one is below 2, true when all are 2 or 3. From a total alone: false below 6, true from 8, else not recorded.',
  },
  preparationLevel: {
    type: 'code',
    values: ['adequate', 'inadequate'],
    short: 'Preparation as the operator stated it in words.',
    filledBy: 'Coded preparation observation.',
  },
  stoppedForPreparation: {
    type: 'boolean',
    short: 'The examination was stopped because of stool.',
    filledBy:
      'Procedure.statusReason. False when completed or stopped for another stated reason; not recorded when the scores contradict the stated reason.',
  },

  // --- comfort
  comfortScale: {
    type: 'code',
    values: ['one-to-five', 'zero-to-four'],
    short: 'Scale of the comfort score. The two are never pooled without a declared map.',
    filledBy: 'Code of the comfort observation.',
  },
  comfortScore: {
    type: 'integer',
    short: 'Comfort score on that scale; higher is worse.',
    filledBy: 'Comfort observation.',
  },

  // --- accessory
  attachment: {
    type: 'code',
    values: ['before-insertion', 'added-later', 'none'],
    short: 'Distal attachment on the scope tip.',
    filledBy:
      'Attachment observation; a device used without a stated time counts as before insertion only where it says so.',
  },
  attachmentKind: {
    type: 'code',
    values: ['cuff', 'cap'],
    short: 'Kind of distal attachment.',
    filledBy: 'Procedure.usedCode, or the device used.',
  },

  // --- found and done
  polypCount: {
    type: 'integer',
    feed: 'polyps',
    short: 'Polyps newly found; known lesions are not counted as new.',
    filledBy:
      'Polyp observations and findings. 0 only in a complete polyp feed, with a final report or, where the source sends no report of the examination, a completed one.',
  },
  polyps: {
    type: 'list',
    of: polypFields,
    feed: 'polyps',
    short: 'One element per polyp found.',
    filledBy: 'Polyp observations and findings.',
  },
  polypRemoved: {
    type: 'boolean',
    feed: 'polyps',
    short: 'At least one polyp removed (not merely biopsied).',
    filledBy:
      'Polypectomy sub-procedures and polyp handling. False where polypCount is 0 or every polyp was biopsied or left.',
  },
  polypsWithoutObtainableHistology: {
    type: 'integer',
    feed: 'polyps',
    short: 'Polyps for which no histology can ever come: not retrieved, discarded under protocol, or left.',
    filledBy: 'Polyp handling and retrieval.',
  },

  // --- pathology
  pathology: {
    type: 'code',
    values: ['not-sent', 'pending', 'final', 'unreadable', 'missing'],
    feed: 'pathology',
    short:
      'State of all pathology of the examination: pending while any report may still come within the source’s lag, missing after it, unreadable when a final report carries no class we know.',
    filledBy: 'Specimens and pathology reports, by the linkage ladder.',
  },
  adenomaFound: {
    type: 'boolean',
    feed: 'pathology',
    short: 'At least one conventional adenoma (tubular, tubulovillous or villous) confirmed by histology.',
    filledBy:
      'True with one in a final report. False when every specimen is final without one, or when no polyp could yield histology; else not recorded.',
  },
  adenomaCount: {
    type: 'integer',
    feed: 'pathology',
    short: 'Conventional adenomas confirmed by histology.',
    filledBy: 'Results of final reports, each counted for the specimens it covers.',
  },
  adenomaCountLower: {
    type: 'integer',
    feed: 'pathology',
    short: 'Fewest adenomas that the record allows.',
    filledBy: 'Confirmed adenomas.',
  },
  adenomaCountUpper: {
    type: 'integer',
    feed: 'pathology',
    short: 'Most adenomas that the record allows: confirmed ones and every polyp without histology.',
    filledBy:
      'Confirmed adenomas and polyps without a histology class. Absent when the number of polyps is not recorded.',
  },
  traditionalSerratedCount: {
    type: 'integer',
    feed: 'pathology',
    short: 'Traditional serrated adenomas confirmed.',
    filledBy: 'Final reports.',
  },
  sessileSerratedCount: {
    type: 'integer',
    feed: 'pathology',
    short: 'Sessile serrated lesions confirmed.',
    filledBy: 'Final reports.',
  },
  hyperplasticCount: {
    type: 'integer',
    feed: 'pathology',
    short: 'Hyperplastic polyps confirmed.',
    filledBy: 'Final reports.',
  },
  cancerCount: { type: 'integer', feed: 'pathology', short: 'Cancers confirmed.', filledBy: 'Final reports.' },
  otherHistologyCount: {
    type: 'integer',
    feed: 'pathology',
    short: 'Specimens of any other histology class.',
    filledBy: 'Final reports.',
  },

  // --- afterwards
  perforation: {
    type: 'boolean',
    feed: 'events',
    short: 'Perforation recorded as caused by, or following, this examination.',
    filledBy:
      'Procedure.complication, complicationDetail, AdverseEvent, Condition. Not recorded where several examinations may have caused it, or its date does not tell. False only in a complete event feed.',
  },
  perforationDay: {
    type: 'integer',
    unit: 'd',
    feed: 'events',
    short: 'Days from the examination to the perforation.',
    filledBy:
      'Date of the event; 0 for a complication of the procedure without any date. Absent where the date is missing or too coarse.',
  },
  bleeding: {
    type: 'boolean',
    feed: 'events',
    short: 'Bleeding after tissue removal. Immediate bleeding controlled without consequence is not an event.',
    filledBy:
      'Procedure.complication, complicationDetail, AdverseEvent, Condition. Not recorded where several examinations may have caused it, or its date does not tell. False only in a complete event feed.',
  },
  bleedingDay: {
    type: 'integer',
    unit: 'd',
    feed: 'events',
    short: 'Days from the examination to the bleeding.',
    filledBy:
      'Date of the event; 0 for a complication of the procedure without any date. Absent where the date is missing or too coarse.',
  },
} as const satisfies Record<string, Field>
