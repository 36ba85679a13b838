import { isKnownBy } from '../fhir/dates.ts'
import { asObject } from '../fhir/json.ts'
import { unknownMeaning } from '../fhir/meaning.ts'
import { ownKey, referenceKey } from '../fhir/references.ts'
import { isRefuted, onsetOf } from './conditions.ts'
import type { LeftOut } from './context.ts'
import { gatherObservations } from './gather-observations.ts'
import { gatherPathology } from './gather-pathology.ts'
import { gatherPhotographs } from './gather-photographs.ts'
import { type Gathering, keysIn, ofAnotherStay, type PlaceResource, voided, wholeOf } from './gathering.ts'
import type { Ladder, Ties } from './ladder.ts'
import type { PatientKey } from './patients.ts'
import type { Reading } from './reading.ts'

/**
 * Hangs every resource on the examination it belongs to, by the ladder. What fits several examinations is listed as ambiguous,
 * hung on none, and makes silence about its matter mean nothing in each of them.
 */
export function gather(reading: Reading, ladder: Ladder, patientKey: PatientKey): LeftOut[] {
  const ambiguous: LeftOut[] = []
  const leaveOpen: Gathering['leaveOpen'] = (resource, examinations, matters) => {
    for (const examination of examinations)
      for (const matter of matters)
        if (matter === 'course') examination.isCourseOpen = true
        else if (!examination.openKinds.includes(matter)) examination.openKinds.push(matter)
    // The earliest rival's window lists it, so that it is listed once however the period is split.
    const first = [...examinations].sort((one, other) => (one.date < other.date ? -1 : 1))[0]
    if (first?.owned)
      ambiguous.push({ reference: ownKey(resource) ?? String(resource.resourceType), reason: 'link ambiguous' })
  }
  const place: PlaceResource = (resource, ties, matters) => {
    const placement = ladder.place(ties)
    if (placement === undefined || 'examination' in placement) return placement
    leaveOpen(resource, placement.rivals, matters)
    return undefined
  }
  const gathering: Gathering = { reading, ladder, patientKey, place, leaveOpen }
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

/**
 * Sub-procedures: with partOf; without it where the code is one of the large bowel, by order, encounter, or patient and day. Of
 * the patient and day alone only what names the colon by its code: a biopsy of that day may be of anything.
 */
function gatherSubProcedures(gathering: Gathering): void {
  const { reading, ladder, patientKey, place } = gathering
  const { procedures, survey } = reading
  for (const { resource: procedure, code } of procedures) {
    const { sets } = code
    const isOurs = sets.has('polypectomy') || sets.has('tissue-taken-or-treated') || sets.has('tattoo')
    const { partOf } = procedure
    // Nearly every colonoscopy is an examination itself; what is neither part of one nor of the bowel is another's.
    if (partOf === undefined && (!isOurs || sets.has('colonoscopy'))) continue
    if (voided.has(procedure.status) || ladder.direct(ownKey(procedure))) continue
    const whole = partOf === undefined ? undefined : wholeOf(partOf, gathering)
    const ties = (): Ties => ({
      orders: keysIn(procedure.basedOn),
      encounter: referenceKey(procedure.encounter),
      when: procedure.performedPeriod ?? procedure.performedDateTime,
      ...((sets.has('polypectomy') || sets.has('tattoo')) && {
        patient: patientKey(procedure.subject),
        isOfAnother: ofAnotherStay(procedure.encounter, gathering),
      }),
    })
    const placed =
      whole === 'another' ? undefined : (whole ?? (isOurs ? place(procedure, ties(), ['polyps']) : undefined))
    if (!placed) {
      if (isOurs) survey?.unlinked('Procedure: polypectomy, biopsy or tattoo', procedure)
      continue
    }
    const { examination, rung } = placed
    if (isOurs) survey?.linked(procedure)
    else if (examination.owned)
      survey?.missed('Procedure.code (part of a colonoscopy)', procedure.code, examination.patient)
    if (!done.has(procedure.status)) {
      // Nobody says that it was done, and nobody that it was not.
      if (isOurs && !examination.openKinds.includes('polyps')) examination.openKinds.push('polyps')
      examination.trail?.cannotRead('tissueTakenOrTreated', procedure, 'Procedure.status')
      continue
    }
    examination.children.push({ resource: procedure, holder: procedure, code, rung })
    ladder.attach(ownKey(procedure), examination)
  }
}

/** Polyps told as Conditions of the encounter; one that began before the examination was not found in it. */
function gatherPolypConditions({ reading: { resources, codes, survey }, place }: Gathering): void {
  for (const condition of resources.ofType('Condition')) {
    const code = codes.of(condition.code)
    if (!code.sets.has('polyp-finding') || isRefuted(condition)) continue
    const when = onsetOf(condition) ?? condition.recordedDate
    const ties = { encounter: referenceKey(condition.encounter), when, withinDays: 1 }
    const placed = place(condition, ties, ['polyps'])
    if (placed) survey?.linked(condition)
    else survey?.unlinked('Condition: polyp', condition)
    placed?.examination.conditions.push({ resource: condition, holder: condition, code, rung: placed.rung })
  }
}

/**
 * Drugs given: as part of the examination; else on its days, in its encounter or with no other examination of the patient
 * that fits.
 */
function gatherMedication(gathering: Gathering): void {
  const { reading, patientKey, place } = gathering
  const { resources, codes, asOf, survey } = reading
  for (const dose of resources.ofType('MedicationAdministration')) {
    if (voided.has(dose.status)) continue
    const reference = asObject(dose.medicationReference)
    const concept = reference ? resources.at(referenceKey(reference))?.code : dose.medicationCodeableConcept
    const code = codes.of(concept)
    const when = dose.effectivePeriod ?? dose.effectiveDateTime
    const whole = dose.partOf === undefined ? undefined : wholeOf(dose.partOf, gathering)
    const ties = (): Ties => ({
      encounter: referenceKey(dose.context),
      patient: patientKey(dose.subject),
      when,
      isOfAnother: ofAnotherStay(dose.context, gathering),
    })
    const placed = whole === 'another' ? undefined : (whole ?? place(dose, ties(), ['medication']))
    if (!placed) {
      if (dose.partOf !== undefined && code !== unknownMeaning) survey?.unlinked('MedicationAdministration', dose)
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

/** Specimens: named by a polyp or an order, else of a colonic site and collected on the day of the only examination. */
function gatherSpecimens({ reading: { resources, codes, survey }, ladder, patientKey, place }: Gathering): void {
  for (const specimen of resources.ofType('Specimen')) {
    const key = ownKey(specimen)
    const collection = asObject(specimen.collection)
    if (key === undefined || specimen.status === 'entered-in-error') continue
    const site = codes.of(collection?.bodySite)
    if (site.sets.has('upper-endoscopy-specimen-site')) continue
    const colonic = codes.speaks(collection?.bodySite, 'bowel-site')
    const direct = ladder.direct(key)
    const placed =
      (direct && ({ examination: direct, rung: 'direct reference' } as const)) ??
      place(
        specimen,
        {
          orders: keysIn(specimen.request),
          when: collection?.collectedDateTime ?? collection?.collectedPeriod,
          withinDays: 1,
          // Without a colonic site a jar of the same day could be anything.
          ...(colonic && { patient: patientKey(specimen.subject) }),
        },
        ['polyps', 'pathology'],
      )
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
