import { asObjects, type Json } from '../fhir/json.ts'
import { keysAt } from '../fhir/references.ts'
import type { Examination } from './examinations.ts'
import type { Reading } from './reading.ts'
import { referred } from './result-remarks.ts'

/** Lists a report of the examination that calls it normal though polyps were found. Which of the two is right nobody can tell. */
export function noteNormalExamination(
  examination: Examination,
  polypCount: number | undefined,
  reading: Reading,
): void {
  const { trail, all, ownReports } = examination
  if (!trail || polypCount === undefined || polypCount === 0) return
  const reports = new Set<Json>(ownReports)
  for (const key of keysAt(all, 'report')) {
    const report = reading.resources.at(key)
    if (report) reports.add(report)
  }
  for (const report of reports)
    if (report.status !== 'entered-in-error' && callsItNormal(report, reading))
      trail.contradict('normal examination with polyps', report)
}

function callsItNormal(report: Json, reading: Reading): boolean {
  const isNormal = (concept: unknown) => reading.codes.in(concept, 'normal-examination')
  if (isNormal(report.code) || asObjects(report.conclusionCode).some(isNormal)) return true
  return asObjects(report.result).some((reference) => {
    const result = referred(reference, [report], reading)
    return (
      result !== undefined &&
      (isNormal(result.valueCodeableConcept) || (isNormal(result.code) && result.valueBoolean === true))
    )
  })
}
