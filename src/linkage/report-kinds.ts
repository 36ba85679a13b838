import type { Codes } from '../fhir/codes.ts'
import { asObjects, type Json } from '../fhir/json.ts'

/** Whether a DiagnosticReport is one of pathology, by its code or its category. */
export const isPathologyReport = (report: Json, codes: Codes): boolean =>
  codes.in(report.code, 'pathology-report') ||
  asObjects(report.category).some((one) => codes.in(one, 'pathology-report'))

const signed: ReadonlySet<unknown> = new Set(['final', 'amended', 'corrected', 'appended'])

/** Whether a report's status says that somebody signed it. One without a status, or of an unknown one, is not known to be. */
export const isSigned = ({ status }: Json): boolean => signed.has(typeof status === 'string' ? status.trim() : status)
