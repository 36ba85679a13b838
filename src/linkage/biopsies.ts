import type { Colonoscopy } from '../record/colonoscopy.ts'
import type { FieldName } from '../record/fields.ts'
import type { BowelPart } from './bowel-part.ts'
import type { Examination } from './examinations.ts'
import type { Histology } from './histology.ts'
import type { PolypFindings } from './polyps.ts'
import { type Reading, valueElementOf } from './reading.ts'
import { isLesion } from './remark.ts'
import { type SentBiopsies, sentBiopsies } from './sent-biopsies.ts'
import { settle } from './settle.ts'
import { biopsyStated, numberFields, type StatedBiopsies, statedBiopsies } from './stated-biopsies.ts'

type Biopsies = Pick<
  Colonoscopy,
  | 'biopsiesRight'
  | 'biopsiesRightAtLeast'
  | 'biopsiesLeft'
  | 'biopsiesLeftAtLeast'
  | 'biopsiesRectum'
  | 'biopsiesRectumAtLeast'
>

/** Number of the biopsies of one part, and the fewest that there can have been. */
interface Taken {
  readonly exact: number | undefined
  readonly atLeast: number | undefined
}

/**
 * Biopsies of the mucosa, polyps aside, by part of the bowel: as observations state their number, else as pots and biopsy procedures
 * tell of them. Fewer stated than were sent is a contradiction: no number stands, and the lower one is the least.
 *
 * @param isPolypsTold the source sends every polyp, and the report is not preliminary: only then is tissue that is no polyp's
 *   of the mucosa, and silence none
 */
export function readBiopsies(
  examination: Examination,
  findings: PolypFindings,
  { readings }: Histology,
  isPolypsTold: boolean,
  reading: Reading,
): Biopsies {
  const stated = statedBiopsies(examination, reading)
  const lesionPots = new Set(readings.flatMap(({ pots, remarks }) => (remarks.some(isLesion) ? pots : [])))
  const context = { findings, lesionPots, isPolypsTold, isStated: biopsyStated(examination, reading) !== undefined }
  const sent = sentBiopsies(examination, context, reading)
  const of = (part: BowelPart) => takenFrom(part, stated.get(part), sent[part], examination)
  const [right, left, rectum] = [of('right'), of('left'), of('rectum')]
  return {
    biopsiesRight: right.exact,
    biopsiesRightAtLeast: right.atLeast,
    biopsiesLeft: left.exact,
    biopsiesLeftAtLeast: left.atLeast,
    biopsiesRectum: rectum.exact,
    biopsiesRectumAtLeast: rectum.atLeast,
  }
}

function takenFrom(
  part: BowelPart,
  stated: StatedBiopsies | undefined,
  sent: SentBiopsies,
  examination: Examination,
): Taken {
  const field = numberFields[part]
  const { trail } = examination
  const number = settle(field, stated?.statements, examination)
  if (number !== undefined) {
    const statements = stated?.statements ?? []
    if (trail)
      for (const { told } of statements) trail.note(`${field}AtLeast`, told.resource, told.rung, valueElementOf(told))
    if (sent.atLeast <= number) return { exact: number, atLeast: number }
    const resources = [...statements, ...sent.acts.map((told) => ({ told }))].map(({ told }) => told.resource)
    trail?.contradict('fewer biopsies stated than sent', ...resources, ...sent.pots.map(({ resource }) => resource))
    return { exact: undefined, atLeast: number }
  }
  // What is stated and cannot be read, or differs, may be any number: nothing else takes its place.
  const exact = stated === undefined ? sent.exact : undefined
  const atLeast = exact ?? (sent.atLeast > 0 ? sent.atLeast : undefined)
  noteSent(field, { exact, atLeast }, sent, examination)
  return { exact, atLeast }
}

function noteSent(
  field: (typeof numberFields)[BowelPart],
  { exact, atLeast }: Taken,
  { pots, acts }: SentBiopsies,
  { trail }: Examination,
): void {
  if (trail === undefined || atLeast === undefined) return
  const least: FieldName = `${field}AtLeast`
  for (const { resource, count } of pots) {
    const element = count === undefined ? 'Specimen.collection.bodySite' : 'Specimen.collection.quantity'
    trail.note(least, resource, 'inferred from the findings', element)
    if (exact !== undefined) trail.note(field, resource, 'inferred from the findings', element)
  }
  if (pots.length === 0) for (const { resource, rung } of acts) trail.note(least, resource, rung, 'Procedure.bodySite')
  if (exact === 0)
    for (const name of [field, least])
      trail.note(name, undefined, 'nothing found in a complete feed', 'Procedure.partOf')
}
