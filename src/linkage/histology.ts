import { isKnownBy, readMoment } from '../fhir/dates.ts'
import { asObjects, type Json } from '../fhir/json.ts'
import { keysAt, ownKey, referenceKey } from '../fhir/references.ts'
import { hasClass, remarksOfResult } from './diagnoses.ts'
import type { Examination } from './examinations.ts'
import { remarksInText } from './histology-in-text.ts'
import type { Reading } from './reading.ts'
import { type Remark, remarkOf } from './remark.ts'
import { referred, remarksIn, voided } from './result-remarks.ts'

/** What one final report says of some pots, or of tissue without a pot. */
export interface PathologyReading {
  /** Specimens it speaks of; empty when neither result nor report names one. */
  readonly pots: readonly string[]
  /** One for each diagnosis or detail, repeats kept. */
  readonly remarks: readonly Remark[]
  /** None of the remarks names a class: nobody can read it. */
  readonly isUnreadable: boolean
  readonly report: Json
  /** The result, or the report itself, and the element that was read. */
  readonly resource: Json
  readonly element: string
  readonly isText: boolean
}

export interface Histology {
  /** For every pot only what the latest final report says of it. */
  readonly readings: readonly PathologyReading[]
  /** Reports that are not final yet, and that no later final report closes. */
  readonly openReports: number
}

const none: Histology = { readings: [], openReports: 0 }
const usable: ReadonlySet<unknown> = new Set(['final', 'amended', 'corrected', 'appended'])
/** R4: the results, the diagnosis or the text of an earlier report are changed by these; an appended one leaves them as they are. */
const changing: ReadonlySet<unknown> = new Set(['amended', 'corrected'])

/**
 * Readings of an examination's pathology reports, the latest final one of each pot. A report in which nobody can read a class does
 * not take away what an earlier one found, unless it says that it amends or corrects: tests on tumour tissue come as further
 * reports of the same pot.
 *
 * @param isElsewhere whether a specimen, by its key, belongs to another organ: what is said of it is left aside
 */
export function readHistology(
  examination: Examination,
  reading: Reading,
  isElsewhere: (specimen: string) => boolean,
): Histology {
  const { pathologyReports, trail } = examination
  if (pathologyReports.length === 0) return none
  const ordered = pathologyReports.length === 1 ? pathologyReports : latestFirst(pathologyReports)
  const read = new Set<string>()
  const readings: PathologyReading[] = []
  const take = (taken: readonly PathologyReading[]): void => {
    const own = taken.flatMap((one): PathologyReading[] => {
      // A later report has already said what these pots hold; of the others this one still speaks.
      const left = one.pots.filter((pot) => !read.has(pot) && !isElsewhere(pot))
      if (one.pots.length > 0 && left.length === 0) return []
      return [left.length === one.pots.length ? one : { ...one, pots: left }]
    })
    for (const { pots } of own) for (const pot of pots) read.add(pot)
    for (const one of own) if (one.isUnreadable) trail?.cannotRead('pathology', one.report, one.element)
    readings.push(...own)
  }
  const finals = new Set<Json>()
  const silent: PathologyReading[] = []
  for (const report of ordered) {
    const all = usable.has(report.status) ? readingsOf(report, examination, reading) : undefined
    if (all === undefined) continue
    finals.add(report)
    const yields = (one: PathologyReading) => one.isUnreadable && one.pots.length > 0 && !changing.has(report.status)
    silent.push(...all.filter(yields))
    take(all.filter((one) => !yields(one)))
  }
  take(silent)
  const openReports = ordered.filter((report) => {
    if (finals.has(report)) return false
    const pots = keysAt([report], 'specimen')
    return pots.length > 0 ? pots.some((pot) => !read.has(pot) && !isElsewhere(pot)) : finals.size === 0
  }).length
  return { readings, openReports }
}

function latestFirst(reports: readonly Json[]): Json[] {
  const issuedAt = (report: Json): number => {
    const moment = readMoment(report.issued ?? report.effectiveDateTime, 'UTC')
    return moment?.instant ?? (moment?.date === undefined ? 0 : Date.parse(moment.date))
  }
  return [...reports].sort(
    (one, other) => issuedAt(other) - issuedAt(one) || ((ownKey(one) ?? '') < (ownKey(other) ?? '') ? -1 : 1),
  )
}

/**
 * Readings of one report: of each result that stands, else of the report's conclusion, else, where the source says so, of its text.
 *
 * @returns undefined where all its results were issued after the as-of instant
 */
function readingsOf(report: Json, examination: Examination, reading: Reading): PathologyReading[] | undefined {
  const { codes, survey, source, asOf } = reading
  const held = keysAt([report], 'specimen')
  const results: Json[] = []
  let deadEnds = 0
  let later = 0
  for (const reference of asObjects(report.result)) {
    const result = referred(reference, [report], reading)
    if (result === undefined) {
      deadEnds++
      survey?.deadEnd('DiagnosticReport.result', report)
    } else if (voided.has(result.status)) continue
    else if (isKnownBy(result.issued, asOf, examination.zone)) results.push(result)
    else later++
  }
  // What is not known yet is waited for: it is not a report that says nothing.
  if (results.length === 0 && later > 0) return undefined
  // A lone result without a specimen of its own speaks for all that the report holds; so do several where it holds one pot.
  const speakForAll = held.length === 1 || (results.length === 1 && deadEnds === 0 && later === 0)
  const readings = results.map((result): PathologyReading => {
    const own = referenceKey(result.specimen)
    if (survey && own !== undefined && reading.resources.at(own) === undefined)
      survey.deadEnd('Observation.specimen', result)
    const remarks = remarksIn(result, [result, report], reading, examination.patient)
    return {
      pots: own !== undefined ? [own] : speakForAll ? held : [],
      remarks,
      isUnreadable: !remarks.some(hasClass),
      report,
      resource: result,
      element: elementIn(result),
      isText: false,
    }
  })
  const classed = readings.filter(({ isUnreadable }) => !isUnreadable)
  if (classed.length > 0) {
    // A description or a note beside a diagnosis of the same pot says nothing of its own; an architecture or a grade is a detail.
    const said = new Set(classed.flatMap(({ pots }) => pots))
    const beside = readings.flatMap((one): PathologyReading[] => {
      if (!one.isUnreadable) return []
      if (one.pots.some((pot) => !said.has(pot))) return [one]
      return one.remarks.length > 0 ? [{ ...one, isUnreadable: false }] : []
    })
    return joinPotless([...classed, ...beside])
  }
  const ofReport = (remarks: readonly Remark[], element: string, isText = false): PathologyReading[] => [
    { pots: held, remarks, isUnreadable: !remarks.some(hasClass), report, resource: report, element, isText },
  ]
  const concluded = asObjects(report.conclusionCode).flatMap((concept): Remark[] => {
    const remark = remarkOf(concept, codes)
    if (remark === undefined) survey?.missed('DiagnosticReport.conclusionCode', concept, examination.patient)
    return remark === undefined ? [] : [remark]
  })
  if (concluded.some(hasClass))
    return ofReport(remarksOfResult(undefined, concluded), 'DiagnosticReport.conclusionCode')
  const text = source.readsText === true ? remarksInText(report, examination) : undefined
  if (text) return ofReport(text.remarks, text.element, true)
  // Nobody can read any of it. A report that names no specimen has come for those that its results name, one each where they name none.
  return held.length === 0 && readings.length > 0 ? readings : ofReport([], 'DiagnosticReport.result')
}

/** Element in which a result says what it says. */
function elementIn(result: Json): string {
  const name = ['valueCodeableConcept', 'valueBoolean', 'component', 'hasMember'].find(
    (one) => result[one] !== undefined,
  )
  return `Observation.${name ?? 'value[x]'}`
}

/** Results of one report without a pot may be details of each other: they are read as one. */
function joinPotless(readings: readonly PathologyReading[]): PathologyReading[] {
  const potless = readings.filter(({ pots }) => pots.length === 0)
  const [first] = potless
  if (first === undefined || potless.length === 1) return [...readings]
  const remarks = potless.flatMap((one) => one.remarks)
  return [
    ...readings.filter(({ pots }) => pots.length > 0),
    { ...first, remarks, isUnreadable: !remarks.some(hasClass) },
  ]
}
