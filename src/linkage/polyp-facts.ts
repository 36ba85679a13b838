import type { Json } from '../fhir/json.ts'
import type { Meaning } from '../fhir/meaning.ts'
import type { Colonoscopy } from '../record/colonoscopy.ts'
import type { FieldName } from '../record/fields.ts'
import type { Examination } from './examinations.ts'
import { noteNormalExamination } from './normal-examination.ts'
import type { FoundPolyp } from './polyp.ts'
import { canHaveHistology, type PolypFindings } from './polyps.ts'
import { type Reading, valueElementOf } from './reading.ts'
import { biopsyStated } from './stated-biopsies.ts'

export type PolypFacts = Pick<
  Colonoscopy,
  | 'knownLesionCount'
  | 'polypRemoved'
  | 'polypsLeftCount'
  | 'polypsNotFoundAgainCount'
  | 'polypsWithoutObtainableHistology'
  | 'tattooPlaced'
>

/** Value sets of what takes, injects or treats tissue. */
const acts = ['polypectomy', 'tissue-taken-or-treated', 'biopsy', 'tattoo']
const removals = ['polypectomy']
const tattoos = ['tattoo']

/**
 * Anything removed, biopsied, injected or treated: true as soon as one thing says so, false only where the polyp feed is complete
 * and every lesion was left alone. That the report of the examination may be open is for the caller to see.
 */
export function tissueTaken(
  examination: Examination,
  { polyps, known, unnamedRemovals }: PolypFindings,
  reading: Reading,
): boolean | undefined {
  const field = 'tissueTakenOrTreated'
  if (didAny(examination, acts, field, reading) || unnamedRemovals > 0) return true
  const stated = biopsyStated(examination, reading)
  if (stated) {
    examination.trail?.note(field, stated.resource, stated.rung, valueElementOf(stated))
    return true
  }
  if (examination.specimens.length > 0 || examination.pathologyReports.length > 0) {
    examination.trail?.note(field, examination.pathologyReports[0], 'inferred from pathology', 'DiagnosticReport')
    return true
  }
  const lesions = [...polyps, ...known]
  const treated = lesions.find(
    ({ polyp }) => polyp.handling === 'removed' || polyp.handling === 'biopsied' || polyp.tattooed === true,
  )
  if (treated) {
    examination.trail?.note(field, treated.resource, 'inferred from the findings', 'Observation.component')
    return true
  }
  if (!reading.complete('polyps') || !lesions.every(({ polyp }) => isLeftAlone(polyp))) return undefined
  examination.trail?.note(field, undefined, 'nothing found in a complete feed', 'Procedure.partOf')
  return false
}

const isLeftAlone = ({ handling }: FoundPolyp['polyp']): boolean =>
  handling === 'left' || handling === 'not-found-again'

/**
 * Facts over the polyps of an examination.
 *
 * @param polypCount polyps newly found, where that is recorded: 0 only where silence means none
 */
export function polypFacts(
  examination: Examination,
  findings: PolypFindings,
  polypCount: number | undefined,
  reading: Reading,
): PolypFacts {
  const { polyps, known, unnamedRemovals } = findings
  if (examination.trail) {
    noteNormalExamination(examination, polypCount, reading)
    notePolypOfPathology(examination, findings, polypCount, reading)
  }
  // Polyps that are only counted were removed: their number alone is told, by polypectomies.
  const isHandlingTold =
    polyps.length + unnamedRemovals === polypCount && polyps.every(({ polyp }) => polyp.handling !== undefined)
  const handled = (handling: 'left' | 'not-found-again') =>
    isHandlingTold ? polyps.filter(({ polyp }) => polyp.handling === handling).length : undefined
  const facts: PolypFacts = {
    knownLesionCount: known.length > 0 ? known.length : polyps.length > 0 || polypCount === 0 ? 0 : undefined,
    polypRemoved: polypRemoved(examination, findings, polypCount, reading),
    polypsLeftCount: handled('left'),
    polypsNotFoundAgainCount: handled('not-found-again'),
    polypsWithoutObtainableHistology:
      polypCount === undefined ? undefined : polyps.filter(({ polyp }) => !canHaveHistology(polyp)).length,
    tattooPlaced: tattooPlaced(examination, findings, polypCount, reading),
  }
  noteCounts(examination, facts, findings)
  return facts
}

function polypRemoved(
  examination: Examination,
  { polyps, known, unnamedRemovals }: PolypFindings,
  polypCount: number | undefined,
  reading: Reading,
): boolean | undefined {
  const field = 'polypRemoved'
  if (didAny(examination, removals, field, reading) || unnamedRemovals > 0) return true
  const lesions = [...polyps, ...known]
  for (const { polyp, resource } of lesions) {
    if (polyp.handling !== 'removed') continue
    examination.trail?.note(field, resource, 'inferred from the findings', 'Observation.component.valueCodeableConcept')
    return true
  }
  if (lesions.some(({ polyp }) => polyp.handling === undefined)) return undefined
  if (lesions.length === 0 && polypCount !== 0) return undefined
  examination.trail?.note(field, lesions[0]?.resource, 'inferred from the findings', 'Observation.component')
  return false
}

/** False only where every polyp, known ones among them, is said not to be tattooed, or none was found. */
function tattooPlaced(
  examination: Examination,
  { polyps, known }: PolypFindings,
  polypCount: number | undefined,
  reading: Reading,
): boolean | undefined {
  const field = 'tattooPlaced'
  if (didAny(examination, tattoos, field, reading)) return true
  const lesions = [...polyps, ...known]
  const tattooed = lesions.find(({ polyp }) => polyp.tattooed === true)
  const isAllSaid = polyps.length === polypCount && lesions.every(({ polyp }) => polyp.tattooed === false)
  if (!tattooed && !isAllSaid) return undefined
  const resource = (tattooed ?? lesions[0])?.resource
  examination.trail?.note(field, resource, 'inferred from the findings', 'Observation.component.valueBoolean')
  return tattooed !== undefined
}

/** Whether the code of the examination, or of one of its parts, is in one of some value sets; the trail takes down which. */
function didAny(examination: Examination, sets: readonly string[], field: FieldName, { codes }: Reading): boolean {
  const { all, children, trail } = examination
  for (const procedure of all)
    if (isIn(codes.of(procedure.code), sets)) {
      trail?.note(field, procedure, 'inferred from the procedure code', 'Procedure.code')
      return true
    }
  for (const { code, resource, rung } of children)
    if (isIn(code, sets)) {
      trail?.note(field, resource, rung, 'Procedure.code')
      return true
    }
  return false
}

function isIn(code: Meaning, sets: readonly string[]): boolean {
  for (const set of sets) if (code.sets.has(set)) return true
  return false
}

const countFields = [
  'knownLesionCount',
  'polypsLeftCount',
  'polypsNotFoundAgainCount',
  'polypsWithoutObtainableHistology',
] as const

/** The counts rest on every polyp; where there is none, on what says that there is none. */
function noteCounts({ trail }: Examination, facts: PolypFacts, { polyps, known }: PolypFindings): void {
  if (!trail) return
  const lesions: (Json | undefined)[] = polyps.map(({ resource }) => resource)
  for (const field of countFields) {
    if (facts[field] === undefined || (field === 'knownLesionCount' && known.length > 0)) continue
    for (const resource of lesions.length > 0 ? lesions : [undefined])
      trail.note(field, resource, 'inferred from the findings', 'Observation.component.valueCodeableConcept')
  }
}

/** Polyps that pathology alone tells of contradict a source that sends every polyp; of any other they are the only word. */
function notePolypOfPathology(
  { trail, pathologyReports }: Examination,
  { polyps, unnamedRemovals, impliedRemovals }: PolypFindings,
  polypCount: number | undefined,
  { complete }: Reading,
): void {
  const isTold = polyps.length + unnamedRemovals + impliedRemovals > 0
  if (!isTold && polypCount !== undefined && polypCount > 0 && complete('polyps'))
    trail?.contradict('pathology finds a polyp where none was recorded', ...pathologyReports)
}
