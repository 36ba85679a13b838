import type { TruthRow } from '../truth-row.ts'
import { allOf, type Definitions, type Fact } from './definition.ts'
import { reached, reasonIn, reportIsIn, unexplained } from './row-facts.ts'

const trained = ({ operatorRole }: TruthRow): Fact =>
  operatorRole === undefined ? undefined : operatorRole === 'trainee'
const inRoom = ({ supervisor, supervisorInRoom }: TruthRow): string | undefined =>
  supervisorInRoom ? supervisor : undefined

/** All of it final, or known that none was sent: of a polyp without a word of what was done nobody knows. */
const pathologySettled = (row: TruthRow): boolean =>
  row.pathology === 'final' ||
  (row.pathology === 'not-sent' && !unexplained(row) && (row.polyps.length > 0 || reportIsIn(row)))

/** Measures of recording and volume, by hand from the published definitions. What is missing is the answer here. */
export const recordingTruth: Definitions = {
  'withdrawal-time-recorded-us-2015': {
    eligible: (row) => [reached(row)],
    met: ({ withdrawalMinutes }) => withdrawalMinutes !== undefined,
  },
  'comfort-recorded-uk-screening-programme': {
    eligible: (row) => [reasonIn('positive-screening-test')(row)],
    met: ({ comfort }) => comfort !== undefined,
  },
  'comfort-recorded-descriptive': { eligible: () => [], met: ({ comfort }) => comfort !== undefined },
  'preparation-recorded-descriptive': {
    eligible: () => [],
    met: ({ preparation, preparationGrade }) => preparation !== undefined || preparationGrade !== undefined,
  },
  'photographs-recorded-descriptive': {
    eligible: (row) => [reached(row)],
    met: ({ photographs }) => photographs.length > 0,
  },
  'pathology-recorded-descriptive': { eligible: () => [], histology: true, met: pathologySettled },

  'colonoscopies-performed-descriptive': { eligible: () => [] },
  'colonoscopies-supervised-in-the-room-descriptive': {
    eligible: (row) => [allOf(trained(row), row.supervisorInRoom)],
    persons: (row) => [inRoom(row)],
  },
  // Performed, or supervised in the room: an examination of a trainee counts for both. UK 2016.
  'colonoscopies-performed-or-supervised-uk-2016': {
    eligible: () => [],
    persons: (row) => {
      const both = new Set([row.operator, inRoom(row)].filter((person) => person !== undefined))
      return both.size > 0 ? [...both] : [undefined]
    },
  },
}
