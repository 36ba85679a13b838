import type { Json } from '../fhir/json.ts'
import { ownKey } from '../fhir/references.ts'
import type { Colonoscopy } from '../record/colonoscopy.ts'
import type { Diagnosis } from './diagnoses.ts'
import type { Examination } from './examinations.ts'
import { elementIn, type PathologyReading } from './histology.ts'
import type { FoundPolyp } from './polyp.ts'
import { canHaveHistology } from './polyps.ts'
import type { PotGroup } from './pots.ts'
import { type Rung, rungs } from './rungs.ts'
import type { Trail } from './trail.ts'

/** What the pathology of an examination was worked out from. */
export interface PathologyEvidence {
  /** Readings of new findings. */
  readonly counted: readonly PathologyReading[]
  readonly read: readonly (PotGroup & { readonly inside: readonly FoundPolyp[]; readonly room: number })[]
  /** Diagnoses without a pot, and the slots they are of. */
  readonly loose: readonly Diagnosis[]
  readonly slots: number
  /** What stands beside diagnoses, may be one, and cannot be read. */
  readonly unread: readonly Json[]
}

const fields = [
  'histologySource',
  'adenomaFound',
  'traditionalSerratedFound',
  'sessileSerratedFound',
  'cancerFound',
  'adenomaCount',
  'adenomaCountLower',
  'adenomaCountUpper',
  'traditionalSerratedCount',
  'sessileSerratedCount',
  'hyperplasticCount',
  'cancerCount',
  'otherHistologyCount',
  'largestAdenomaMillimetres',
  'villousAdenomaFound',
  'highGradeDysplasiaFound',
  'colitisDysplasiaFound',
] as const

/** What pathology says of each polyp. */
const ofPolyp = ['histology', 'dysplasia', 'villous'] as const

/** Takes down what the facts of pathology rest on, and what in it cannot all be so. */
export function notePathology(
  examination: Examination,
  facts: Pick<Colonoscopy, (typeof fields)[number] | 'pathology'>,
  evidence: PathologyEvidence,
): void {
  const { trail } = examination
  if (!trail) return
  const readable = evidence.counted.filter(({ isUnreadable, remarks }) => !isUnreadable && remarks.length > 0)
  const rungOf = (one: PathologyReading): Rung => (one.isText ? 'read from free text' : weakestRung(trail, one))
  const placed = readable.map((one) => ({ ...one, rung: rungOf(one) }))
  for (const field of fields) {
    if (facts[field] === undefined) continue
    for (const { resource, rung, element } of placed) trail.note(field, resource, rung, element)
    if (placed.length === 0) trail.note(field, undefined, 'inferred from the findings', 'DiagnosticReport')
  }
  for (const { pots, inside } of evidence.read) {
    const ofPots = placed.filter((one) => one.pots.some((pot) => pots.includes(pot)))
    for (const { polyp } of inside)
      for (const name of ofPolyp)
        if (polyp[name] !== undefined)
          for (const { resource, rung, element } of ofPots) trail.note(`polyps.${name}`, resource, rung, element)
  }
  if (facts.pathology === 'not-sent')
    trail.note('pathology', undefined, 'inferred from the findings', 'DiagnosticReport')
  const texts = new Set(readable.filter(({ isText }) => isText).map(({ report }) => report))
  for (const report of texts) trail.doubt('histology read from free text', report)
  for (const one of evidence.unread) trail.cannotRead('pathology', one, elementIn(one))
  noteContradictions(examination, evidence)
}

/** A chain is as strong as its weakest link: the report came by its rung, or by that of the specimen it names. */
function weakestRung({ evidence }: Trail, { report, pots }: PathologyReading): Rung {
  let weakest = 0
  for (const { field, resource, rung } of evidence) {
    if (field !== 'pathology' || resource === undefined) continue
    if (resource === report || pots.includes(ownKey(resource) ?? '')) weakest = Math.max(weakest, rungs.indexOf(rung))
  }
  return weakest === 0 ? 'direct reference' : (rungs[weakest] ?? 'direct reference')
}

/** Pieces of tissue that diagnoses need: a cancer may have arisen in the lesion beside it. */
function piecesOf(diagnoses: readonly Diagnosis[]): number {
  const cancers = diagnoses.filter(({ histology }) => histology === 'cancer').length
  return Math.max(cancers, diagnoses.length - cancers)
}

function noteContradictions({ trail }: Examination, { counted, read, loose, slots }: PathologyEvidence): void {
  const reportsOf = (pots: readonly string[]) => [
    ...new Set(counted.filter((one) => one.pots.some((pot) => pots.includes(pot))).map(({ report }) => report)),
  ]
  for (const { pots, diagnoses, inside, room } of read) {
    const [only] = inside
    if (only && inside.length === 1 && !canHaveHistology(only.polyp))
      trail?.contradict('polyp left or lost, with histology of its own', only.resource, ...reportsOf(pots))
    if (inside.length > 0 && piecesOf(diagnoses) > room)
      trail?.contradict('more diagnoses than pieces of tissue', ...reportsOf(pots))
  }
  const potless = [...new Set(counted.filter(({ pots }) => pots.length === 0).map(({ report }) => report))]
  if (loose.length > 0)
    for (const report of potless)
      trail?.doubt('histology that names no specimen: it is not known of which polyp', report)
  if (slots > 0 && piecesOf(loose) > slots) trail?.contradict('more diagnoses than pieces of tissue', ...potless)
}
