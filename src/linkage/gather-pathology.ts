import type { Codes } from '../fhir/codes.ts'
import { isKnownBy } from '../fhir/dates.ts'
import { asObject, asObjects, type Json } from '../fhir/json.ts'
import { keysAt, ownKey, referenceKey } from '../fhir/references.ts'
import type { Resources } from './context.ts'
import { dateIn, directly, type Gathering, keysIn, voided } from './gathering.ts'
import type { Ties } from './ladder.ts'

/** Hangs reports on their examination: its own report, and pathology by specimen, order, encounter, or patient and date. */
export function gatherPathology(gathering: Gathering): void {
  const { reading, ladder, place } = gathering
  const { resources, codes, asOf, survey } = reading
  const others = reportsOfOthers(gathering)
  let named: ReadonlySet<string | undefined> | undefined
  for (const report of resources.ofType('DiagnosticReport')) {
    if (voided.has(report.status)) continue
    const code = codes.of(report.code)
    if (code.sets.has('endoscopy-report')) {
      const own = place(report, { encounter: referenceKey(report.encounter) })
      own?.examination.ownReports.push(report)
      if (survey && own === undefined) {
        named ??= new Set(resources.ofType('Procedure').flatMap((one) => keysIn(one.report)))
        if (!named.has(ownKey(report) ?? '')) survey.unlinked('DiagnosticReport of an endoscopy', report)
      } else survey?.linked(report)
      continue
    }
    if (others.has(ownKey(report) ?? '')) continue
    const isPathology =
      code.sets.has('pathology-report') || asObjects(report.category).some((one) => codes.in(one, 'pathology-report'))
    if (!isPathology) {
      // Its own report may carry any code; one that nothing names and nobody knows is shown.
      if (survey && !ladder.direct(ownKey(report)))
        survey.missed(
          'DiagnosticReport.code',
          report.code,
          place(report, { encounter: referenceKey(report.encounter) })?.examination.patient,
        )
      continue
    }
    const specimens = keysIn(report.specimen)
    if (specimens.length > 0 && specimens.every((key) => isElsewhere(resources.at(key), codes))) continue
    const placed =
      directly(specimens, ladder) ??
      place(report, {
        orders: keysIn(report.basedOn),
        encounter: referenceKey(report.encounter),
        // Surgical pathology of the same patient may be of a foot: by date alone only what is of the large bowel.
        ...(isColonic(report, resources, codes) && pathologyDate(report, specimens, gathering)),
      })
    if (!placed) {
      survey?.unlinked('DiagnosticReport of pathology', report)
      continue
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
    examination.pathologyReports.push(
      isKnown
        ? report
        : {
            ...report,
            status: 'registered',
            result: [],
            conclusionCode: [],
            conclusion: undefined,
            presentedForm: undefined,
          },
    )
    examination.trail?.note('pathology', report, rung, 'DiagnosticReport.status')
  }
}

/** Patient and date by which a report without any other tie is placed: the day of collection, else within the lag. */
function pathologyDate(
  report: Json,
  specimens: readonly (string | undefined)[],
  { reading, patientKey }: Gathering,
): Ties {
  const { resources, source } = reading
  const collected = specimens
    .map((key) => dateIn(asObject(resources.at(key)?.collection)?.collectedDateTime, source.zone))
    .find((date) => date !== undefined)
  return {
    patient: patientKey(report.subject),
    date: collected ?? dateIn(report.effectiveDateTime ?? report.issued, source.zone),
    withinDays: collected === undefined ? source.pathologyLagDays : 1,
  }
}

/** Whether a specimen is of another organ. */
export const isElsewhere = (specimen: Json | undefined, codes: Codes): boolean =>
  codes.in(asObject(specimen?.collection)?.bodySite, 'upper-endoscopy-specimen-site')

/** Whether anything in a report says large bowel: a specimen's site, or a class of histology we know. */
function isColonic(report: Json, resources: Resources, codes: Codes): boolean {
  const sites = asObjects(report.specimen).map((one) => asObject(resources.at(referenceKey(one))?.collection)?.bodySite)
  if (sites.some((site) => codes.word(site, 'bowel-site') !== undefined)) return true
  return asObjects(report.result).some((one) => {
    const word = codes.word(resources.at(referenceKey(one))?.valueCodeableConcept, 'histology')
    return word !== undefined && word !== 'other'
  })
}

/** Reports that procedures of other examinations name as their own, whatever encounter they share. */
function reportsOfOthers({ reading, ladder }: Gathering): ReadonlySet<string> {
  const others = reading.resources.ofType('Procedure').filter((procedure) => !ladder.direct(ownKey(procedure)))
  return new Set(keysAt(others, 'report'))
}
