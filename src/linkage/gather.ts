import { unknownMeaning } from '../fhir/codes.ts'
import { isKnownBy } from '../fhir/dates.ts'
import { asObject } from '../fhir/json.ts'
import { ownKey, referenceKey } from '../fhir/references.ts'
import { isRefuted } from './conditions.ts'
import type { LeftOut } from './context.ts'
import { gatherObservations } from './gather-observations.ts'
import { gatherPathology } from './gather-pathology.ts'
import { gatherPhotographs } from './gather-photographs.ts'
import { dateIn, directly, type Gathering, keysIn, type Place, type PlaceResource, voided } from './gathering.ts'
import type { Ladder, Ties } from './ladder.ts'
import type { PatientKey } from './patients.ts'
import type { Reading } from './reading.ts'

/**
 * Hangs every resource on the examination it belongs to, by the ladder. What fits several examinations is listed as ambiguous
 * and hung on none.
 */
export function gather(reading: Reading, ladder: Ladder, patientKey: PatientKey): LeftOut[] {
  const ambiguous: LeftOut[] = []
  const place: PlaceResource = (resource, ties) => {
    const placement = ladder.place(ties)
    if (placement === undefined || 'examination' in placement) return placement
    // The earliest rival's window lists it, so that it is listed once however the period is split.
    const first = [...placement.rivals].sort((one, other) => (one.date < other.date ? -1 : 1))[0]
    if (first?.owned)
      ambiguous.push({ reference: ownKey(resource) ?? String(resource.resourceType), reason: 'link ambiguous' })
    return undefined
  }
  const gathering: Gathering = { reading, ladder, patientKey, place }
  gatherSubProcedures(gathering)
  gatherObservations(gathering)
  gatherPolypConditions(gathering)
  gatherMedication(gathering)
  gatherSpecimens(gathering)
  gatherPathology(gathering)
  gatherPhotographs(gathering)
  return ambiguous
}

/** Statuses of a procedure that was done, in whole or in part. */
const done: ReadonlySet<unknown> = new Set(['completed', 'stopped'])

/** Sub-procedures: with partOf; without it only where the code is one of the large bowel and the encounter is shared. */
function gatherSubProcedures({ reading: { procedures, source, survey }, ladder, place }: Gathering): void {
  for (const { resource: procedure, code } of procedures) {
    const { sets } = code
    // Nearly every colonoscopy is an examination itself; what is neither part of one nor of the bowel is another's.
    const isOurs = sets.has('polypectomy') || sets.has('tissue-taken-or-treated') || sets.has('tattoo')
    const parts = procedure.partOf === undefined ? [] : keysIn(procedure.partOf)
    let ties: Ties
    if (parts.length > 0) ties = { direct: parts }
    else if (isOurs && !sets.has('colonoscopy'))
      ties = {
        encounter: referenceKey(procedure.encounter),
        date: dateIn(procedure.performedPeriod ?? procedure.performedDateTime, source.zone),
      }
    else continue
    if (voided.has(procedure.status) || ladder.direct(ownKey(procedure))) continue
    const placed = place(procedure, ties)
    if (!placed) {
      if (isOurs) survey?.unlinked('Procedure: polypectomy, biopsy or tattoo', procedure)
      continue
    }
    const { examination, rung } = placed
    if (isOurs) survey?.linked(procedure)
    else if (examination.owned)
      survey?.missed('Procedure.code (part of a colonoscopy)', procedure.code, examination.patient)
    const told = { resource: procedure, holder: procedure, code, rung }
    if (!done.has(procedure.status)) {
      // Nobody says that it was done, and nobody that it was not.
      if (isOurs) examination.openActs.push(told)
      examination.trail?.cannotRead('tissueTakenOrTreated', procedure, 'Procedure.status')
      continue
    }
    examination.children.push(told)
    ladder.attach(ownKey(procedure), examination)
  }
}

function gatherPolypConditions({ reading: { resources, codes, survey }, place }: Gathering): void {
  for (const condition of resources.ofType('Condition')) {
    const code = codes.of(condition.code)
    if (!code.sets.has('polyp-finding') || isRefuted(condition)) continue
    const placed = place(condition, { encounter: referenceKey(condition.encounter) })
    if (placed) survey?.linked(condition)
    else survey?.unlinked('Condition: polyp', condition)
    placed?.examination.conditions.push({ resource: condition, holder: condition, code, rung: placed.rung })
  }
}

/**
 * Drugs given: as part of the examination; else on its day, in its encounter or with no other examination of the patient that
 * day. An encounter may be a stay of weeks, so the day is asked for even there.
 */
function gatherMedication({ reading, ladder, patientKey, place }: Gathering): void {
  const { resources, codes, source, asOf, survey } = reading
  for (const dose of resources.ofType('MedicationAdministration')) {
    if (voided.has(dose.status)) continue
    const reference = asObject(dose.medicationReference)
    const concept = reference ? resources.at(referenceKey(reference))?.code : dose.medicationCodeableConcept
    const code = codes.of(concept)
    const parts = keysIn(dose.partOf)
    const when = dose.effectivePeriod ?? dose.effectiveDateTime
    const placed =
      parts.length > 0
        ? directly(parts, ladder)
        : onTheDay(
            place(dose, {
              encounter: referenceKey(dose.context),
              patient: patientKey(dose.subject),
              date: dateIn(when, source.zone),
            }),
            dateIn(when, source.zone),
          )
    if (!placed) {
      if (parts.length > 0 && code !== unknownMeaning) survey?.unlinked('MedicationAdministration', dose)
      continue
    }
    const { examination, rung } = placed
    survey?.linked(dose)
    if (!isKnownBy(asObject(when)?.start ?? when, asOf, examination.zone)) continue
    const surveyed = examination.owned ? survey : undefined
    if (reference && concept === undefined) surveyed?.deadEnd('MedicationAdministration.medicationReference', dose)
    if (code.sets.size === 0 && code.fact === undefined)
      surveyed?.missed('MedicationAdministration.medication', concept, examination.patient)
    // A drug that nobody knows may be any: it is kept, so that its reader does not take silence for none.
    examination.medications.push({ resource: dose, holder: dose, code, rung })
  }
}

/** A placement by the shared encounter holds only where what was done there was done on the examination's day. */
function onTheDay(placed: Place | undefined, date: string | undefined): Place | undefined {
  if (placed === undefined || placed.rung === 'direct reference' || date === undefined) return placed
  const { first, last } = placed.examination.span
  return date >= first && date <= last ? placed : undefined
}

/** Specimens: named by a polyp or an order, else of a colonic site and collected on the day of the only examination. */
function gatherSpecimens({
  reading: { resources, codes, source, survey },
  ladder,
  patientKey,
  place,
}: Gathering): void {
  for (const specimen of resources.ofType('Specimen')) {
    const key = ownKey(specimen)
    const collection = asObject(specimen.collection)
    if (key === undefined || specimen.status === 'entered-in-error') continue
    const site = codes.of(collection?.bodySite)
    if (site.sets.has('upper-endoscopy-specimen-site')) continue
    const colonic = site.words.has('bowel-site') || site.fact !== undefined
    const direct = ladder.direct(key)
    const placed =
      (direct && ({ examination: direct, rung: 'direct reference' } as const)) ??
      place(specimen, {
        orders: keysIn(specimen.request),
        // Without a colonic site a jar of the same day could be anything.
        ...(colonic && {
          patient: patientKey(specimen.subject),
          date: dateIn(collection?.collectedDateTime ?? collection?.collectedPeriod, source.zone),
          withinDays: 1,
        }),
      })
    if (!placed) {
      survey?.unlinked('Specimen', specimen)
      continue
    }
    const { examination, rung } = placed
    examination.trail?.note('pathology', specimen, rung, 'Specimen.collection')
    survey?.linked(specimen)
    if (!colonic && examination.owned)
      survey?.missed('Specimen.collection.bodySite', collection?.bodySite, examination.patient)
    if (!examination.specimens.includes(key)) examination.specimens.push(key)
    ladder.attach(key, examination)
  }
}
