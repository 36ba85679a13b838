import type { Json } from '../fhir/json.ts'
import type { Polyp } from '../record/colonoscopy.ts'
import type { FieldName } from '../record/fields.ts'
import type { Rung } from './rungs.ts'

/** A fact, or one of the facts of a polyp. */
export type EvidenceField = FieldName | `polyps.${keyof Polyp}`

/** One thing that a fact rests on. The resource is held as it is: its name is made only when somebody asks. */
export interface Evidence {
  readonly field: EvidenceField
  /** Absent where nothing but an absence tells. */
  readonly resource: Json | undefined
  readonly rung: Rung
  /** Element that was read, such as `Observation.valueQuantity`. */
  readonly element: string
}

/** A value that stands where a fact is expected and cannot be read: the fact counts as not recorded. */
export interface Unreadable {
  readonly field: FieldName
  readonly resource: Json
  readonly element: string
}

/** Two statements of one record that cannot both be so. They are listed, and never resolved in silence. */
export const contradictions = [
  'normal examination with polyps',
  'caecum reached, but stopped before it',
  'photograph of a landmark beyond the stated extent',
  'stopped for preparation that is scored good',
  'screening with a lesion known before',
  'pathology finds a polyp where none was recorded',
  'two different values of one measurement',
  'two different extents stated',
  'never inserted, but something was seen or done',
  'ileum or retroflexion said not to be done, but done',
  'bowel segment scored, but taken by an earlier resection or not to be scored',
  'Boston total that its segments cannot make',
  'no attachment stated, but one used',
  'insertion or withdrawal of zero minutes',
  'insertion and withdrawal longer than the examination',
  'polyp left or lost, with histology of its own',
  'more diagnoses than pieces of tissue',
  'death before the examination',
  'advice against a further colonoscopy, and an interval to it',
  'one person with two functions',
  'an anaesthetist performed, but did not lead',
  'history stated both ways',
  'polyp said not to be removable, but removed',
  'removal judged complete of a polyp that was not removed',
  'fewer biopsies stated than sent',
  'reason stated, and denied',
  'last colonoscopy stated, but a later one on record',
] as const
export type Contradiction = (typeof contradictions)[number]

/** A fact that stands but should be looked at before anybody relies on it. */
export const doubts = [
  'report of the examination did not come',
  'withdrawal time of an examination in which tissue was taken',
  'device used, time of attachment not stated',
  'reason that is not known here, beside one that is',
  'two performers without a function',
  'two persons with the function of one',
  'performer whose function nobody knows',
  'participants of an encounter in which something else was done too',
  'performer who is nobody: an organisation, or a name without an identity',
  'condition that does not say whether it was there before the examination',
  'operation that does not say whether it was done before the examination',
  'colonoscopy that does not say whether it was done before the examination',
  'histology read from free text',
  'histology that names no specimen: it is not known of which polyp',
  'score outside its scale',
  'polyp told as a condition beside observed polyps',
  'pathology text longer than is read',
  'hospital visit of which it is not certain that it followed',
  'size of which nothing says which polyp it is of',
  'person without an identifier of the configured system',
] as const
export type Doubt = (typeof doubts)[number]

/** What one examination's facts rest on, and what did not fit. Kept only where a survey asks for it. */
export class Trail {
  readonly evidence: Evidence[] = []
  readonly unreadable: Unreadable[] = []
  readonly contradictions: { readonly kind: Contradiction; readonly resources: readonly Json[] }[] = []
  readonly doubts: { readonly kind: Doubt; readonly resource: Json | undefined }[] = []

  /** Records that a fact was filled from a resource's element, by a rung. */
  note(field: EvidenceField, resource: Json | undefined, rung: Rung, element: string): void {
    this.evidence.push({ field, resource, rung, element })
  }

  cannotRead(field: FieldName, resource: Json, element: string): void {
    this.unreadable.push({ field, resource, element })
  }

  contradict(kind: Contradiction, ...resources: readonly Json[]): void {
    this.contradictions.push({ kind, resources })
  }

  doubt(kind: Doubt, resource?: Json): void {
    this.doubts.push({ kind, resource })
  }
}
