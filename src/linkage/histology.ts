import type { Codes } from '../fhir/codes.ts'
import { readMoment } from '../fhir/dates.ts'
import { asObject, asObjects, asText, type Json } from '../fhir/json.ts'
import { keysAt, ownKey, referenceKey } from '../fhir/references.ts'
import type { Resources } from './context.ts'
import { histologyClasses } from './fields.ts'
import { isWord } from './polyps.ts'

export type HistologyClass = (typeof histologyClasses)[number]

/** What one final report says of some pots, or of tissue without a pot. */
export interface Reading {
  /** Specimens it speaks of; empty when neither result nor report names one. */
  readonly pots: readonly string[]
  /** One class for each diagnosis, repeats kept; empty when it carries no class we know. */
  readonly classes: readonly HistologyClass[]
}

export interface Histology {
  /** For every pot only what the latest final report says of it. */
  readonly readings: readonly Reading[]
  /** Reports that are not final yet, and that no later final report closes. */
  readonly openReports: number
}

const none: Histology = { readings: [], openReports: 0 }
const usable = new Set(['final', 'amended', 'corrected', 'appended'])
const voided = new Set(['entered-in-error', 'cancelled'])

/**
 * Readings of an examination's pathology reports.
 *
 * @param isElsewhere whether a specimen, by its key, belongs to another organ: what is said of it is left aside
 */
export function readHistology(
  reports: readonly Json[],
  resources: Resources,
  codes: Codes,
  isElsewhere: (specimen: string) => boolean,
): Histology {
  if (reports.length === 0) return none
  const ordered = [...reports].sort(
    (one, other) => issuedAt(other) - issuedAt(one) || ((ownKey(one) ?? '') < (ownKey(other) ?? '') ? -1 : 1),
  )
  const read = new Set<string>()
  const readings: Reading[] = []
  let finals = 0
  for (const report of ordered) {
    if (!usable.has(asText(report.status) ?? '')) continue
    finals++
    const named = readingsOf(report, resources, codes)
    const own = named.flatMap(({ pots, classes }): Reading[] => {
      // A later report has already said what these pots hold; of the others this one still speaks.
      const left = pots.filter((pot) => !read.has(pot) && !isElsewhere(pot))
      return pots.length > 0 && left.length === 0 ? [] : [{ pots: left, classes }]
    })
    for (const { pots } of own) for (const pot of pots) read.add(pot)
    readings.push(...own)
  }
  const openReports = ordered.filter((report) => {
    if (usable.has(asText(report.status) ?? '')) return false
    const pots = keysAt([report], 'specimen')
    return pots.length > 0 ? pots.some((pot) => !read.has(pot) && !isElsewhere(pot)) : finals === 0
  }).length
  return { readings, openReports }
}

function issuedAt(report: Json): number {
  const moment = readMoment(report.issued ?? report.effectiveDateTime, 'UTC')
  return moment?.instant ?? (moment?.date === undefined ? 0 : Date.parse(moment.date))
}

/** Readings of one report: of each result that stands, else of the report's conclusion. */
function readingsOf(report: Json, resources: Resources, codes: Codes): Reading[] {
  const held = keysAt([report], 'specimen')
  const contained = new Map(asObjects(report.contained).map((one): [string, Json] => [`#${String(one.id)}`, one]))
  const find = (reference: Json) =>
    resources.at(referenceKey(reference)) ?? contained.get(String(asObject(reference)?.reference))
  const results = asObjects(report.result)
    .map(find)
    .filter((one) => one !== undefined)
    .filter(({ status }) => !voided.has(asText(status) ?? ''))
  const readings = results.map((result): Reading => {
    const own = referenceKey(result.specimen)
    // A lone result without a specimen of its own speaks for all that the report holds.
    const pots = own !== undefined ? [own] : results.length === 1 ? held : []
    return { pots, classes: diagnosesOf(result, find, codes, 0) }
  })
  const classed = readings.filter(({ classes }) => classes.length > 0)
  if (classed.length > 0) {
    // A description or a note beside a diagnosis of the same pot says nothing of its own.
    const said = new Set(classed.flatMap(({ pots }) => pots))
    const silent = readings.filter(({ pots, classes }) => classes.length === 0 && pots.some((pot) => !said.has(pot)))
    return [...classed, ...silent]
  }
  const concluded = asObjects(report.conclusionCode)
    .map((one) => codes.word(one, 'histology'))
    .filter((word) => isWord(word, histologyClasses))
  if (concluded.length > 0) return [{ pots: held, classes: withoutDetail(concluded) }]
  return [{ pots: held, classes: [] }]
}

/**
 * Diagnoses of one result: its value, and what its components and members add. A value that is not a concept names no class.
 * Where the result itself names a class, components of the same class only describe it.
 */
function diagnosesOf(
  result: Json,
  find: (reference: Json) => Json | undefined,
  codes: Codes,
  depth: number,
): HistologyClass[] {
  if (voided.has(asText(result.status) ?? '')) return []
  const value = codes.word(result.valueCodeableConcept, 'histology')
  const own = isWord(value, histologyClasses) ? value : undefined
  const parts: HistologyClass[] = []
  for (const { valueCodeableConcept } of asObjects(result.component)) {
    const word = codes.word(valueCodeableConcept, 'histology')
    if (isWord(word, histologyClasses)) parts.push(word)
  }
  // Six levels are more than any report that has been met; the limit stops a circle of members.
  if (depth < 6)
    for (const reference of asObjects(result.hasMember)) {
      const member = find(reference)
      if (member) parts.push(...diagnosesOf(member, find, codes, depth + 1))
    }
  return withoutDetail(own === undefined ? parts : [own, ...parts.filter((part) => part !== own)])
}

/** Beside a lesion, "other" is a detail of it (a grade of dysplasia, normal mucosa around it), not a second finding. */
function withoutDetail(classes: readonly HistologyClass[]): HistologyClass[] {
  const lesions = classes.filter((one) => one !== 'other')
  return lesions.length > 0 ? lesions : classes.slice(0, 1)
}
