import type { Extension, MeasureReport, MeasureReportGroup, Reference } from 'fhir/r4'
import { structure } from '../fhir/canonical.ts'
import type { MeasureDefinition } from '../measures/measure.ts'
import type { MeasureResult } from '../tally/result.ts'
import { caseList } from './case-list.ts'
import { concept, improvementSystem } from './codes.ts'
import {
  apartExtensions,
  besideExtensions,
  boundsExtensions,
  leftOutExtensions,
  standardExtension,
} from './extensions.ts'
import { measureScore } from './measure-score.ts'
import { messages, messagesUrl } from './messages.ts'
import { narrative } from './narrative.ts'
import { populations } from './populations.ts'
import { stratifiers } from './stratifiers.ts'

export interface ReportContext {
  /** Instant at which the report is made. */
  readonly date: string
  /** Who reports, where a resource is known; otherwise made from the scope of the result. */
  readonly reporter?: Reference
  /** Whether the cases of the measure are listed: only of one whose cases are reviewed. */
  readonly type?: 'summary' | 'subject-list'
}

/**
 * One result as an R4 MeasureReport. A summary names no patient and lists no resource; a subject-list names the examinations to
 * review, and still no patient. It is not stored, so it has no id.
 * @throws {RangeError} when a figure is not finite, or the instant of the record is not a FHIR instant
 */
export function measureReport(result: MeasureResult, context: ReportContext): MeasureReport {
  const { measure, period } = result
  const { type = 'summary' } = context
  const lacking = messages(result)
  const cases = type === 'subject-list' ? caseList(result, context.date) : undefined
  const contained = [...(lacking ? [lacking] : []), ...(cases ? [cases] : [])]
  const reporter = context.reporter ?? reporterOf(result)
  return {
    resourceType: 'MeasureReport',
    text: narrative(result),
    ...(contained.length > 0 ? { contained } : {}),
    extension: [
      ...(lacking ? [{ url: messagesUrl, valueReference: { reference: `#${lacking.id}` } }] : []),
      ...extensionsOf(result),
    ],
    status: 'complete',
    type,
    measure: `${measure.url}|${measure.version}`,
    date: context.date,
    ...(reporter ? { reporter } : {}),
    period: { start: period.start, end: period.end },
    ...improvementOf(measure),
    group: [group(result, cases?.id)],
  }
}

const improvementOf = ({ resource, improvement }: MeasureDefinition): Pick<MeasureReport, 'improvementNotation'> => {
  const notation = resource.improvementNotation ?? (improvement && concept(improvementSystem, improvement))
  return notation ? { improvementNotation: notation } : {}
}

/** Source: FHIR R4 (4.0.1), Data Types, instant. */
const instantPattern = /^\d{4}-\d{2}-\d{2}T\d{2}:\d{2}:\d{2}(\.\d+)?(Z|[+-]\d{2}:\d{2})$/

function extensionsOf({ measure, asOf, settledThrough, leftOut }: MeasureResult): Extension[] {
  if (!instantPattern.test(asOf)) throw new RangeError(`as-of requires an instant, not ${asOf}`)
  return [
    { url: structure('as-of'), valueInstant: asOf },
    ...(settledThrough === undefined ? [] : [{ url: structure('settled-through'), valueDate: settledThrough }]),
    { url: structure('attribution'), valueCode: measure.attribution },
    ...(measure.standard ? [standardExtension(measure.standard)] : []),
    ...measure.stratumStandards.map(standardExtension),
    ...leftOutExtensions(leftOut),
  ]
}

/** Nobody reports figures that pool several units. */
function reporterOf({ scope }: MeasureResult): Reference | undefined {
  if (scope.practitioner !== undefined) {
    const bar = scope.practitioner.indexOf('|')
    return bar > 0
      ? {
          type: 'Practitioner',
          identifier: { system: scope.practitioner.slice(0, bar), value: scope.practitioner.slice(bar + 1) },
        }
      : { type: 'Practitioner', display: scope.practitioner }
  }
  return scope.unit
    ? { type: 'Organization', identifier: { value: scope.unit.id }, display: scope.unit.name }
    : undefined
}

function group(result: MeasureResult, listed?: string): MeasureReportGroup {
  const { measure, whole } = result
  const declared = measure.resource.group?.[0]
  const extension = [...apartExtensions(whole.apart), ...besideExtensions(measure, whole), ...boundsExtensions(whole)]
  return {
    ...(declared?.id === undefined ? {} : { id: declared.id }),
    ...(extension.length === 0 ? {} : { extension }),
    ...(declared?.code === undefined ? {} : { code: declared.code }),
    population: populations(measure, whole).map((population, place) =>
      listed !== undefined && place === 0 ? { ...population, subjectResults: { reference: `#${listed}` } } : population,
    ),
    ...(measure.scoring === 'cohort' ? {} : { measureScore: measureScore(measure, whole) }),
    stratifier: stratifiers(result),
  }
}
