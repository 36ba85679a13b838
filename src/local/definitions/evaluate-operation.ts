import type { OperationDefinition } from 'fhir/r4'
import { published } from './published.ts'

type Parameter = NonNullable<OperationDefinition['parameter']>[number]

const description =
  'Evaluates a measure over all examinations of a period and returns one MeasureReport of type summary. It is the standard operation with two parameters more; reports about single patients are not made.'

/** Our form of `$evaluate-measure`. Source of the base: FHIR R4 (4.0.1), OperationDefinition Measure-evaluate-measure. */
export function evaluateOperation(): OperationDefinition {
  return {
    ...published('OperationDefinition', 'evaluate-measure', 'Evaluate a measure', description),
    kind: 'operation',
    affectsState: false,
    code: 'evaluate-measure',
    comment:
      'Parameters may be given in the query (GET) or as a Parameters resource (POST). An unknown or repeated parameter is refused.',
    base: 'http://hl7.org/fhir/OperationDefinition/Measure-evaluate-measure',
    resource: ['Measure'],
    system: false,
    type: true,
    instance: true,
    parameter,
  }
}

const input = (
  name: string,
  min: 0 | 1,
  type: string,
  documentation: string,
  more: Partial<Parameter> = {},
): Parameter => ({
  name,
  use: 'in',
  min,
  max: '1',
  documentation,
  type: type as NonNullable<Parameter['type']>,
  ...more,
})

const parameter: Parameter[] = [
  input(
    'periodStart',
    1,
    'date',
    'First day of the period. A year or a month starts with its first day. Days are civil days in the zone of each unit.',
  ),
  input('periodEnd', 1, 'date', 'Last day of the period, included. A year or a month ends with its last day.'),
  input(
    'measure',
    0,
    'string',
    'Id, url or url|version of the measure. Required on the type, refused on an instance.',
    {
      searchType: 'reference',
    },
  ),
  input(
    'reportType',
    0,
    'code',
    'population or summary, which mean the same; subject-list, with x-unit, for a measure whose cases are reviewed. Other types are refused.',
  ),
  input('subject', 0, 'string', 'Refused: no reports about single subjects are made.', {
    max: '0',
    searchType: 'reference',
  }),
  input(
    'practitioner',
    0,
    'string',
    'Only examinations attributed to this practitioner: Practitioner/id, source/Practitioner/id where several sources have that id, or system|value of an identifier.',
    { searchType: 'reference' },
  ),
  input('lastReceivedOn', 0, 'dateTime', 'Refused: it belongs to reports about single subjects.', { max: '0' }),
  input(
    'x-as-of',
    0,
    'dateTime',
    'Instant as of which the record is read; a date means the end of that day. Never later than the present; the report says which instant was used.',
  ),
  input('x-unit', 0, 'string', 'Id of one unit. Absent: all units together, with a stratifier by unit.'),
  {
    name: 'return',
    use: 'out',
    min: 1,
    max: '1',
    documentation: 'The report. It is not stored and has no id.',
    type: 'MeasureReport',
  },
]
