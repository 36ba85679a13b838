import { isKnownBy } from '../fhir/dates.ts'
import { asObjects, type Json } from '../fhir/json.ts'
import { keysAt } from '../fhir/references.ts'
import { hasClass, holdsOtherTissue, remarksOfResult } from './diagnoses.ts'
import type { Examination } from './examinations.ts'
import { remarksInText } from './histology-in-text.ts'
import type { Reading } from './reading.ts'
import { isLesion, type Remark, remarkOf } from './remark.ts'
import { changing, isFollowed, standingReports } from './report-versions.ts'
import {
  entriesOf,
  isDescription,
  type ResultEntry,
  type ResultWalk,
  referred,
  rootsOf,
  voided,
} from './result-remarks.ts'

/** What one final report says of some pots, or of tissue without a pot. */
export interface PathologyReading {
  /** Specimens it speaks of; empty when neither result nor report names one. */
  readonly pots: readonly string[]
  /** One for each diagnosis or detail, repeats kept. */
  readonly remarks: readonly Remark[]
  /** None of the remarks names a class: nobody can read it. */
  readonly isUnreadable: boolean
  /** What may be further diagnoses, and cannot be read: results, or the report for each specimen that its text leaves open. */
  readonly unread: readonly Json[]
  /** Results in words beside a diagnosis of the same pot. */
  readonly notes: readonly Json[]
  /** Tissue without a lesion is told beside one. */
  readonly isMixed: boolean
  /** Some diagnosis is said of more than one lesion, and not of how many. */
  readonly isUncounted: boolean
  readonly report: Json
  /** The result, or the report itself, and the element that was read. */
  readonly resource: Json
  readonly element: string
  readonly isText: boolean
}

export interface Histology {
  /** For every pot only what the latest final report says of it. */
  readonly readings: readonly PathologyReading[]
  /** Reports that are not final yet, or not as a whole, and that no later final report closes. */
  readonly openReports: number
}

const none: Histology = { readings: [], openReports: 0 }
const usable: ReadonlySet<unknown> = new Set(['final', 'amended', 'corrected', 'appended'])

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
  const { standing, specimensOf, undecided } = standingReports(
    pathologyReports.filter(({ status }) => usable.has(status)),
  )
  const finals: Json[] = []
  const silent: PathologyReading[] = []
  let openReports = 0
  for (const report of standing) {
    const { said, isPartial } = readingsOf(report, specimensOf(report), isElsewhere, examination, reading)
    if (said === undefined) continue
    finals.push(report)
    if (isPartial) openReports++
    const all = undecided.has(report) ? said.map(asUndecided) : said
    const yields = (one: PathologyReading) => one.isUnreadable && one.pots.length > 0 && !changing.has(report.status)
    silent.push(...all.filter(yields))
    take(all.filter((one) => !yields(one)))
  }
  take(silent)
  for (const report of pathologyReports) {
    // A version whose place another took is closed by that one.
    if (finals.includes(report) || (usable.has(report.status) && !standing.includes(report))) continue
    const pots = keysAt([report], 'specimen')
    const isOpen =
      pots.length > 0 ? pots.some((pot) => !read.has(pot) && !isElsewhere(pot)) : !isFollowed(report, finals)
    if (isOpen) openReports++
  }
  return { readings, openReports }
}

/** Of versions of which nobody can tell which stands, none says anything that can be relied on. */
const asUndecided = (one: PathologyReading): PathologyReading => ({ ...one, remarks: [], isUnreadable: true })

interface SaidByReport {
  /** Undefined where all its results became known after the as-of instant. */
  readonly said: readonly PathologyReading[] | undefined
  /** Some of its results became known only after the as-of instant. */
  readonly isPartial: boolean
}

/**
 * Readings of one report: of each result that stands, and of what its conclusion adds to them; else of the conclusion, else, where
 * the source says so, of its text.
 *
 * @param held specimens of the report
 */
function readingsOf(
  report: Json,
  held: readonly string[],
  isElsewhere: (specimen: string) => boolean,
  examination: Examination,
  reading: Reading,
): SaidByReport {
  const { source, survey } = reading
  const { entries, isWhole, later } = resultsOf(report, examination, reading)
  // What is not known yet is waited for: it is not a report that says nothing.
  if (entries.length === 0 && later > 0) return { said: undefined, isPartial: false }
  // A lone result without a specimen of its own speaks for all that the report holds; so do several where it holds one pot.
  const speakForAll = held.length === 1 || (entries.length === 1 && isWhole)
  const readings = entries.map((entry): PathologyReading => {
    const { result, specimen, remarks } = entry
    if (survey && specimen !== undefined && reading.resources.at(specimen) === undefined)
      survey.deadEnd('Observation.specimen', result)
    return {
      ...nothingMore,
      pots: specimen !== undefined ? [specimen] : speakForAll ? held : [],
      remarks,
      isUnreadable: !remarks.some(hasClass),
      unread: entry.unread,
      notes: entry.notes,
      isMixed: entry.isMixed,
      report,
      resource: result,
      element: elementIn(result),
    }
  })
  const concluded = concludedIn(report, examination, reading)
  const isPartial = later > 0
  const classed = readings.filter(({ isUnreadable }) => !isUnreadable)
  if (classed.length > 0) {
    const all = [...classed, ...besideDiagnoses(readings, classed, held), ...addedBy(concluded, classed, held, report)]
    return { said: joinPotless(all), isPartial }
  }
  const named = held.length > 0 ? held : [...new Set(readings.flatMap(({ pots }) => pots))]
  const ofReport = (remarks: readonly Remark[], element: string, more: Partial<PathologyReading> = {}) => ({
    said: [
      {
        ...{ ...nothingMore, pots: named, remarks, isUnreadable: !remarks.some(hasClass), report, resource: report },
        ...{ element, ...more },
      },
    ],
    isPartial,
  })
  if (concluded.some(hasClass))
    return ofReport(remarksOfResult(undefined, concluded), 'DiagnosticReport.conclusionCode', {
      isMixed: holdsOtherTissue(undefined, concluded),
    })
  if (source.readsText === true) {
    const elsewhere = held.filter(isElsewhere).length
    const text = remarksInText(report, { pots: held.length, elsewhere }, examination)
    if (text)
      return ofReport(text.remarks, text.element, {
        unread: Array.from({ length: text.unread }, () => report),
        isUncounted: text.isUncounted,
        isText: true,
      })
  }
  // Nobody can read any of it. It has come for the specimens that its results name, else for all that it holds.
  const areNamed = entries.some(({ specimen }) => specimen !== undefined)
  if (areNamed || (named.length === 0 && readings.length > 0)) return { said: readings, isPartial }
  return ofReport([], 'DiagnosticReport.result')
}

const nothingMore = { unread: [], notes: [], isMixed: false, isUncounted: false, isText: false } as const

/** The results of a report that are known and stand, by the specimens that they name. */
function resultsOf(
  report: Json,
  { patient, zone }: Examination,
  reading: Reading,
): { readonly entries: readonly ResultEntry[]; readonly isWhole: boolean; readonly later: number } {
  const isKnown = ({ issued }: Json) => isKnownBy(issued, reading.asOf, zone)
  const results: Json[] = []
  const walk: ResultWalk = { reading, patient, isKnown, seen: new Set(), deadEnds: 0, later: 0 }
  for (const reference of asObjects(report.result)) {
    const result = referred(reference, [report], reading)
    if (result === undefined) {
      walk.deadEnds++
      reading.survey?.deadEnd('DiagnosticReport.result', report)
    } else if (voided.has(result.status) || results.includes(result) || isDescription(result, reading)) continue
    else if (isKnown(result)) results.push(result)
    else walk.later++
  }
  const roots = rootsOf(results, report, reading)
  const entries = roots.flatMap((result) => entriesOf(result, [result, report], walk))
  return { entries, isWhole: roots.length === 1 && walk.deadEnds === 0 && walk.later === 0, later: walk.later }
}

function concludedIn(report: Json, { patient }: Examination, { codes, survey }: Reading): readonly Remark[] {
  if (report.conclusionCode === undefined) return []
  return asObjects(report.conclusionCode).flatMap((concept): Remark[] => {
    const remark = remarkOf(concept, codes)
    if (remark === undefined) survey?.missed('DiagnosticReport.conclusionCode', concept, patient)
    return remark === undefined ? [] : [remark]
  })
}

/**
 * Results beside diagnoses of the same report. Words beside a diagnosis of their own pot, or beside diagnoses of every pot, are
 * notes on them; what is coded and cannot be read may be a diagnosis, and so may words that nothing ties to a pot.
 */
function besideDiagnoses(
  readings: readonly PathologyReading[],
  classed: readonly PathologyReading[],
  held: readonly string[],
): readonly PathologyReading[] {
  const said = new Set(classed.flatMap(({ pots }) => pots))
  const isAllSaid = held.length > 0 && held.every((pot) => said.has(pot))
  return readings.flatMap((one): PathologyReading[] => {
    if (!one.isUnreadable) return []
    const { pots, remarks, unread, notes } = one
    if (pots.some((pot) => !said.has(pot))) return [one]
    if (pots.length === 0 && isAllSaid && remarks.length + unread.length === 0) return []
    return remarks.length + unread.length + notes.length > 0 ? [{ ...one, isUnreadable: false }] : []
  })
}

/**
 * Lesions of the conclusion that no result tells of: of the pots without a diagnosis, else of all of them. A grade or architecture
 * is a detail where the report speaks of no more than one pot.
 */
function addedBy(
  concluded: readonly Remark[],
  classed: readonly PathologyReading[],
  held: readonly string[],
  report: Json,
): readonly PathologyReading[] {
  if (concluded.length === 0) return []
  const told = new Set(classed.flatMap(({ remarks }) => remarks.map(({ histology }) => histology)))
  const pots = held.length > 0 ? held : [...new Set(classed.flatMap((one) => one.pots))]
  const isOfOne = pots.length <= 1
  const remarks = concluded.filter((one) =>
    isLesion(one) ? !told.has(one.histology) : isOfOne && (one.isGrade || one.histology === undefined),
  )
  if (remarks.length === 0) return []
  const said = new Set(classed.flatMap((one) => one.pots))
  const open = pots.filter((pot) => !said.has(pot))
  return [
    {
      ...nothingMore,
      pots: open.length > 0 ? open : pots,
      remarks,
      isUnreadable: false,
      report,
      resource: report,
      element: 'DiagnosticReport.conclusionCode',
    },
  ]
}

/** Element in which a result says what it says. */
export function elementIn(result: Json): string {
  if (result.resourceType === 'DiagnosticReport') return 'DiagnosticReport.conclusion'
  const name = ['valueCodeableConcept', 'valueBoolean', 'valueString', 'component', 'hasMember'].find(
    (one) => result[one] !== undefined,
  )
  return `Observation.${name ?? 'value[x]'}`
}

/** Results of one report without a pot may be details of each other: they are read as one, and none is only a note. */
function joinPotless(readings: readonly PathologyReading[]): PathologyReading[] {
  const potless = readings.filter(({ pots }) => pots.length === 0)
  const [first] = potless
  if (first === undefined) return [...readings]
  const remarks = potless.flatMap((one) => one.remarks)
  return [
    ...readings.filter(({ pots }) => pots.length > 0),
    {
      ...first,
      remarks,
      unread: potless.flatMap(({ unread, notes }) => [...unread, ...notes]),
      notes: [],
      isMixed: potless.some(({ isMixed }) => isMixed),
      isUncounted: potless.some(({ isUncounted }) => isUncounted),
      isUnreadable: potless.every(({ isUnreadable }) => isUnreadable),
    },
  ]
}
