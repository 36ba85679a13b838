import { asOfInstant } from './as-of.ts'
import type { Source } from './config.ts'
import type { Configuration } from './env.ts'
import { ReportableError } from './errors.ts'
import type { EvaluateDependencies } from './evaluate.ts'
import type { LeftOut } from './linkage/context.ts'
import { linkWindow } from './linkage/link.ts'
import { Survey } from './linkage/survey.ts'
import type { CompiledMeasure } from './measures/compiled-measure.ts'
import { compileMeasures } from './measures/compiled-measures.ts'
import { monthsOf } from './months.ts'
import type { LinkedColonoscopy } from './record/colonoscopy.ts'
import { pullWindow } from './source/pull-window.ts'
import { pullNeeds, sourceCodes } from './source/source-codes.ts'
import { answerRow } from './tally/answer-row.ts'
import { closestConcepts } from './wiring/closest.ts'
import {
  type AnsweredMeasure,
  addChanges,
  addSeen,
  emptyFindings,
  withOtherDeclaration,
} from './wiring/feed-findings.ts'
import { type SourceWiring, sourceWiring, type WiringReport } from './wiring/report.ts'
import { WiringTotals } from './wiring/totals.ts'
import type { WiringRequest } from './wiring-request.ts'

/**
 * How the configured sources' records fit: the whole flow of a question, with a survey of what every fact rests on and of what
 * did not fit. Each window is linked once more for every feed, as if it were declared otherwise, to say what would change.
 *
 * @throws {ReportableError} for an unknown source, or one that fails
 */
export async function surveyWiring(
  request: WiringRequest,
  { sources, asOf: configuredAsOf }: Configuration,
  dependencies: EvaluateDependencies,
): Promise<WiringReport> {
  const asked = sources.filter(({ id }) => request.source === undefined || id === request.source)
  if (asked.length === 0)
    throw new ReportableError(
      'bad-request',
      `No source ${request.source} is configured. Known: ${sources.map(({ id }) => id).join(', ') || 'none'}.`,
    )
  const zone = sources[0]?.zone ?? 'UTC'
  const asOf = asOfInstant(undefined, configuredAsOf, dependencies.now(), zone)
  const wirings: SourceWiring[] = []
  for (const source of asked) wirings.push(await surveySource(source, request, asOf, dependencies))
  const { start, end } = request.period
  return { periodStart: start, periodEnd: end, asOf: new Date(asOf).toISOString(), sources: wirings }
}

async function surveySource(
  source: Source,
  { period }: WiringRequest,
  asOf: number,
  { definitions, fetchSource }: EvaluateDependencies,
): Promise<SourceWiring> {
  const codes = sourceCodes(definitions.resources, source)
  const need = pullNeeds(codes)
  const measures = compileMeasures(definitions.measures)
  const totals = new WiringTotals()
  const findings = emptyFindings(source)
  // What belongs to no window is left out by each: once is enough.
  const leftOut = new Map<string, LeftOut>()
  const incomplete = new Set<string>()
  const notes = new Set<string>()
  for (const window of monthsOf(period)) {
    const pulled = await pullWindow(source, window, need, fetchSource)
    for (const sentence of pulled.incomplete) incomplete.add(sentence)
    for (const sentence of pulled.notes) notes.add(sentence)
    const survey = new Survey()
    const context = { source, codes, window, period, asOf }
    const linked = linkWindow(pulled.resources, { ...context, survey })
    totals.add(survey, [])
    for (const one of linked.leftOut) leftOut.set(`${one.reason}|${one.reference}`, one)
    addSeen(findings, linked.colonoscopies)
    const answers = answersTo(measures, linked.colonoscopies, source, asOf)
    for (const finding of findings) {
      const other = withOtherDeclaration(source, finding.kind)
      const { colonoscopies } = linkWindow(pulled.resources, { ...context, source: other })
      const changed = answersTo(measures, colonoscopies, other, asOf)
      addChanges(finding, linked.colonoscopies, colonoscopies, answers, changed)
    }
  }
  totals.add(new Survey(), [...leftOut.values()])
  const closest = closestConcepts(definitions.resources)
  return sourceWiring(source.id, totals, findings, closest, {
    incomplete: [...incomplete].sort(),
    notes: [...notes].sort(),
  })
}

function answersTo(
  measures: readonly CompiledMeasure[],
  colonoscopies: readonly LinkedColonoscopy[],
  source: Source,
  asOf: number,
): AnsweredMeasure[] {
  const rows = colonoscopies.map((one) => answerRow(one, measures, source, asOf))
  return measures.map(({ definition }, index) => ({
    id: definition.id,
    codes: rows.map(({ answers }) => answers[index]?.code ?? ''),
  }))
}
