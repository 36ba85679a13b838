import type { OperationOutcome, OperationOutcomeIssue } from 'fhir/r4'
import type { MeasureResult } from '../tally/result.ts'

export const messagesUrl = 'http://hl7.org/fhir/StructureDefinition/cqf-messages'

/**
 * What the report lacks: a pull that was not complete, and sources that do not feed what the measure needs.
 * @returns an outcome to be contained in the report; undefined when nothing is lacking
 */
export function messages(result: MeasureResult): OperationOutcome | undefined {
  const issue: OperationOutcomeIssue[] = result.incomplete.map((sentence) => warning('incomplete', sentence))
  const notAvailable = result.whole.apart['not-available'] ?? 0
  if (notAvailable > 0 || result.whole.absentBecause === 'not-available') {
    const counted = notAvailable > 0 ? ` Examinations concerned: ${notAvailable}.` : ''
    issue.push(warning('not-supported', `A source does not send what this measure needs.${counted}`))
  }
  return issue.length === 0 ? undefined : { resourceType: 'OperationOutcome', id: 'messages', issue }
}

const warning = (code: 'incomplete' | 'not-supported', diagnostics: string): OperationOutcomeIssue => ({
  severity: 'warning',
  code,
  diagnostics,
})
