/** The type of a value, and what it may hold. */
interface Value {
  readonly type:
    | 'boolean'
    | 'canonical'
    | 'code'
    | 'date'
    | 'decimal'
    | 'Duration'
    | 'Expression'
    | 'instant'
    | 'integer'
    | 'string'
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
  stratum: {
    type: 'string',
    min: 0,
    meaning: 'Stratum to which it applies, such as sex=male; absent where it applies to the whole.',
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
    holds: {
      type: 'code',
      meaning:
        'operator: the person who performed it; supervisor-in-room: the person who supervised it in the room; operator-or-supervisor-in-room: both; unit-only: no person.',
    },
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
    description: 'Examinations of a population that are counted beside it as well, because they need to be known.',
    context: ['Measure'],
    holds: {
      description: { type: 'string', min: 1, meaning: 'Which examinations these are.' },
      population: {
        type: 'code',
        min: 0,
        meaning: 'numerator, denominator (where absent) or denominator-exclusion: whose members are looked at.',
      },
      criteria: { type: 'Expression', min: 1, meaning: 'FHIRPath over the colonoscopy record.' },
    },
  },
  {
    id: 'beside-count',
    title: 'Number counted beside',
    description: 'How many examinations of a population are counted beside it. What counts none is absent.',
    context: reportGroups,
    holds: {
      description: { type: 'string', min: 1, meaning: 'Which examinations these are, as the measure says.' },
      population: { type: 'code', min: 1, meaning: 'numerator, denominator or denominator-exclusion.' },
      count: { type: 'integer', min: 1, meaning: 'Number of examinations.' },
    },
  },
  {
    id: 'items-apart',
    title: 'Things apart',
    description: 'Of a ratio that counts things such as polyps: what is counted apart because the record is silent.',
    context: ['Measure.group.population'],
    holds: {
      notRecorded: {
        type: 'Expression',
        min: 0,
        meaning: 'FHIRPath over the colonoscopy record: how many belong, with an outcome that is not recorded.',
      },
      eligibilityNotRecorded: {
        type: 'Expression',
        min: 0,
        meaning: 'FHIRPath over the colonoscopy record: of how many it is not recorded whether they belong.',
      },
    },
  },
  {
    id: 'items-apart-count',
    title: 'Number of things apart',
    description: 'Of a ratio that counts things such as polyps: how many stand apart, over the settled days.',
    context: reportGroups,
    holds: {
      notRecorded: { type: 'integer', min: 1, meaning: 'They belong, but their outcome is not recorded.' },
      eligibilityNotRecorded: { type: 'integer', min: 1, meaning: 'It is not recorded whether they belong.' },
    },
  },
  {
    id: 'review-list',
    title: 'Review list',
    description: 'The cases of the measure are to be reviewed one by one: a unit may ask for their list.',
    context: ['Measure'],
    holds: { type: 'boolean', meaning: 'True where a list can be asked for.' },
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
      alternative: { type: 'canonical', min: 0, meaning: 'The measure that decides it otherwise.' },
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
