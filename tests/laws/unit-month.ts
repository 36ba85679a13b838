import type { FhirResource, MeasureReport } from 'fhir/r4'
import type { LeftOut } from '../../src/linkage/context.ts'
import { demoSource } from '../../src/local/demo/demo-source.ts'
import { generateDemo } from '../../src/local/demo/generate.ts'
import { measureReport } from '../../src/report/measure-report.ts'
import type { FetchSource } from '../../src/source/connection.ts'
import { leftOutCounts } from '../../src/tally/left-out-counts.ts'
import { DividedRows } from '../../src/tally/strata.ts'
import { tally } from '../../src/tally/tally.ts'
import { answerWindows, demoBase } from '../demo/pull-demo.ts'
import { definitions } from '../stories/ask.ts'
import { writeRivals } from './rivals.ts'

export interface Period {
  readonly start: string
  readonly end: string
}

/** One month of one unit: as of 15 August two bleedings, histology still to come and second resources are among its records. */
export const period: Period = { start: '2026-06-01', end: '2026-06-30' }
const source = demoSource(demoBase)
const unit = source.units.find(({ id }) => id === 'ellenby')

/**
 * What one unit's patients of the month, and those without a date, have in the demo; beside them the rivals. The
 * examinations some days outside the month are kept, as a window reads past its edges.
 */
export function unitMonth(): FhirResource[] {
  const { resources, truth } = generateDemo()
  const patients = new Set(
    truth
      .filter(({ unit, date, kind }) =>
        kind === 'examination' || kind === 'copy'
          ? unit === 'ellenby' && date !== undefined && date >= '2026-05-25'
          : date === undefined || date >= '2026-05-25',
      )
      .map(({ patient }) => `Patient/${patient}`),
  )
  return [...resources.filter((one) => patients.has(patientOf(one) ?? '') || isDirectory(one)), ...writeRivals()]
}

const isDirectory = ({ resourceType }: FhirResource): boolean =>
  ['Practitioner', 'PractitionerRole', 'Organization', 'Location'].includes(resourceType)

function patientOf(resource: FhirResource): string | undefined {
  if (resource.resourceType === 'Patient') return `Patient/${resource.id}`
  return 'subject' in resource ? (resource.subject as { reference?: string } | undefined)?.reference : undefined
}

/** Measures whose whole reports are compared: of every scoring, and those that wait for histology and for events. */
export const reported = definitions.measures.filter(({ id }) =>
  [
    'adenoma-detection-rate-us-2024',
    'adenomas-per-colonoscopy-descriptive',
    'advised-interval-agreement-us-2020',
    'colonoscopies-performed-or-supervised-uk-2016',
    'death-within-30-days-elective-descriptive',
    'median-midazolam-dose-under-70-uk-2016',
    'perforation-rate-30-day-descriptive',
    'polyp-retrieval-rate-uk-2016',
    'withdrawal-time-us-2024',
  ].includes(id),
)

export interface MonthTold {
  /** The answers of every examination to every measure, as text, examinations in order: all that reports are counted from. */
  readonly answers: string
  readonly reports: MeasureReport[]
}

/** What is told of the unit and the month, pulled and linked in the windows given. */
export async function tellMonth(
  fetchSource: FetchSource,
  windows: readonly Period[] = [period],
  arrange?: (resources: readonly unknown[]) => readonly unknown[],
): Promise<MonthTold> {
  const { rows, leftOut, incomplete } = await answerWindows(fetchSource, windows, source, arrange)
  const once = new Map(leftOut.map((one): [string, LeftOut] => [one.reference, one]))
  const divided = new DividedRows(rows)
  const inOrder = rows.toSorted((one, other) => (one.procedure < other.procedure ? -1 : 1))
  const reports = reported.map((measure) =>
    measureReport(
      {
        ...tally(
          {
            measure,
            index: definitions.measures.indexOf(measure),
            period,
            asOf: '2026-08-15T22:59:59.999Z',
            asOfDate: '2026-08-15',
            ...(unit && { unit }),
          },
          rows,
          [source],
          divided,
        ),
        leftOut: leftOutCounts(once.values()),
        incomplete: [...new Set(incomplete)].sort(),
      },
      { date: '2026-08-16T08:00:00Z' },
    ),
  )
  return { answers: JSON.stringify(inOrder), reports }
}
