import { isKnownBy } from '../fhir/dates.ts'
import { asText, type Json } from '../fhir/json.ts'
import { keysAt } from '../fhir/references.ts'
import type { Colonoscopy } from '../record/colonoscopy.ts'
import type { Examination } from './examinations.ts'
import type { Reading } from './reading.ts'
import { isPathologyReport, isSigned } from './report-kinds.ts'

/** State of the examination's own report: the one the procedure names, else a colonoscopy report of its encounter. */
export function reportState(
  examination: Examination,
  { resources, codes, asOf, survey }: Reading,
): Colonoscopy['report'] {
  const { all, trail, zone, ownReports } = examination
  const direct: Json[] = []
  for (const key of keysAt(all, 'report')) {
    const report = resources.at(key)
    if (report) {
      // Histology may be named there too; it settles nothing that the examination's own report says.
      if (!isPathologyReport(report, codes)) direct.push(report)
    } else survey?.deadEnd('Procedure.report', examination.lead)
  }
  let state: Colonoscopy['report']
  for (const report of direct.length > 0 ? direct : ownReports) {
    const word = asText(report.status) ?? ''
    if (word === 'entered-in-error' || word === 'cancelled') continue
    const rung = direct.length > 0 ? 'direct reference' : 'shared encounter'
    trail?.note('report', report, rung, 'DiagnosticReport.status')
    // One report that is signed is enough; one signed after the as-of instant is still open.
    if (isSigned(report) && isKnownBy(report.issued, asOf, zone)) return 'final'
    state = 'preliminary'
  }
  return state
}
