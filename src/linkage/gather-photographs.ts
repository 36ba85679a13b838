import { factSystem } from '../fhir/canonical.ts'
import { isKnownBy } from '../fhir/dates.ts'
import { asObject, asObjects, type Json } from '../fhir/json.ts'
import { keysAt, ownKey, referenceKey } from '../fhir/references.ts'
import { hang } from './examinations.ts'
import { directly, type Gathering, type Matter, ofAnotherStay, voided, wholeOf } from './gathering.ts'
import type { Ties } from './ladder.ts'

const landmarkPhotograph = { coding: [{ system: factSystem, code: 'landmark-photograph' }] }

/** A picture without a site is of no landmark, and leaves nothing open. */
const mattersOf = ({ bodySite }: Json): readonly Matter[] => (bodySite === undefined ? [] : ['photographs', 'course'])

/** Statuses of a picture that was not taken. */
const untaken: ReadonlySet<unknown> = new Set([...voided, 'preparation'])

/**
 * Photographs sent as Media: one whose bodySite is a landmark is a landmark photograph like any observation of one. Named by the
 * examination's own report, part of it, of its encounter, or of the patient that day.
 */
export function gatherPhotographs(gathering: Gathering): void {
  const { reading, ladder, patientKey, place } = gathering
  const { resources, codes, asOf, survey } = reading
  const pictures = resources.ofType('Media')
  if (pictures.length === 0) return
  for (const examination of ladder.examinations) {
    const named = keysAt(examination.all, 'report').map((key) => resources.at(key))
    for (const report of [...named, ...examination.ownReports])
      for (const { link } of asObjects(report?.media)) ladder.attach(referenceKey(link), examination)
  }
  const code = codes.of(landmarkPhotograph)
  for (const picture of pictures) {
    if (untaken.has(picture.status)) continue
    const when = picture.createdDateTime ?? picture.createdPeriod
    const whole = directly([ownKey(picture)], ladder) ?? wholeOf(picture.partOf, gathering)
    const ties = (): Ties => ({
      encounter: referenceKey(picture.encounter),
      patient: patientKey(picture.subject),
      when,
      isOfAnother: ofAnotherStay(picture.encounter, gathering),
    })
    const placed = whole === 'another' ? undefined : (whole ?? place(picture, ties(), mattersOf(picture)))
    if (!placed) {
      survey?.unlinked('Media', picture)
      continue
    }
    const { examination, rung } = placed
    survey?.linked(picture)
    if (!isKnownBy(picture.issued ?? asObject(when)?.start ?? when, asOf, examination.zone)) continue
    // A picture without a site is of no landmark; one whose site nobody can read may be of any.
    if (picture.bodySite === undefined) continue
    const holder = { valueCodeableConcept: picture.bodySite }
    hang(examination, 'course', { resource: picture, holder, code, rung })
  }
}
