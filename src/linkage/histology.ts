import type { Codes } from '../fhir/codes.ts'
import { readMoment } from '../fhir/dates.ts'
import { asObjects, asText, type Json } from '../fhir/json.ts'
import { ownKey, referenceKey } from '../fhir/references.ts'
import type { Resources } from './context.ts'
import { histologyClasses } from './fields.ts'
import { isWord } from './polyps.ts'

export type HistologyClass = (typeof histologyClasses)[number]

/** What one result says of the specimens it covers. */
export interface Reading {
  /** Specimens it covers; empty when the result names none and the report holds none. */
  readonly specimens: readonly string[]
  /** Classes found in it; empty when it carries no class we know. */
  readonly classes: readonly HistologyClass[]
}

const nothing: { readings: Reading[]; openReports: number } = { readings: [], openReports: 0 }
const usable = new Set(['final', 'amended', 'corrected', 'appended'])

/**
 * Readings of an examination's pathology reports: the latest final one for each specimen. Whether a preliminary report is
 * still open is said apart: a later final report of the same code and specimens closes it.
 */
export function readHistology(
  reports: readonly Json[],
  resources: Resources,
  codes: Codes,
): { readings: Reading[]; openReports: number } {
  if (reports.length === 0) return nothing
  const issued = (report: Json) => readMoment(report.issued ?? report.effectiveDateTime, 'UTC')
  const instant = (report: Json) => issued(report)?.instant ?? Date.parse(issued(report)?.date ?? '') ?? 0
  const ordered = [...reports].sort(
    (one, other) =>
      (instant(other) || 0) - (instant(one) || 0) || ((ownKey(one) ?? '') < (ownKey(other) ?? '') ? -1 : 1),
  )
  const finals = ordered.filter(({ status }) => usable.has(asText(status) ?? ''))
  const read = new Set<string>()
  const readings: Reading[] = []
  for (const report of finals) {
    const own = readingsOf(report, resources, codes)
    // A later report has already said what these specimens are.
    const fresh = own.filter(({ specimens }) => specimens.length === 0 || specimens.some((key) => !read.has(key)))
    for (const { specimens } of fresh) for (const key of specimens) read.add(key)
    readings.push(...fresh)
  }
  const openReports = ordered.filter((report) => {
    if (usable.has(asText(report.status) ?? '')) return false
    const specimens = specimensOf(report)
    return specimens.length > 0 ? specimens.some((key) => !read.has(key)) : finals.length === 0
  }).length
  return { readings, openReports }
}

const specimensOf = (report: Json): string[] =>
  asObjects(report.specimen)
    .map(referenceKey)
    .filter((key) => key !== undefined)

function readingsOf(report: Json, resources: Resources, codes: Codes): Reading[] {
  const held = specimensOf(report)
  const contained = new Map(asObjects(report.contained).map((one): [string, Json] => [`#${String(one.id)}`, one]))
  const find = (reference: Json) => resources.at(referenceKey(reference)) ?? contained.get(String(reference.reference))
  const results = asObjects(report.result)
    .map(find)
    .filter((one) => one !== undefined)
  const readings = results.map((result) => {
    const own = referenceKey(result.specimen)
    // A lone result without a specimen of its own speaks for all that the report holds.
    const specimens = own !== undefined ? [own] : results.length === 1 ? held : []
    return { specimens, classes: classesOf(result, find, codes, 0) }
  })
  if (readings.some(({ classes }) => classes.length > 0)) return readings
  const coded = asObjects(report.conclusionCode)
    .map((one) => codes.word(one, 'histology'))
    .filter((word) => isWord(word, histologyClasses))
  if (coded.length > 0) return [{ specimens: held, classes: [...new Set(coded)] }]
  return readings.length > 0 ? readings : [{ specimens: held, classes: [] }]
}

/** Classes in a result, its components and the members it refers to. A value that is not a concept names no class. */
function classesOf(
  result: Json,
  find: (reference: Json) => Json | undefined,
  codes: Codes,
  depth: number,
): HistologyClass[] {
  if (result.status === 'entered-in-error' || result.status === 'cancelled') return []
  const words = [
    result.valueCodeableConcept,
    ...asObjects(result.component).map(({ valueCodeableConcept }) => valueCodeableConcept),
  ].map((value) => codes.word(value, 'histology'))
  const own = words.filter((word) => isWord(word, histologyClasses))
  // Six levels are more than any report that has been met; the limit stops a circle of members.
  const members =
    depth < 6
      ? asObjects(result.hasMember)
          .map(find)
          .filter((one) => one !== undefined)
      : []
  return [...new Set([...own, ...members.flatMap((member) => classesOf(member, find, codes, depth + 1))])]
}
