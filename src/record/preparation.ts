import type { Field } from './field.ts'

const segmentScore =
  'Boston segment observation or component, as a number or one of our codes boston-0 to boston-3. Where the examination was stopped for stool, 0 for an unscored segment beyond a scored one (the trail says so). Absent where unscored, not from 0 to 3, or scored differently twice.'
const segmentPresent =
  'True where the segment was scored, or no earlier resection is on record in a complete history feed. False where a resection before the examination took it, or its score is said not to apply (unless nothing was resected, or the examination was stopped: it may then just be unseen). Absent otherwise, and where these contradict each other.'

export const preparation = {
  preparationScale: {
    type: 'code',
    values: ['boston', 'grade', 'stated-level'],
    short: 'How preparation is recorded: Boston segment scores, one of five grades, or a stated level.',
    filledBy: 'The observation that carries it. Absent where none is found.',
  },
  preparationRight: { type: 'integer', short: 'Boston score of the right colon, 0 to 3.', filledBy: segmentScore },
  preparationTransverse: {
    type: 'integer',
    short: 'Boston score of the transverse colon, 0 to 3.',
    filledBy: segmentScore,
  },
  preparationLeft: { type: 'integer', short: 'Boston score of the left colon, 0 to 3.', filledBy: segmentScore },
  rightSegmentPresent: { type: 'boolean', short: 'The right colon exists.', filledBy: segmentPresent },
  transverseSegmentPresent: { type: 'boolean', short: 'The transverse colon exists.', filledBy: segmentPresent },
  leftSegmentPresent: { type: 'boolean', short: 'The left colon exists.', filledBy: segmentPresent },
  preparationTotal: {
    type: 'integer',
    short: 'Boston total, 0 to 9.',
    filledBy:
      'Sum of the segments that exist when each is scored, else a total as recorded that their scores allow. Absent otherwise.',
  },
  segmentsAllAtLeast2: {
    type: 'boolean',
    short: 'Every segment that exists scored 2 or 3. A total of 6 made of 3, 3 and 0 is not.',
    filledBy:
      'Segments: false as soon as one is below 2, true when all that exist are 2 or 3. From a total alone of three segments: false below 6, true from 8, else not recorded; a total with some scores decides by what it leaves for the others.',
  },
  preparationGrade: {
    type: 'code',
    values: ['excellent', 'good', 'fair', 'poor', 'unsatisfactory'],
    short: 'Preparation on a five-grade scale. Guidelines draw the line at different grades.',
    filledBy: 'Coded preparation observation or component. Absent where no grade, or two different ones, are stated.',
  },
  preparationLevel: {
    type: 'code',
    values: ['adequate', 'inadequate'],
    short: 'Preparation as the operator stated it in words.',
    filledBy: 'Coded preparation observation or component. Absent where none is stated.',
  },
  stoppedForPreparation: {
    type: 'boolean',
    short: 'The examination was stopped because of stool.',
    filledBy:
      'Procedure.statusReason. False when completed or stopped for another stated reason; not recorded when what is recorded contradicts the stated reason: scores all at least 2, a grade of good or better, a level of adequate.',
  },
} as const satisfies Record<string, Field>
