import type { Field } from './field.ts'
import { severities } from './words.ts'

export const eventKinds = ['perforation', 'bleeding', 'cardiopulmonary'] as const

const severityFilledBy =
  'AdverseEvent.severity, or Condition.severity in the same codes; outcome fatal outranks them. Absent where none is coded.'

export const eventFields = {
  kind: { type: 'code', values: eventKinds, short: 'Kind of event.', filledBy: 'Code of what tells it.' },
  severity: {
    type: 'code',
    values: severities,
    short: 'Severity as stated.',
    filledBy: severityFilledBy,
  },
  day: {
    type: 'integer',
    unit: 'd',
    short: 'Days from the examination to the event.',
    filledBy: 'Date of the event. Absent where it is missing or too coarse.',
  },
} as const satisfies Record<string, Field>

export const visitFields = {
  day: {
    type: 'integer',
    unit: 'd',
    short: 'Days from the examination to the visit.',
    filledBy: 'Start of Encounter.period. Absent where it is too coarse.',
  },
  planned: {
    type: 'boolean',
    short: 'Whether the visit was planned.',
    filledBy:
      'A visit of the emergency class, of urgent priority, or by way of the emergency department was not planned; a visit with an appointment, or of elective or routine priority, was. Absent otherwise.',
  },
} as const satisfies Record<string, Field>

const event = (what: string): Field & { readonly type: 'boolean' } => ({
  type: 'boolean',
  feed: 'events',
  short: `${what} recorded as caused by, or following, this examination.`,
  filledBy:
    'Procedure.complication, complicationDetail, AdverseEvent, Condition. Not recorded where several examinations may have caused it, its date does not tell, nobody has confirmed it, or an event is of a kind or of a procedure that is not known. False only in a complete event feed.',
})
const eventDay = (what: string): Field & { readonly type: 'integer' } => ({
  type: 'integer',
  unit: 'd',
  feed: 'events',
  short: `Days from the examination to the ${what}.`,
  filledBy:
    'Date of the event; 0 for a complication of the procedure without any date; of a Condition that nothing names, its recording where no onset is stated. Absent where the date is missing or too coarse.',
})
const eventSeverity = (what: string) =>
  ({
    type: 'code',
    values: severities,
    feed: 'events',
    short: `Severity of the ${what}, the worst that is stated.`,
    filledBy: severityFilledBy,
  }) as const satisfies Field

export const afterwards = {
  eventCount: {
    type: 'integer',
    feed: 'events',
    short: 'Adverse events recorded as caused by, or following, this examination.',
    filledBy:
      'As the events below; all that tells of one kind is one event. 0 only in a complete event feed; absent while the attribution or kind of any is undecided.',
  },
  events: {
    type: 'list',
    of: eventFields,
    feed: 'events',
    short: 'One element per adverse event.',
    filledBy: 'As eventCount.',
  },
  perforation: event('Perforation'),
  perforationDay: eventDay('perforation'),
  perforationSeverity: eventSeverity('perforation'),
  bleeding: {
    ...event('Bleeding after tissue removal'),
    short: 'Bleeding after tissue removal. Immediate bleeding controlled without consequence is not an event.',
  },
  bleedingDay: eventDay('bleeding'),
  bleedingSeverity: eventSeverity('bleeding'),
  cardiopulmonaryEvent: event('Cardiopulmonary event'),
  cardiopulmonaryEventDay: eventDay('cardiopulmonary event'),
  hospitalVisitCount: {
    type: 'integer',
    feed: 'visits',
    short: 'Visits to a hospital within 30 days after the examination.',
    filledBy:
      'Encounters of the emergency, inpatient, short-stay or observation class that began after it and after no later examination; never the examination’s own encounter, what that is part of, or a part of another visit. 0 only in a complete feed of visits; absent while the class, status, date or attribution of any is undecided.',
  },
  visits: {
    type: 'list',
    of: visitFields,
    feed: 'visits',
    short: 'One element per hospital visit.',
    filledBy: 'As hospitalVisitCount.',
  },
  unplannedVisit: {
    type: 'boolean',
    feed: 'visits',
    short: 'At least one unplanned hospital visit within 30 days.',
    filledBy:
      'Visits. True with one. False where every visit was planned, or there was none, and the feed is complete. Absent otherwise.',
  },
  unplannedVisitDay: {
    type: 'integer',
    unit: 'd',
    feed: 'visits',
    short: 'Days from the examination to the first unplanned visit.',
    filledBy: 'Visits. Absent without one, and where an earlier one may have been unplanned or has no date.',
  },
  death: {
    type: 'boolean',
    feed: 'deaths',
    short: 'The patient has died, of any cause, by the as-of day.',
    filledBy:
      'Patient.deceased, of merged records too. False where it says so, or in a complete feed of deaths. Absent where the date cannot be read, or lies before the examination (listed as a contradiction).',
  },
  deathDay: {
    type: 'integer',
    unit: 'd',
    feed: 'deaths',
    short: 'Days from the examination to the death.',
    filledBy: 'Patient.deceasedDateTime. Absent where only the fact of death is recorded, or its date is too coarse.',
  },
  advice: {
    type: 'code',
    values: ['repeat-colonoscopy', 'no-further-colonoscopy', 'clinic-review'],
    short: 'What was advised about the next examination, by the latest signed advice.',
    filledBy:
      'Advice observation, or Procedure.followUp; an interval, and an order for another colonoscopy made in the examination’s encounter, mean a repeat. Absent where none is signed, or the latest differ.',
  },
  advisedIntervalMonths: {
    type: 'decimal',
    unit: 'mo',
    short: 'Months from the examination to the next colonoscopy advised, by the latest signed advice.',
    filledBy:
      'Advised-interval observation; the planned date of an order where no interval was signed that day or later. Absent where none is stated, for a range, for an order within a week, and where later advice is against a repeat.',
  },
  adviceAfterPathology: {
    type: 'boolean',
    feed: 'pathology',
    short: 'The latest signed advice was given when all pathology was final, or no pathology was sent.',
    filledBy:
      'Date of the latest signed advice beside those of the final pathology reports: true where it is not older than any. Absent without signed advice, while pathology is open, where a date is missing or too coarse, or where an older observation of advice has no date of its signing (issued).',
  },
  cancerWithinSixMonths: {
    type: 'boolean',
    feed: 'cancers',
    short: 'Colorectal cancer diagnosed at the examination or within 183 days after it.',
    filledBy:
      'Cancer in the final histology of this examination, or a Condition dated from its day to 183 days later. Absent where a date is too coarse, it is not confirmed, or a cancer recorded before cannot be told apart; false only in a complete feed of cancers, 183 days after the examination.',
  },
  laterColorectalCancer: {
    type: 'boolean',
    feed: 'cancers',
    short: 'Colorectal cancer diagnosed more than 6 months after the examination, by the as-of day.',
    filledBy:
      'Condition dated more than 183 days later. Absent where its date is too coarse, it is not confirmed, or a cancer was recorded before or within that time, or found by this examination’s histology, from which it cannot be told apart; false only in a complete feed of cancers.',
  },
  laterColorectalCancerDay: {
    type: 'integer',
    unit: 'd',
    feed: 'cancers',
    short: 'Days from the examination to the first such diagnosis.',
    filledBy: 'Onset, else recording, of the Condition. Absent without one, or where another may be earlier.',
  },
} as const satisfies Record<string, Field>
