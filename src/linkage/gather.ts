import { isKnownBy, readMoment } from '../fhir/dates.ts'
import { asObject, asObjects, asText, type Json } from '../fhir/json.ts'
import { keysAt, ownKey, referenceKey } from '../fhir/references.ts'
import type { LeftOut, LinkContext, Resources } from './context.ts'
import type { Examination } from './examinations.ts'
import type { Ladder, Placement, Ties } from './ladder.ts'
import { topicOf } from './topics.ts'

const keysIn = (value: unknown): (string | undefined)[] => asObjects(value).map(referenceKey)
const voided = new Set(['entered-in-error', 'cancelled', 'not-done'])

/**
 * Hangs every resource on the examination it belongs to, by the ladder. What fits several examinations is listed as ambiguous
 * and hung on none.
 */
export function gather(
  resources: Resources,
  ladder: Ladder,
  patientKey: (subject: unknown) => string | undefined,
  { codes, source, asOf }: LinkContext,
): LeftOut[] {
  const ambiguous: LeftOut[] = []
  const place = (resource: Json, ties: Ties): Examination | undefined => {
    const placement: Placement = ladder.place(ties)
    if (placement === undefined) return undefined
    if ('examination' in placement) return placement.examination
    // The earliest rival's window lists it, so that it is listed once however the period is split.
    const first = [...placement.rivals].sort((one, other) => (one.date < other.date ? -1 : 1))[0]
    if (first?.owned)
      ambiguous.push({ reference: ownKey(resource) ?? String(resource.resourceType), reason: 'link ambiguous' })
    return undefined
  }
  const dateOf = (value: unknown) => readMoment(value, source.zone)?.date
  /** Patient and date by which a report without any other tie is placed: the day of collection, else within the lag. */
  const pathologyDate = (report: Json, specimens: readonly (string | undefined)[]) => {
    const collected = specimens
      .map((key) => dateOf(asObject(resources.at(key)?.collection)?.collectedDateTime))
      .find((date) => date !== undefined)
    return {
      patient: patientKey(report.subject),
      date: collected ?? dateOf(report.effectiveDateTime ?? report.issued),
      withinDays: collected === undefined ? source.pathologyLagDays : 1,
    }
  }

  // Sub-procedures: with partOf; without it only where the code is one of the large bowel and the encounter is shared.
  for (const procedure of resources.ofType('Procedure')) {
    if (voided.has(asText(procedure.status) ?? '') || ladder.direct(ownKey(procedure))) continue
    const code = codes.of(procedure.code)
    const isOurs = code.sets.has('polypectomy') || code.sets.has('tissue-taken-or-treated')
    const parts = keysIn(procedure.partOf)
    const ties: Ties =
      parts.length > 0
        ? { direct: parts }
        : isOurs && !code.sets.has('colonoscopy')
          ? {
              encounter: referenceKey(procedure.encounter),
              date: dateOf(asObject(procedure.performedPeriod)?.start ?? procedure.performedDateTime),
            }
          : {}
    const examination = place(procedure, ties)
    if (!examination) continue
    examination.children.push({ resource: procedure, code })
    ladder.attach(ownKey(procedure), examination)
  }

  for (const observation of resources.ofType('Observation')) {
    const code = codes.of(observation.code)
    // Most observations of a patient are of something else; a code we know is in a value set or is one of ours.
    if ((code.fact === undefined && code.sets.size === 0) || voided.has(asText(observation.status) ?? '')) continue
    const parts = asObjects(observation.partOf)
    const examination =
      parts.length > 0
        ? directly(parts, ladder)
        : place(observation, {
            encounter: referenceKey(observation.encounter),
            patient: patientKey(observation.subject),
            date: dateOf(observation.effectiveDateTime ?? asObject(observation.effectivePeriod)?.start),
          })
    if (!examination) continue
    const topic = topicOf(code)
    examination.observations[topic].push({ resource: observation, code })
    if (topic !== 'polyp') continue
    // A polyp, and the pot it went into, lead to the examination too.
    ladder.attach(referenceKey(observation.specimen), examination)
    ladder.attach(ownKey(observation), examination)
  }

  for (const condition of resources.ofType('Condition')) {
    const code = codes.of(condition.code)
    if (!code.sets.has('polyp-finding') || isRefuted(condition)) continue
    const examination = place(condition, { encounter: referenceKey(condition.encounter) })
    examination?.conditions.push({ resource: condition, code })
  }

  for (const specimen of resources.ofType('Specimen')) {
    const key = ownKey(specimen)
    const collection = asObject(specimen.collection)
    if (key === undefined || specimen.status === 'entered-in-error') continue
    if (codes.in(collection?.bodySite, 'upper-endoscopy-specimen-site')) continue
    const direct = ladder.direct(key)
    const colonic = codes.word(collection?.bodySite, 'bowel-site') !== undefined
    const examination =
      direct ??
      place(specimen, {
        orders: keysIn(specimen.request),
        // Without a colonic site a jar of the same day could be anything.
        ...(colonic && {
          patient: patientKey(specimen.subject),
          date: dateOf(collection?.collectedDateTime ?? asObject(collection?.collectedPeriod)?.start),
          withinDays: 1,
        }),
      })
    if (!examination) continue
    if (!examination.specimens.includes(key)) examination.specimens.push(key)
    ladder.attach(key, examination)
  }

  // A report that another procedure names as its own is that procedure's, whatever encounter they share.
  const reportsOfOthers = new Set(
    keysAt(
      resources.ofType('Procedure').filter((procedure) => !ladder.direct(ownKey(procedure))),
      'report',
    ),
  )
  for (const report of resources.ofType('DiagnosticReport')) {
    if (voided.has(asText(report.status) ?? '')) continue
    const code = codes.of(report.code)
    if (code.sets.has('endoscopy-report')) {
      place(report, { encounter: referenceKey(report.encounter) })?.ownReports.push(report)
      continue
    }
    if (reportsOfOthers.has(ownKey(report) ?? '')) continue
    const isPathology =
      code.sets.has('pathology-report') || asObjects(report.category).some((one) => codes.in(one, 'pathology-report'))
    if (!isPathology) continue
    const specimens = keysIn(report.specimen)
    if (specimens.length > 0 && specimens.every((key) => isElsewhere(resources.at(key), codes))) continue
    const examination =
      directly(asObjects(report.specimen), ladder) ??
      place(report, {
        orders: keysIn(report.basedOn),
        encounter: referenceKey(report.encounter),
        // Surgical pathology of the same patient may be of a foot: by date alone only what is of the large bowel.
        ...(isColonic(report, resources, codes) && pathologyDate(report, specimens)),
      })
    if (!examination) continue
    for (const key of specimens) {
      if (key === undefined || isElsewhere(resources.at(key), codes)) continue
      if (!examination.specimens.includes(key)) examination.specimens.push(key)
    }
    // A report issued after the as-of instant is not known yet: its specimens stay without a result.
    if (isKnownBy(report.issued, asOf, examination.zone)) examination.pathologyReports.push(report)
    else examination.pathologyReports.push({ ...report, status: 'registered', result: [], conclusionCode: [] })
  }
  return ambiguous
}

/** Examination that the first known of some references leads to. */
function directly(references: readonly Json[], ladder: Ladder): Examination | undefined {
  for (const reference of references) {
    const examination = ladder.direct(referenceKey(reference))
    if (examination) return examination
  }
  return undefined
}

/** Whether a specimen is of another organ. */
export const isElsewhere = (specimen: Json | undefined, codes: LinkContext['codes']): boolean =>
  codes.in(asObject(specimen?.collection)?.bodySite, 'upper-endoscopy-specimen-site')

/** Whether anything in a report says large bowel: a specimen's site, or a class of histology we know. */
function isColonic(report: Json, resources: Resources, codes: LinkContext['codes']): boolean {
  const sites = asObjects(report.specimen).map((one) => asObject(resources.at(referenceKey(one))?.collection)?.bodySite)
  if (sites.some((site) => codes.word(site, 'bowel-site') !== undefined)) return true
  return asObjects(report.result).some((one) => {
    const word = codes.word(resources.at(referenceKey(one))?.valueCodeableConcept, 'histology')
    return word !== undefined && word !== 'other'
  })
}

/** A condition that somebody ruled out, or entered by mistake. */
export function isRefuted(condition: Json): boolean {
  return asObjects(asObject(condition.verificationStatus)?.coding).some(
    ({ code }) => code === 'refuted' || code === 'entered-in-error',
  )
}
