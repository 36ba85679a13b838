import type { Measure } from 'fhir/r4'

/**
 * SHA-256 of everything in a Measure that decides an answer: scoring, populations and our extensions on it. Titles,
 * descriptions, citations and dates may change without a new version; this may not.
 */
export async function logicDigest(measure: Measure): Promise<string> {
  const deciding = ['event-window', 'counted-beside', 'attribution', 'review-list']
  const logic = {
    scoring: measure.scoring?.coding?.[0]?.code,
    extension: measure.extension?.filter(({ url }) => deciding.some((name) => url.endsWith(`/${name}`))),
    population: measure.group?.map(({ population }) =>
      population?.map(({ id, code, criteria, extension }) => ({
        id,
        code: code?.coding?.[0]?.code,
        criteria,
        extension,
      })),
    ),
  }
  const bytes = await crypto.subtle.digest('SHA-256', new TextEncoder().encode(JSON.stringify(logic)))
  return Array.from(new Uint8Array(bytes), (byte) => byte.toString(16).padStart(2, '0')).join('')
}
