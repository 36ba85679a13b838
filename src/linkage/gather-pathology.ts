import type { Codes } from '../fhir/codes.ts'
import { isKnownBy } from '../fhir/dates.ts'
import { asObject, asObjects, type Json } from '../fhir/json.ts'
import { keysAt, ownKey, referenceKey } from '../fhir/references.ts'
import type { Resources } from './context.ts'
import type { Examination } from './examinations.ts'
import {
  directly,
  directlyTo,
  type Gathering,
  keysIn,
  type Matter,
  ofAnotherStay,
  type Place,
  voided,
} from './gathering.ts'
import type { Ties } from './ladder.ts'
import type { Reading } from './reading.ts'
import { isPathologyReport } from './report-kinds.ts'

/**
 * Hangs reports on their examination: its own report, and pathology that the examination itself names, by specimen, order,
 * encounter, or patient and date.
 */
export function gatherPathology(gathering: Gathering): void {
  const { reading, ladder } = gathering
  const { resources, codes } = reading
  const foreign = foreignProcedures(gathering)
  for (const report of resources.ofType('DiagnosticReport')) {
    if (voided.has(report.status)) continue
    if (isPathologyReport(report, codes)) gatherPathologyReport(report, foreign, gathering)
    else gatherOwnReport(report, foreign, gathering)
  }
  for (const examination of ladder.examinations) openWithoutReport(examination, reading)
}

/** Procedures that are neither an examination nor part of one. */
interface Foreign {
  /** Reports that they name as their own. */
  readonly reports: ReadonlySet<string>
  /** Reports that any procedure names, be it one that was not done; worked out only for a survey. */
  readonly named: ReadonlySet<string>
  /** Encounters in which they were done. */
  readonly encounters: ReadonlySet<string>
}

function foreignProcedures({ reading: { procedures, survey }, ladder }: Gathering): Foreign {
  const reports = new Set<string>()
  const named = new Set<string>()
  const encounters = new Set<string>()
  for (const { resource } of procedures) {
    if (survey) for (const key of keysIn(resource.report)) if (key !== undefined) named.add(key)
    if (voided.has(resource.status) || ladder.direct(ownKey(resource))) continue
    const encounter = referenceKey(resource.encounter)
    if (encounter !== undefined) encounters.add(encounter)
    for (const key of keysIn(resource.report)) if (key !== undefined) reports.add(key)
  }
  return { reports, named, encounters }
}

/** Reports of the encounter that are of an endoscopy; one that another procedure may have written is nobody's for sure. */
function gatherOwnReport(report: Json, foreign: Foreign, { reading, ladder, place }: Gathering): void {
  const { codes, survey } = reading
  const key = ownKey(report)
  if (ladder.direct(key)) {
    survey?.linked(report)
    return
  }
  const encounter = referenceKey(report.encounter)
  const when = report.effectiveDateTime ?? report.effectivePeriod
  const found = (): Place | undefined => place(report, { encounter, when, withinDays: 1, isLate: true }, [])
  const { sets } = codes.of(report.code)
  if (!sets.has('endoscopy-report')) {
    // A report of the encounter may carry any code; one that nobody knows is shown.
    const placed = survey && (directly(keysIn(report.specimen), ladder) ?? found())
    if (placed?.examination.owned) survey?.missed('DiagnosticReport.code', report.code, placed.examination.patient)
    return
  }
  const isOfAnother =
    foreign.reports.has(key ?? '') ||
    (encounter !== undefined && foreign.encounters.has(encounter) && !sets.has('colonoscopy-report'))
  const own = isOfAnother ? undefined : found()
  own?.examination.ownReports.push(report)
  if (own) survey?.linked(report)
  else if (!foreign.named.has(key ?? '')) survey?.unlinked('DiagnosticReport of an endoscopy', report)
}

function gatherPathologyReport(report: Json, foreign: Foreign, gathering: Gathering): void {
  const { reading, ladder, place, leaveOpen } = gathering
  const { resources, codes, asOf, survey } = reading
  const specimens = keysIn(report.specimen)
  if (specimens.length > 0 && specimens.every((key) => isElsewhere(resources.at(key), codes))) return
  const direct = directlyTo(ownKey(report), ladder) ?? directly(specimens, ladder)
  const ties = pathologyTies(report, specimens, gathering)
  if (!direct && mayBeForeign(report, specimens, foreign, gathering)) {
    // Of the bowel or not, nobody can say: where it is of the bowel, or of no site we know, it may be an examination's.
    const near = foreign.reports.has(ownKey(report) ?? '') && !isColonic(report, resources, codes)
    const placement = near ? undefined : ladder.place(ties)
    if (placement) leaveOpen(report, 'rivals' in placement ? placement.rivals : [placement.examination], matters)
    else survey?.unlinked('DiagnosticReport of pathology that another procedure names', report)
    return
  }
  const placed = direct ?? place(report, ties, matters)
  if (!placed) {
    survey?.unlinked('DiagnosticReport of pathology', report)
    return
  }
  const { examination, rung } = placed
  survey?.linked(report)
  for (const key of specimens) {
    if (key === undefined) continue
    const specimen = resources.at(key)
    if (specimen === undefined && examination.owned) survey?.deadEnd('DiagnosticReport.specimen', report)
    if (isElsewhere(specimen, codes)) continue
    if (!examination.specimens.includes(key)) examination.specimens.push(key)
  }
  // A report issued after the as-of instant is not known yet: its specimens stay without a result.
  const isKnown = isKnownBy(report.issued, asOf, examination.zone)
  examination.pathologyReports.push(isKnown ? report : { ...report, ...notKnownYet })
  examination.trail?.note('pathology', report, rung, 'DiagnosticReport.status')
}

const matters: readonly Matter[] = ['polyps', 'pathology']
const notKnownYet = {
  status: 'registered',
  result: [],
  conclusionCode: [],
  conclusion: undefined,
  presentedForm: undefined,
}

/**
 * Whether a report may well be of another procedure: one names it, or one shares the encounter and no specimen is of a site
 * in the bowel, though their sites are stated.
 */
function mayBeForeign(
  report: Json,
  specimens: readonly (string | undefined)[],
  foreign: Foreign,
  { reading: { resources, codes } }: Gathering,
): boolean {
  if (foreign.reports.has(ownKey(report) ?? '')) return true
  const encounter = referenceKey(report.encounter)
  if (encounter === undefined || !foreign.encounters.has(encounter)) return false
  const sites = specimens.flatMap((key) => asObject(asObject(resources.at(key)?.collection)?.bodySite) ?? [])
  return sites.length > 0 && !sites.some((site) => codes.speaks(site, 'bowel-site'))
}

/** Ties of a report: the day of collection where it is known, else its own date, within the lag. */
function pathologyTies(report: Json, specimens: readonly (string | undefined)[], gathering: Gathering): Ties {
  const { reading, patientKey } = gathering
  const { resources, codes, source } = reading
  let collected: unknown
  for (const key of specimens) {
    const collection = asObject(resources.at(key)?.collection)
    collected ??= collection?.collectedDateTime ?? collection?.collectedPeriod
  }
  const dated = collected ?? report.effectiveDateTime ?? report.effectivePeriod
  return {
    orders: keysIn(report.basedOn),
    encounter: referenceKey(report.encounter),
    when: dated ?? report.issued,
    withinDays: collected === undefined ? source.pathologyLagDays : 1,
    isLate: true,
    // Surgical pathology of the same patient may be of a foot: by date alone only what is of the large bowel. A laboratory may
    // have an encounter of its own, so that another one decides only where nothing says when the tissue was taken.
    ...(isColonic(report, resources, codes) && {
      patient: patientKey(report.subject),
      isOfAnother: collected === undefined ? ofAnotherStay(report.encounter, gathering) : undefined,
    }),
  }
}

/** An examination whose own report did not come may have found anything: silence means nothing there. */
function openWithoutReport(
  { all, ownReports, openKinds, trail, lead }: Examination,
  { resources, codes }: Reading,
): void {
  if (ownReports.length > 0) return
  let isMissing = false
  for (const key of keysAt(all, 'report')) {
    const report = resources.at(key)
    if (report === undefined) isMissing = true
    else if (!isPathologyReport(report, codes)) return
  }
  if (!isMissing || openKinds.includes('polyps')) return
  openKinds.push('polyps')
  trail?.doubt('report of the examination did not come', lead)
}

/** Whether a specimen is of another organ. */
export const isElsewhere = (specimen: Json | undefined, codes: Codes): boolean =>
  codes.in(asObject(specimen?.collection)?.bodySite, 'upper-endoscopy-specimen-site')

/** Whether anything in a report says large bowel: a specimen's site, or a class of histology we know. */
function isColonic(report: Json, resources: Resources, codes: Codes): boolean {
  for (const one of asObjects(report.specimen)) {
    const site = asObject(resources.at(referenceKey(one))?.collection)?.bodySite
    if (codes.speaks(site, 'bowel-site')) return true
  }
  for (const one of asObjects(report.result)) {
    const value = resources.at(referenceKey(one))?.valueCodeableConcept
    // Of classes that differ at least one is no "other".
    if (codes.speaks(value, 'histology') && codes.word(value, 'histology') !== 'other') return true
  }
  return false
}
