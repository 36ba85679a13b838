/** The type of a value, and what it may hold. */
interface Value {
  readonly type: 'boolean' | 'code' | 'date' | 'decimal' | 'Duration' | 'Expression' | 'instant' | 'integer' | 'string'
  readonly meaning: string
  /** Id of a ValueSet of ours to which a code is bound. */
  readonly valueSet?: string
}

interface Part extends Value {
  readonly min: 0 | 1
}

export interface ExtensionDefinition {
  readonly id: string
  readonly title: string
  readonly description: string
  /** Elements that may carry it. */
  readonly context: readonly string[]
  /** One value, or named parts. */
  readonly holds: Value | Readonly<Record<string, Part>>
}

const reportGroups = ['MeasureReport.group', 'MeasureReport.group.stratifier.stratum']
const reportScores = reportGroups.map((group) => `${group}.measureScore`)
const reportPopulations = reportGroups.map((group) => `${group}.population`)

const standardParts = {
  name: { type: 'string', min: 1, meaning: 'Short name of the published standard.' },
  minimum: {
    type: 'decimal',
    min: 0,
    meaning: 'Least acceptable score (most, where lower is better), on the scale of the score.',
  },
  aspirational: { type: 'decimal', min: 0, meaning: 'Score to aspire to, on the scale of the score.' },
  fromMemory: {
    type: 'boolean',
    min: 1,
    meaning: 'True where the figures are recalled and were not checked against the publication.',
  },
} as const satisfies Record<string, Part>

/** Every extension of ours, in reports, measures and value sets. */
export const extensionDefinitions: readonly ExtensionDefinition[] = [
  {
    id: 'interval',
    title: 'Interval of a score',
    description: 'Confidence interval of the score, on the scale of the score, with its method.',
    context: reportScores,
    holds: {
      lower: { type: 'decimal', min: 1, meaning: 'Lower limit.' },
      upper: { type: 'decimal', min: 1, meaning: 'Upper limit.' },
      method: { type: 'string', min: 1, meaning: 'Name of the method.' },
      level: { type: 'decimal', min: 1, meaning: 'Confidence level, for example 0.95.' },
    },
  },
  {
    id: 'apart',
    title: 'Examinations apart',
    description:
      'Examinations that stand beside the populations of a report, counted by reason. A reason that is absent counts none.',
    context: reportGroups,
    holds: {
      reason: { type: 'code', min: 1, meaning: 'Why they stand apart.', valueSet: 'apart-reason' },
      count: { type: 'integer', min: 1, meaning: 'Number of examinations.' },
    },
  },
  {
    id: 'score-bounds',
    title: 'Bounds of a score',
    description:
      'Least and most that the score can be: if everything not recorded (and, over the whole period, everything pending) were unmet, and if it were met.',
    context: reportGroups,
    holds: {
      lower: { type: 'decimal', min: 1, meaning: 'Least the score can be.' },
      upper: { type: 'decimal', min: 1, meaning: 'Most the score can be.' },
      scope: {
        type: 'code',
        min: 1,
        meaning:
          'settled: the settled days that the score covers; whole-period: every day, pending examinations included.',
      },
      readInstead: {
        type: 'boolean',
        min: 0,
        meaning: 'True when so much is not recorded that the bounds are to be read, not the score.',
      },
    },
  },
  {
    id: 'absent-because',
    title: 'Why a score is absent',
    description: 'Why no score is given. It says more than the data-absent-reason that always stands beside it.',
    context: reportScores,
    holds: { type: 'code', meaning: 'The reason.', valueSet: 'absent-reason' },
  },
  {
    id: 'observation-sum',
    title: 'Sum of an observation',
    description: 'Sum of the observed values of the members counted, from which a ratio or a mean is made.',
    context: reportPopulations,
    holds: { type: 'decimal', meaning: 'The sum, in the unit of the observation.' },
  },
  {
    id: 'settled-through',
    title: 'Settled through',
    description:
      'Last day of the period through which no histology and no event can still arrive. The score covers the period up to this day. Absent when not even the first day is settled.',
    context: ['MeasureReport'],
    holds: { type: 'date', meaning: 'The civil date.' },
  },
  {
    id: 'as-of',
    title: 'As of',
    description: 'Instant as of which the record was read.',
    context: ['MeasureReport'],
    holds: { type: 'instant', meaning: 'The instant.' },
  },
  {
    id: 'attribution',
    title: 'Attribution',
    description: 'For whom an examination counts.',
    context: ['MeasureReport', 'Measure'],
    holds: { type: 'code', meaning: 'operator: the person who performed it.' },
  },
  {
    id: 'standard',
    title: 'Standard',
    description: 'The published standard against which the score is read.',
    context: ['MeasureReport'],
    holds: standardParts,
  },
  {
    id: 'left-out',
    title: 'Left out',
    description: 'Examinations that were read but belong to no period, or could not be used, by reason.',
    context: ['MeasureReport'],
    holds: {
      reason: { type: 'string', min: 1, meaning: 'Why they were left out.' },
      count: { type: 'integer', min: 1, meaning: 'Number of examinations.' },
    },
  },
  {
    id: 'measure-standard',
    title: 'Standard of a measure',
    description: 'The published standard of a measure. A descriptive measure has none.',
    context: ['Measure'],
    holds: standardParts,
  },
  {
    id: 'event-window',
    title: 'Event window',
    description: 'Days after the examination during which an event counts, the last one included.',
    context: ['Measure'],
    holds: { type: 'Duration', meaning: 'A whole number of days (UCUM d).' },
  },
  {
    id: 'counted-beside',
    title: 'Counted beside',
    description: 'Examinations among those not met that are counted beside as well, because they need to be known.',
    context: ['Measure'],
    holds: {
      description: { type: 'string', min: 1, meaning: 'Which examinations these are.' },
      criteria: { type: 'Expression', min: 1, meaning: 'FHIRPath over the colonoscopy record.' },
    },
  },
  {
    id: 'measure-choice',
    title: 'A choice made in a measure',
    description:
      'A question that the published standard leaves open, or on which standards differ, and how it is decided here.',
    context: ['Measure'],
    holds: {
      question: { type: 'string', min: 1, meaning: 'The question.' },
      decision: { type: 'string', min: 1, meaning: 'How it is decided in this measure.' },
      source: { type: 'string', min: 1, meaning: 'Where the decision comes from, and how well that is known.' },
    },
  },
  {
    id: 'observation-bounds',
    title: 'Bounds of an observation',
    description: 'Least and most that the observed value could be where the record leaves it open.',
    context: ['Measure.group.population'],
    holds: {
      lower: { type: 'Expression', min: 1, meaning: 'FHIRPath over the colonoscopy record: the least.' },
      upper: { type: 'Expression', min: 1, meaning: 'FHIRPath over the colonoscopy record: the most.' },
    },
  },
  {
    id: 'code-source',
    title: 'Source of a code',
    description: 'How well it is known that a code means what the list says.',
    context: ['ValueSet.compose.include.concept'],
    holds: {
      type: 'code',
      meaning:
        'standard: read in the terminology or standard itself; open-record: seen in an openly published record; third-party: read in somebody else’s list; ours: a code of this project.',
    },
  },
]
