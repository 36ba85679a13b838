import type { ChosenSource } from './source.ts'

/** What is served, and three commands worth trying. */
export function greeting(port: number, source: ChosenSource): string {
  const base = `http://127.0.0.1:${port}`
  const question = `${base}/fhir/Measure/adenoma-detection-rate-us-2024/$evaluate-measure?periodStart=2026-01&periodEnd=2026-06`
  return `
Colonoscopy quality measures, read from ${source.description}.
For quality improvement, not for decisions about a patient.

The page:          ${base}/
One question:      curl -s '${question}'
What is offered:   curl -s ${base}/fhir/metadata

Ctrl-C stops it.`
}
